#include "strength/section.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

Polygon rectangle(double x0, double x1, double y0, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}
Polygon reversed(Polygon p) { return {p.rbegin(), p.rend()}; }

const Regions kBox{
    {rectangle(-0.5, 0.5, -0.2, 0.2), {reversed(rectangle(-0.45, 0.45, -0.15, 0.15))}}};

/// A square tube along z, its wall 0.1 thick.
Solid tube() {
  Solid outer = box({0, 0, 0}, {1, 1, 2});
  return subtract(outer, box({0.1, 0.1, -1}, {0.9, 0.9, 3})).value();
}

TEST(Section, SliceOfATube) {
  const Frame frame = frame_on({{0.2, 0.3, 1.1}, Vec3::UnitZ()});
  const Regions cut = slice(tube(), frame);
  ASSERT_EQ(cut.size(), 1U);
  EXPECT_EQ(cut.front().holes.size(), 1U);
  EXPECT_NEAR(area(cut), 1 - 0.64, 1e-12);
  EXPECT_NEAR((frame.to_world(centroid(cut)) - Vec3(0.5, 0.5, 1.1)).norm(), 0, 1e-12);
}

// Across the tube there are two walls; on a slope the area grows by the secant.
TEST(Section, SliceAcrossAndOnASlope) {
  EXPECT_EQ(slice(tube(), frame_on({{0.5, 0.5, 1}, Vec3::UnitX()})).size(), 2U);
  const Vec3 lean = Vec3(0, 0.6, 0.8);
  EXPECT_NEAR(area(slice(tube(), frame_on({{0.5, 0.5, 1}, lean}))), 0.36 / 0.8, 1e-12);
}

TEST(Section, PartInFrontIsThePart) {
  const PartInFront part = part_in_front(tube(), {{0, 0, 1.5}, Vec3::UnitZ()});
  EXPECT_NEAR(part.volume, 0.36 * 0.5, 1e-12);
  EXPECT_NEAR((part.moment / part.volume - Vec3(0.5, 0.5, 0.25)).norm(), 0, 1e-12);
  const Plane lean{{0.4, 0.3, 0.9}, Vec3(1, 2, 2) / 3.0};
  EXPECT_NEAR(part_in_front(tube(), lean).volume + part_in_front(tube(), lean.opposite()).volume,
              0.72, 1e-12);
}

// Source: closed form, N/A + M y / I with I = (b h^3 - bi hi^3) / 12.
TEST(Section, LinearStressOfABox) {
  const double A = 0.4 - 0.27, I = (0.4 * 0.4 * 0.4 - 0.9 * 0.3 * 0.3 * 0.3) / 12;
  const double N = 50e3, M = 9e3;
  const LinearStress stress = linear_stress(kBox, Vec3(N, 0, M));
  EXPECT_NEAR(stress.greatest_pa, N / A + M * 0.2 / I, 1e-6 * N / A);
  EXPECT_NEAR(stress.least_pa, N / A - M * 0.2 / I, 1e-6 * N / A);
  EXPECT_NEAR(stress.least_at.y(), -0.2, 1e-12);
}

// Source: closed form. 3/2 for a rectangle; A S / (I b) of the box by hand.
TEST(Section, ShearShapes) {
  const ShearShape plain = shear_shape({{rectangle(3, 5, 1, 2), {}}});
  EXPECT_NEAR(plain.along_x, 1.5, 1e-9);
  EXPECT_NEAR(plain.along_y, 1.5, 1e-9);
  const double I = (0.4 * 0.4 * 0.4 - 0.9 * 0.027) / 12;
  const double S = 1.0 * 0.05 * 0.175 + 2 * 0.05 * 0.15 * 0.075;
  EXPECT_NEAR(shear_shape(kBox).along_y, 0.13 * S / (I * 0.1), 1e-9);
}

TEST(Section, Chords) {
  EXPECT_EQ(chords(kBox, 0, 0.0).size(), 2U);
  EXPECT_EQ(chords(kBox, 0, 0.48).size(), 1U);
  EXPECT_NEAR(chords(kBox, 1, 0.18).front().second, 0.5, 1e-12);
}

}  // namespace
}  // namespace skewback
