#include <gtest/gtest.h>

#include "print/fill.hpp"
#include "print/sample_sections.hpp"

namespace skewback {
namespace {

using sample::box;
using sample::hole;

// Strips against closed forms.
Stroke square_stroke(double low, double high, double share) {
  Stroke s;
  s.closed = true;
  for (const Vec2& p : box(low, low, high, high)) s.points.push_back({p, share});
  return s;
}

TEST(Cover, MitredRingIsCoveredWhole) {
  const Region ring{box(0, 0, 1, 1), {hole(box(0.1, 0.1, 0.9, 0.9))}};
  const Cover cover = measure_cover(ring, {square_stroke(0.05, 0.95, 0.1)}, 0.001);
  EXPECT_NEAR(cover.gap_m2, 0, 1e-9);
  EXPECT_NEAR(cover.twice_m2, 0, 1e-9);
  EXPECT_NEAR(cover.outside_m2, 0, 1e-9);
}

TEST(Cover, NarrowRingLeavesGapsAndWideRingRunsOver) {
  const Region ring{box(0, 0, 1, 1), {hole(box(0.1, 0.1, 0.9, 0.9))}};
  // strips w wide on a square of side a lie on 4 a w of ground
  const Cover narrow = measure_cover(ring, {square_stroke(0.05, 0.95, 0.08)}, 0.001);
  EXPECT_NEAR(narrow.gap_m2, 0.36 - 4 * 0.9 * 0.08, 1e-6);
  EXPECT_NEAR(narrow.outside_m2, 0, 1e-9);
  const Cover wide = measure_cover(ring, {square_stroke(0.05, 0.95, 0.12)}, 0.001);
  EXPECT_NEAR(wide.outside_m2, 4 * 0.9 * 0.12 - 0.36, 1e-6);
  EXPECT_NEAR(wide.gap_m2, 0, 1e-9);
}

TEST(Cover, StripsThatOverlapCountTwice) {
  const Region field{box(0, 0, 2, 0.2), {}};
  Stroke low, high;
  low.points = {{{0, 0.05}, 0.12}, {{2, 0.05}, 0.12}};
  high.points = {{{0, 0.15}, 0.12}, {{2, 0.15}, 0.12}};
  const Cover cover = measure_cover(field, {low, high}, 0.001);
  EXPECT_NEAR(cover.twice_m2, 2 * 0.02, 1e-9);
  EXPECT_NEAR(cover.outside_m2, 2 * 2 * 0.01, 1e-9);
  EXPECT_NEAR(cover.gap_m2, 0, 1e-9);
}

}  // namespace
}  // namespace skewback
