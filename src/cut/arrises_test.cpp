// Sharp arrises cut back: depths and volumes by hand, and what must not be cut.
#include "cut/arrises.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kFace = 0.02;

/// 0.4 m long, on its side: a wedge that rises to `angle` from its tip over one metre.
Solid wedge(double angle_rad) {
  return prism(Frame{}, {{0, 0}, {1, 0}, {1, std::tan(angle_rad)}}, 0, 0.4);
}

// The tip is an isosceles triangle with the face for its base: half the face over tan(half the
// angle) high.
TEST(Blunted, AWedgeLosesATipWithTheFaceForItsBase) {
  for (const double degrees : {12.0, 20.0, 28.0}) {
    const double angle = degrees * kPi / 180;
    const Solid sharp = wedge(angle);
    const Blunted blunt = blunted(sharp, kFace, false);
    const double high = kFace / (2 * std::tan(angle / 2));
    EXPECT_EQ(blunt.arrises, 1);
    EXPECT_NEAR(blunt.removed_m3, kFace * high / 2 * 0.4, 1e-12) << degrees;
    EXPECT_NEAR(mass_properties(blunt.solid).volume + blunt.removed_m3,
                mass_properties(sharp).volume, 1e-12);
    EXPECT_TRUE(closed(blunt.solid));
    EXPECT_EQ(sharpest_arris(blunt.solid).length_m, 0) << "the new corners are 90 + angle / 2";
  }
}

Solid in_triangles(Solid solid) {
  std::vector<std::vector<int>> faces;
  for (const std::vector<int>& face : solid.faces)  // convex
    for (std::size_t i = 2; i < face.size(); ++i) faces.push_back({face[0], face[i - 1], face[i]});
  solid.faces = std::move(faces);
  return solid;
}

TEST(Blunted, WithoutBooleansTheSame) {
  const Solid sharp = in_triangles(wedge(kPi / 9));
  const Blunted exact = blunted(sharp, kFace, false), plain = blunted(sharp, kFace, true);
  EXPECT_EQ(plain.arrises, 1);
  EXPECT_NEAR(plain.removed_m3, exact.removed_m3, 1e-12);
}

TEST(Blunted, BothTipsOfALozenge) {
  const double t = 0.5 * std::tan(kPi / 18);  // 20 degrees at either end
  const Solid lozenge = prism(Frame{}, {{0, 0}, {0.5, -t}, {1, 0}, {0.5, t}}, 0, 0.4);
  const Blunted blunt = blunted(lozenge, kFace, false);
  EXPECT_EQ(blunt.arrises, 2);
  EXPECT_NEAR(blunt.removed_m3, 2 * kFace * kFace / (4 * std::tan(kPi / 18)) * 0.4, 1e-12);
}

TEST(Blunted, NothingIsCutWhereNothingIsSharpOrNoFaceIsAskedFor) {
  EXPECT_EQ(blunted(box({0, 0, 0}, {1, 1, 1}), kFace, false).arrises, 0);
  EXPECT_EQ(blunted(wedge(kPi / 5), kFace, false).arrises, 0);
  const Blunted left = blunted(wedge(kPi / 9), 0, false);
  EXPECT_EQ(left.arrises, 0);
  EXPECT_EQ(left.removed_m3, 0);
}

// A thin wedge is all tip: cutting it would take a fifth of the block.
TEST(Blunted, AnArrisThatIsMostOfTheBlockStays) {
  const Solid sliver = prism(Frame{}, {{0, 0}, {0.2, 0}, {0.2, 0.045}}, 0, 0.4);
  const Blunted blunt = blunted(sliver, kFace, false);
  EXPECT_EQ(blunt.arrises, 0);
  EXPECT_NEAR(mass_properties(blunt.solid).volume, mass_properties(sliver).volume, 1e-15);
}

// Two fingers, the shorter one with a sharp tip: the plane that trims it would also reach the
// other, which has to stay whole.
TEST(Blunted, WhereAPlaneWouldReachFurtherOnlyTheTipGoes) {
  const double t = std::tan(kPi / 9);
  const Solid fork =
      prism(Frame{}, {{0, 0}, {1, 0}, {1, 1}, {-0.2, 1}, {-0.2, 0.8}, {0.6, 0.8}, {0.6, 0.6 * t}},
            0, 0.4);
  ASSERT_GT(sharpest_arris(fork).length_m, 0.3);
  const Blunted blunt = blunted(fork, kFace, false);
  EXPECT_EQ(blunt.arrises, 1);
  EXPECT_NEAR(blunt.removed_m3, kFace * kFace / (4 * std::tan(kPi / 18)) * 0.4, 1e-9);
  double least = 0;
  for (const Vec3& p : blunt.solid.vertices) least = std::min(least, p.x());
  EXPECT_EQ(least, -0.2);
}

// A side that folds out by 2 mm has a sharp edge that is no arris.
TEST(Blunted, AFoldIsNoArris) {
  const Solid folded = prism(
      Frame{}, {{0, 0}, {1, 0}, {1, 0.4}, {1.002, 0.4003}, {1, 0.4006}, {1, 1}, {0, 1}}, 0, 0.4);
  EXPECT_TRUE(sharp_edges(folded).empty());
}

}  // namespace
}  // namespace skewback
