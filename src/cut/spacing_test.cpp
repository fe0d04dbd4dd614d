#include "cut/spacing.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

std::vector<double> ramp(double end, int n) {
  std::vector<double> out;
  for (int i = 0; i <= n; ++i) out.push_back(end * i / n);
  return out;
}

TEST(Spacing, CountGivesEqualLengths) {
  EXPECT_EQ(even_courses({0, 1, 3}, {5, 1, 9}, {.length_most_m = 0.1, .count = 3}),
            (std::vector<double>{0, 1, 2, 3}));
}

TEST(Spacing, LengthRulesWhereBlocksAreLight) {
  const auto joints = even_courses({0, 2}, {1, 1}, {.length_most_m = 0.45, .mass_most_kg = 100});
  ASSERT_EQ(joints.size(), 6U);  // 2 / 0.45 = 4.4: five courses
  for (std::size_t i = 1; i < joints.size(); ++i) EXPECT_NEAR(joints[i] - joints[i - 1], 0.4, 1e-9);
}

// mass per metre 1 + x on 0..3: the whole is 7.5, four courses of at most 2 each weigh 1.875, so
// joints are where x + x^2/2 = 1.875 i
TEST(Spacing, MassesAreEven) {
  const std::vector<double> along = ramp(3, 3000);
  std::vector<double> mass;
  for (double x : along) mass.push_back(1 + x);
  const auto joints = even_courses(along, mass, {.length_most_m = 10, .mass_most_kg = 2});
  ASSERT_EQ(joints.size(), 5U);
  for (int i = 0; i <= 4; ++i)
    EXPECT_NEAR(joints[static_cast<std::size_t>(i)], -1 + std::sqrt(1 + 2 * 1.875 * i), 1e-5);
}

TEST(Spacing, BothLimitsHold) {
  const std::vector<double> along = ramp(4, 400);
  std::vector<double> mass;
  for (double x : along) mass.push_back(50 + 400 * x * x);
  const auto joints = even_courses(along, mass, {.length_most_m = 0.5, .mass_most_kg = 900});
  const auto total = [](double x) { return 50 * x + 400 * x * x * x / 3; };
  for (std::size_t i = 1; i < joints.size(); ++i) {
    EXPECT_LE(joints[i] - joints[i - 1], 0.5 + 1e-6);
    EXPECT_LE(total(joints[i]) - total(joints[i - 1]), 900 * 1.001);
  }
}

// Each part between stops by itself: 1 m and 2 m of at most 0.6 m are two courses and four.
TEST(Spacing, StopsHaveJoints) {
  const auto joints =
      even_courses_with({0, 3}, {1, 1}, {.length_most_m = 0.6, .mass_most_kg = 100}, {1});
  ASSERT_EQ(joints.size(), 7U);
  for (std::size_t i = 0; i < joints.size(); ++i)
    EXPECT_NEAR(joints[i], i < 2 ? 0.5 * double(i) : 1 + 0.5 * (double(i) - 2), 1e-9);
  EXPECT_EQ(even_courses_with({0, 1, 3}, {5, 1, 9}, {.length_most_m = 0.7}, {}),
            even_courses({0, 1, 3}, {5, 1, 9}, {.length_most_m = 0.7}));
}

TEST(Spacing, AStretchIsCutOutOfTheSamples) {
  const Stretch part = stretch_of({0, 1, 2, 4}, {0, 10, 20, 40}, 0.5, 3);
  EXPECT_EQ(part.along, (std::vector<double>{0, 0.5, 1.5, 2.5}));
  EXPECT_EQ(part.mass_per_metre, (std::vector<double>{5, 10, 20, 30}));
}

}  // namespace
}  // namespace skewback
