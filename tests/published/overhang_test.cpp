// The best four-block overhang, against its published value.
//
// Source: Paterson, Peres, Thorup, Winkler and Zwick 2009, Maximum overhang, American Mathematical
// Monthly 116:763 (value read elsewhere, citation from memory): four blocks of length 1 without
// friction hang over by at most (15 - 4 sqrt 2) / 8 = 1.16789. The layout is worked out here.

#include <gtest/gtest.h>

#include "blocks.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kHeight = 0.2;

/// A on the table's edge (x = 0); B on A, out over it by s; C on A's other end; D across C and B.
/// D presses f on B's inner edge, f (1 - s) = s - 1/2; C with D's rest has its resultant at A's
/// inner edge a - 1; all four about the table's edge: 4 a = 5/2 - f. So B reaches a + s, most where
/// (1 - s)^2 = 1/8. Where on C the rest of D presses is free within bounds: at x = -0.2.
struct Overhang {
  double a, b, c, d;  // outer edges
};
Overhang lay_out(double s) {
  const double f = (s - 0.5) / (1 - s), a = (2.5 - f) / 4, b = a + s, q = -0.2;
  const double c = (2 - f) * (a - 1) - (1 - f) * q + 0.5;
  const double d = f * (b - 1) + (1 - f) * q + 0.5;
  return {a, b, c, d};
}

Assembly make_stack(const Overhang& at, double shift) {
  const double a = at.a + shift, b = at.b + shift, c = at.c + shift, d = at.d + shift;
  Assembly stack;
  const auto brick = [](const char* id, double edge, int level) {
    return rectangle(id, edge - 1, edge, level * kHeight, (level + 1) * kHeight);
  };
  stack.blocks = {ground(), brick("A", a, 0), brick("B", b, 1), brick("C", c, 1), brick("D", d, 2)};
  stack.joints = {bed_joint(0, 1, a - 1, 0, 0, 0), bed_joint(1, 2, b - 1, a, kHeight, 0),
                  bed_joint(1, 3, a - 1, c, kHeight, 0), bed_joint(2, 4, b - 1, d, 2 * kHeight, 0),
                  bed_joint(3, 4, d - 1, c, 2 * kHeight, 0)};
  return stack;
}

TEST(PublishedOverhang, FourBlocks) {
  const double best = (15 - 4 * std::sqrt(2.0)) / 8;
  const Overhang at = lay_out(1 - std::sqrt(1.0 / 8));
  ASSERT_NEAR(at.b, best, 1e-12);
  const CaseProof inside = limit_load(make_stack(at, -1e-5), dead());
  const CaseProof outside = limit_load(make_stack(at, 1e-5), dead());
  EXPECT_EQ(inside.verdict, Verdict::kStands) << inside.reason;
  EXPECT_EQ(outside.verdict, Verdict::kFalls) << outside.reason;
}

// The furthest reach of each layout by the tool's verdict alone: greatest where it should be.
TEST(PublishedOverhang, NoOtherReachesFurther) {
  const double best = (15 - 4 * std::sqrt(2.0)) / 8;
  for (const double off : {-0.08, -0.04, 0.0, 0.03, 0.06}) {
    const Overhang at = lay_out(1 - std::sqrt(1.0 / 8) + off);
    double stands = -0.05, falls = 0.05;
    while (falls - stands > 1e-6) {
      const double middle = (stands + falls) / 2;
      const Verdict verdict = limit_load(make_stack(at, middle), dead()).verdict;
      ASSERT_NE(verdict, Verdict::kUndecided) << off << ", shifted by " << middle;
      (verdict == Verdict::kStands ? stands : falls) = middle;
    }
    if (off == 0) {
      EXPECT_NEAR(at.b + stands, best, 1e-5);
    } else {
      EXPECT_LT(at.b + stands, best - 1e-4) << off;
    }
  }
}

}  // namespace
}  // namespace skewback
