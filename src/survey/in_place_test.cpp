#include "survey/in_place.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

/// Three marks on each of the blocks a, b and c, 2 m apart along x; wanted 4 mm lower than drawn.
struct OnBacks {
  std::vector<Mark> drawn, wanted;
  OnBacks() {
    for (int b = 0; b < 3; ++b) {
      const std::string block(1, static_cast<char>('a' + b));
      for (int k = 0; k < 3; ++k) {
        const Vec3 at(2.0 * b + (k == 1 ? 0.5 : 0), k == 2 ? 0.5 : 0, 3);
        drawn.push_back({block + " " + std::to_string(k + 1), MarkKind::kBlock, block, at});
        wanted.push_back(drawn.back());
        wanted.back().designed.z() -= 0.004;
      }
    }
  }
  /// Marks of `block` where they are wanted, and `off` from there.
  [[nodiscard]] std::vector<MeasuredPoint> measured(const std::string& block,
                                                    const Vec3& off) const {
    std::vector<MeasuredPoint> out;
    for (const Mark& mark : wanted)
      if (mark.of == block) out.push_back({mark.name, mark.designed + off, 0.002, 1});
    return out;
  }
};

TEST(BlocksInPlace, NoneMeasuredNoneFound) {
  const OnBacks on;
  EXPECT_TRUE(blocks_in_place(on.drawn, on.wanted, {}, 3).empty());
  EXPECT_EQ(in_place_in_words({}, "as packed"), "");
}

// By hand: 6 mm of a mean of three marks of 2 mm each are 27 = 3 x 9 squares of a deviation, over
// the 14.2 of chi-square with three degrees at 0.0027; 3 mm are 6.75, under it.
TEST(BlocksInPlace, OffBeyondTheAccuracyOfItsMarks) {
  const OnBacks on;
  std::vector<MeasuredPoint> points = on.measured("a", {0, 0, 0.006});
  for (const MeasuredPoint& point : on.measured("c", {0.003, 0, 0})) points.push_back(point);
  const auto found = blocks_in_place(on.drawn, on.wanted, points, 3);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].block, "a");
  EXPECT_EQ(found[0].marks, 3);
  EXPECT_NEAR((found[0].off_m - Vec3(0, 0, 0.006)).norm(), 0, 1e-12);
  EXPECT_NEAR(found[0].worst_m, 0.006, 1e-12);
  EXPECT_NEAR(found[0].off_drawn_m, 0.002, 1e-12);  // 6 up from 4 low
  EXPECT_TRUE(found[0].beyond);
  EXPECT_FALSE(found[0].far);
  EXPECT_NE(found[0].finding.find("lies +0.0, +0.0, +6.0 mm (x, y, z) from where it is to lie"),
            std::string::npos)
      << found[0].finding;
  EXPECT_FALSE(found[1].beyond);
  EXPECT_TRUE(
      in_place_in_words(found, "as packed")
          .starts_with("2 blocks were measured in place, 1 beyond the accuracy of the marks "
                       "from where it is to lie as packed, by up to 6.0 mm"))
      << in_place_in_words(found, "as packed");
}

// A block that is only turned: its mean is where it is to be, one mark is 9 mm off.
TEST(BlocksInPlace, OneMarkOffIsEnough) {
  const OnBacks on;
  std::vector<MeasuredPoint> points = on.measured("b", Vec3::Zero());
  points[0].at.z() += 0.009;
  points[1].at.z() -= 0.0045;
  points[2].at.z() -= 0.0045;
  const auto found = blocks_in_place(on.drawn, on.wanted, points, 3);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].off_m.norm(), 0, 1e-12);
  EXPECT_EQ(found[0].worst, "b 1");
  EXPECT_TRUE(found[0].beyond);
}

TEST(BlocksInPlace, FarOffAndExchanged) {
  const OnBacks on;
  std::vector<MeasuredPoint> points = on.measured("a", {0.3, 0, 0});
  ASSERT_TRUE(blocks_in_place(on.drawn, on.wanted, points, 3)[0].far);
  EXPECT_EQ(blocks_in_place(on.drawn, on.wanted, points, 3)[0].lies_at, "");
  points = on.measured("b", {2.001, 0, 0});
  for (const MeasuredPoint& point : on.measured("c", {-2, 0.001, 0})) points.push_back(point);
  const auto found = blocks_in_place(on.drawn, on.wanted, points, 3);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].lies_at, "c");
  EXPECT_EQ(found[1].lies_at, "b");
  EXPECT_TRUE(found[0].finding.ends_with("it lies where c is to lie: blocks or names exchanged"))
      << found[0].finding;
}

}  // namespace
}  // namespace skewback
