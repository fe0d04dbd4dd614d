// Packing programs with our answers, for another make of solver to solve again.
//   packing_programs [ASSEMBLY.json] > PROGRAMS.json
#include <cstdio>
#include <random>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "survey/sample_packing.hpp"

namespace {

using namespace skewback;

AsMade errors(const Assembly& assembly, std::mt19937_64& random) {
  std::uniform_real_distribution<double> any(-1, 1);
  AsMade made = sample::footings_off(assembly, 0.02, 0.004, random);
  for (BedError& bed : made.on_b)
    for (double& corner : bed.corner_m) corner = 0.0006 * any(random);
  for (double& pad : made.pad_m) pad = 0.0004 * any(random);
  return made;
}

void write(const char* name, const PackProgram& program, const PackSolution& ours, bool first) {
  const LinearProgram lp = sample::plain_program(program);
  const Eigen::Index columns = lp.A.cols() - lp.A.rows();
  std::printf("%s{\"name\": \"%s\", \"converged\": %s, \"objective\": %.17g, \"bound\": %.17g,\n",
              first ? "" : ",\n", name, ours.converged ? "true" : "false", 1e3 * ours.objective_m,
              1e3 * ours.bound_m);
  std::printf("\"rows\": %d, \"columns\": %d, \"free\": %d, \"entries\": [",
              static_cast<int>(lp.A.rows()), static_cast<int>(columns),
              static_cast<int>(columns) - static_cast<int>(program.hinges.size()));
  bool any = false;
  for (Eigen::Index c = 0; c < columns; ++c)
    for (SparseMatrix::InnerIterator it(lp.A, c); it; ++it, any = true)
      std::printf("%s[%d, %d, %.17g]", any ? ", " : "", static_cast<int>(it.row()),
                  static_cast<int>(c), it.value());
  const auto list = [](const char* key, const VectorX& values, Eigen::Index n) {
    std::printf("],\n\"%s\": [", key);
    for (Eigen::Index i = 0; i < n; ++i) std::printf("%s%.17g", i > 0 ? ", " : "", values[i]);
  };
  list("cost", lp.c, columns);
  list("most", lp.b, lp.b.size());
  std::printf("]}");
}

void some(const char* name, const Assembly& assembly, int count, bool& first) {
  const StackModel model(assembly);
  std::mt19937_64 random(9);
  for (int i = 0; i < count; ++i) {
    PackingRequest request;
    if (i % 2 == 0) request.slack_m = request.squeeze_m = 1e-4;
    request.step_m = i % 3 == 0 ? 1e-3 : 3e-3;
    const AsMade made = errors(assembly, random);
    const PackProgram program = pack_program(model, made, request, i % 4 < 2);
    write(name, program, solve_packing(program, footing_moves(model, made)), first);
    first = false;
  }
}

}  // namespace

int main(int argc, char** argv) {
  bool first = true;
  std::printf("[");
  if (argc > 1) {
    const auto read = read_assembly(argv[1]);
    if (!read) return 2;
    some("file", *read, 6, first);
  } else {
    some("arch", sample::arch_assembly({.voussoirs = 9}), 8, first);
    some("tripod", sample::tripod_assembly({}), 8, first);
    some("row", sample::row_of_cubes(5), 4, first);
  }
  std::printf("]\n");
  return 0;
}
