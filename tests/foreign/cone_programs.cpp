// Writes cone programs and our answers as JSON, for check_cone_programs.py: random ones with
// bounds, props and columns of every kind, and limit programs of small shells.
//   cone_programs FIRST_SEED COUNT
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "solve/sample_cones.hpp"

namespace {

using skewback::ConeProgram;

void number(double value) {
  if (std::isfinite(value)) {
    std::printf("%.17g", value);
  } else {
    std::printf("null");
  }
}

template <class Values>
void list(const Values& values) {
  std::printf("[");
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    if (i > 0) std::printf(", ");
    number(values.data()[i]);
  }
  std::printf("]");
}

void write(const char* name, unsigned seed, const ConeProgram& program) {
  const auto answer = skewback::ConeSolver(program).solve(program);
  std::printf("{\"name\": \"%s %u\", \"nodes\": %d, \"status\": %d, \"objective\": ", name, seed,
              program.nodes, static_cast<int>(answer.status));
  number(answer.objective);
  std::printf(", \"reason\": \"%s\", \"b\": ", answer.reason.c_str());
  list(program.b);
  std::printf(", \"f\": ");
  list(answer.f);
  std::printf(", \"x\": ");
  list(answer.columns);
  std::printf(", \"y\": ");
  list(answer.y);
  std::printf(",\n\"contacts\": [");
  const char* separator = "";
  for (const auto& c : program.contacts) {
    std::printf("%s{\"a\": %d, \"b\": %d, \"friction\": %.17g, \"most\": ", separator, c.a, c.b,
                c.friction);
    number(c.n_most);
    std::printf(", \"cost\": ");
    list(c.cost);
    std::printf(", \"on_a\": ");  // by columns
    list(c.on_a);
    std::printf(", \"on_b\": ");
    list(c.on_b);
    std::printf("}");
    separator = ",\n";
  }
  std::printf("],\n\"columns\": [");
  separator = "";
  for (const auto& c : program.columns) {
    std::printf("%s{\"cost\": %.17g, \"lower\": ", separator, c.cost);
    number(c.lower);
    std::printf(", \"upper\": ");
    number(c.upper);
    std::printf(", \"rows\": ");
    list(c.rows);
    std::printf("}");
    separator = ",\n";
  }
  std::printf("]}");
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  const unsigned first = unsigned(std::atoi(argv[1])), count = unsigned(std::atoi(argv[2]));
  std::printf("[");
  for (unsigned seed = first; seed < first + count; ++seed) {
    if (seed != first) std::printf(",\n");
    std::mt19937 random(seed);
    const auto share = [&] { return std::uniform_real_distribution<double>(0, 1)(random); };
    if (seed % 4 != 0) {
      const int nodes = 1 + int(12 * share());
      write("random", seed, skewback::sample::known_optimum(nodes, seed % 2 == 0, random).program);
    } else {
      skewback::sample::Shell shell;
      shell.courses = 4 + int(4 * share());
      shell.units = 2 + int(3 * share());
      shell.sail = seed % 8 == 0;
      shell.friction = 0.25 + 0.4 * share();
      ConeProgram program = skewback::sample::limit_program(shell, share(), share());
      if (seed % 3 == 0) program.columns[0].upper = 10;
      write(shell.sail ? "sail" : "vault", seed, program);
    }
  }
  std::printf("]\n");
  return 0;
}
