#include "cut/key_parts.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kInner = 0.7, kDepth = 0.3, kPad = 0.01;

// Last joints of n arms, upright, at these distances from the middle, normals towards it.
std::vector<ArmCuts> arms_round(const std::vector<double>& distances) {
  std::vector<ArmCuts> arms;
  for (std::size_t k = 0; k < distances.size(); ++k) {
    const double bearing = 2 * kPi * double(k) / double(distances.size());
    const Vec3 out(std::cos(bearing), std::sin(bearing), 0);
    ArmCuts cuts;
    cuts.planes.push_back({distances[k] * out, -out});
    arms.push_back(cuts);
  }
  return arms;
}

Course key_of(const std::vector<ArmCuts>& arms) {
  Course key;
  key.beds = false;
  key.solid = prism({}, key_outline(arms, 0), 0, kDepth);
  return key;
}

TEST(KeyParts, OutlineOfFiveArmsIsARegularPentagon) {
  const Polygon outline = key_outline(arms_round(std::vector<double>(5, kInner)), 0);
  ASSERT_EQ(outline.size(), 5U);
  // area of a regular polygon by its inner radius: n r^2 tan(pi / n)
  EXPECT_NEAR(area(outline), 5 * kInner * kInner * std::tan(kPi / 5), 1e-12);
}

TEST(KeyParts, ASideTooFarAwayLeavesNoOutline) {
  EXPECT_TRUE(key_outline(arms_round({0.7, 0.7, 3.0, 0.7, 0.7}), 0).empty());
}

class Divided : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Parts, Divided, testing::Values(2, 3, 4));

TEST_P(Divided, PartsAndPadsMakeTheWholeAndAreAlike) {
  for (const std::vector<double>& distances : {std::vector<double>(4, kInner),
                                               std::vector<double>(5, kInner),
                                               {0.6, 0.7, 0.75, 0.65, 0.7},
                                               std::vector<double>(6, kInner)}) {
    const std::vector<ArmCuts> arms = arms_round(distances);
    const Course key = key_of(arms);
    const auto parts = divide_key(key, arms, kPad, GetParam());
    ASSERT_TRUE(parts.ok());
    ASSERT_EQ(int(parts->solids.size()), GetParam());
    ASSERT_EQ(int(parts->walls.size()), GetParam() - 1);
    const double whole = mass_properties(key.solid).volume;
    double sum = parts->slab_volume_m3;
    for (const Solid& part : parts->solids) {
      EXPECT_TRUE(closed(part));
      const double v = mass_properties(part).volume;
      sum += v;
      // equal areas but for the pads: one more half pad beside a part inside, 2 m long at most
      EXPECT_NEAR(v, whole / GetParam(), 2 * kPad * kDepth);
    }
    EXPECT_NEAR(sum, whole, 1e-12);
    for (const Plane& wall : parts->walls) {
      EXPECT_EQ(wall.normal.z(), 0);
      for (const Vec2& p : key_outline(arms, 0))
        EXPECT_GT(std::abs(wall.distance({p.x(), p.y(), 0})), 0.05);
    }
  }
}

}  // namespace
}  // namespace skewback
