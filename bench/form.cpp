// The search for the form: vertices, seconds, and what one step costs against one sparse Cholesky
// factorisation of the net's own matrix in the same run. Medians.
//   bench_form REPEATS BRIEF...
#include "form/form.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "base/timing.hpp"
#include "solve/solve.hpp"

namespace {

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

// Seconds to order and factorise D of the net once.
double cholesky_s(const skewback::Form& form) {
  std::vector<int> index(form.vertices.size(), -1);
  int count = 0;
  for (std::size_t i = 0; i < index.size(); ++i)
    if (form.support_of[i] < 0) index[i] = count++;
  std::vector<Eigen::Triplet<double>> entries;
  for (const skewback::NetEdge& e : form.edges) {
    const int a = index[e.a], b = index[e.b];
    if (a >= 0) entries.emplace_back(a, a, e.q);
    if (b >= 0) entries.emplace_back(b, b, e.q);
    if (a >= 0 && b >= 0) entries.emplace_back(std::max(a, b), std::min(a, b), -e.q);
  }
  skewback::SparseMatrix D(count, count);
  D.setFromTriplets(entries.begin(), entries.end());
  const skewback::Stopwatch watch;
  skewback::SparseCholesky factor;
  if (!factor.factorise(D)) std::fprintf(stderr, "not positive definite\n");
  return watch.seconds();
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fprintf(stderr, "usage: bench_form REPEATS BRIEF...\n");
    return 2;
  }
  for (int i = 2; i < argc; ++i) {
    const auto brief = skewback::read_brief(argv[i]);
    if (!brief) {
      std::fprintf(stderr, "%s\n", skewback::describe(brief.faults().front()).c_str());
      return 2;
    }
    std::vector<double> seconds, factor;
    std::size_t vertices = 0;
    skewback::SearchCost cost;
    for (int repeat = 0; repeat < std::max(1, std::atoi(argv[1])); ++repeat) {
      const skewback::Stopwatch watch;
      const auto form = skewback::find_form(*brief);
      if (!form) {
        std::fprintf(stderr, "%s\n", skewback::describe(form.faults().front()).c_str());
        return 1;
      }
      seconds.push_back(watch.seconds());
      factor.push_back(cholesky_s(*form));
      vertices = form->vertices.size();
      cost = form->cost;
    }
    const double step = median(seconds) / std::max(1, cost.steps);
    std::printf(
        "%s: %zu vertices, %.3f s, %d steps, %d inner; a step %.2f ms, one Cholesky %.2f ms, "
        "ratio %.1f\n",
        brief->name.c_str(), vertices, median(seconds), cost.steps, cost.inner_steps, 1e3 * step,
        1e3 * median(factor), step / median(factor));
  }
  return 0;
}
