#include "solve/cone_newton.hpp"

#include <gtest/gtest.h>

#include "solve/block_cholesky.hpp"
#include "solve/sample_cones.hpp"

namespace skewback {
namespace {

TEST(ConeNewton, CorrectionTakenBackGivesTheStepBefore) {
  std::mt19937 rng(3);
  for (const bool bounded : {false, true}) {
    const ConeProgram program =
        bounded ? sample::known_optimum(12, true, rng).program
                : sample::limit_program({.courses = 8, .units = 6, .sail = true}, 0.2, 0.4);
    std::vector<std::array<int, 2>> pairs;
    for (const ConeContact& c : program.contacts) {
      if (c.a >= 0 && c.b >= 0) pairs.push_back({c.a, c.b});
    }
    const auto pattern = analyse(program.nodes, pairs);
    const ConeData data = scaled(program, *pattern);
    ASSERT_EQ(data.bounds > 0, bounded);
    ConeNewton newton(data, pattern, best_kernels());
    const double mean = newton.residuals().products;
    ASSERT_TRUE(newton.prepare());
    newton.affine();
    const double before = newton.centre(0.3 * mean, 0.7);
    // so narrow a band that the correction cannot but move the direction
    const double corrected = newton.correct(1, 0.3 * mean, 0.7, 0.29 * mean, 0.31 * mean);
    EXPECT_NE(corrected, before);
    EXPECT_EQ(newton.without_correction(0.3 * mean, 0.7), before);
  }
}

}  // namespace
}  // namespace skewback
