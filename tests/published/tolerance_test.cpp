// Tolerance stacks: worst case n T and root sum square sqrt(n) T, as in any text on dimensional
// tolerances (from memory). 21 joints of +/- 1 mm: 21 mm and 4.583 mm.
#include <gtest/gtest.h>

#include <cmath>

#include "survey/sample_row.hpp"
#include "survey/tolerances.hpp"

namespace skewback {
namespace {

constexpr int kJoints = 21;

sample::StraightRow padded_row() {
  sample::StraightRow row = sample::straight_row(kJoints - 1, 0.01);
  row.brief.tolerances.pad_share = 0.1;  // 1 mm
  return row;
}

/// What is left for the key between its neighbours, beyond drawn: its joints lie alike.
double left_for_key(const Stack& stack, int key_joint) {
  const auto j = static_cast<std::size_t>(key_joint);
  return stack.joints[j].gap_m[0] + stack.joints[j + 1].gap_m[0];
}

TEST(PublishedTolerances, TwentyOneJointsAtWorst) {
  const sample::StraightRow row = padded_row();
  const StackModel model(row.assembly);
  AsMade made = draw_errors(row.brief, model, 0, std::vector<double>(error_names().size(), 0.0));
  for (double& pad : made.pad_m) pad = 0.001;
  const Stack stack = stack_up(model, made, row.brief.packing);
  EXPECT_NEAR(left_for_key(stack, 10), -0.021, 1e-12);
  EXPECT_FALSE(stack.key_goes_in);
}

TEST(PublishedTolerances, TwentyOneJointsByRootSumSquare) {
  constexpr int kDraws = 20000;
  const sample::StraightRow row = padded_row();
  const StackModel model(row.assembly);
  double squares = 0;
  for (int draw = 0; draw < kDraws; ++draw) {
    const AsMade made = draw_errors(row.brief, model, static_cast<std::uint64_t>(draw));
    squares += std::pow(left_for_key(stack_up(model, made, row.brief.packing), 10), 2);
  }
  const double figure = 2 * std::sqrt(squares / kDraws);  // two standard deviations
  EXPECT_NEAR(figure, 0.004583, 4 * 0.004583 / std::sqrt(2.0 * kDraws));
}

}  // namespace
}  // namespace skewback
