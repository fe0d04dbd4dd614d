#include <gtest/gtest.h>

#include <cstdio>
#include <random>

#include "survey/fit.hpp"

namespace skewback {
namespace {

/// Springings of a three-legged bridge of its own shape, in site axes.
struct Site {
  std::vector<Vec3> designed = {{1.1, 6.4, 0},   {-1.5, 6.4, 0},  {-0.3, 7.6, 0},
                                {-5.4, -2.1, 0}, {-3.9, -4.2, 0}, {-5.6, -3.8, 0},
                                {4.3, -4.4, 0},  {5.7, -2.2, 0},  {6.0, -3.9, 0}};
  std::vector<Vec3> measured;
  std::vector<double> accuracy = std::vector<double>(9, 0.002);
  std::vector<std::string> names = {"yard right",    "yard left",    "yard back",
                                    "orchard right", "orchard left", "orchard back",
                                    "towpath right", "towpath left", "towpath back"};
  explicit Site(unsigned seed, double height = 0) {
    std::mt19937 rng(seed);
    std::normal_distribution<double> noise(0, 0.002);
    const Mat3 turn = Eigen::AngleAxisd(0.3, Vec3::UnitZ()).toRotationMatrix();
    for (std::size_t i = 0; i < designed.size(); ++i) {
      designed[i].z() += height * static_cast<double>(i / 3);
      measured.push_back(turn * designed[i] + Vec3(40, 20, 36) +
                         Vec3(noise(rng), noise(rng), noise(rng)));
    }
  }
  [[nodiscard]] RigidFit fit() const { return fit_rigid(designed, measured, accuracy, 3, names); }
};

bool says(const RigidFit& fit, const std::string& text) {
  return fit.suspicion.find(text) != std::string::npos;
}

TEST(Suspicion, NoneOfSoundMarks) {
  for (unsigned seed = 1; seed <= 20; ++seed) EXPECT_EQ(Site(seed).fit().suspicion, "") << seed;
}

TEST(Suspicion, SwappedNames) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Site site(seed);
    std::swap(site.measured[4], site.measured[8]);
    const RigidFit fit = site.fit();
    EXPECT_TRUE(says(fit, "orchard left and towpath back look swapped")) << fit.suspicion;
    EXPECT_FALSE(says(fit, "mirrored"));
  }
}

// Marks of one height fit a mirror by turning over; with heights they do not fit at all.
TEST(Suspicion, EastAndNorthExchanged) {
  for (const double height : {0.0, 0.4}) {
    Site site(3, height);
    for (Vec3& p : site.measured) std::swap(p.x(), p.y());
    const RigidFit fit = site.fit();
    EXPECT_TRUE(says(fit, "mirrored")) << height << ": " << fit.suspicion;
    EXPECT_FALSE(says(fit, "upside down"));
    EXPECT_NEAR(fit.X.R.determinant(), 1, 1e-9);
    EXPECT_TRUE(fit.outliers.empty());
  }
}

TEST(Suspicion, WrongUnit) {
  const std::vector<std::pair<double, std::string>> units = {
      {1 / 0.3048, "feet and read as metres"},
      {0.3048, "metres and read as feet"},
      {1000, "millimetres and read as metres"},
      {0.001, "metres and read as millimetres"},
      {1 / 0.0254, "inches and read as metres"}};
  for (const auto& [factor, words] : units) {
    Site site(4);
    for (Vec3& p : site.measured) p *= factor;
    const RigidFit fit = site.fit();
    EXPECT_TRUE(says(fit, words)) << factor << ": " << fit.suspicion;
  }
}

TEST(Suspicion, WrongUnitBesideAMovedFooting) {
  Site site(4);
  for (int i = 3; i < 6; ++i) site.measured[i].z() -= 0.06;
  for (Vec3& p : site.measured) p /= 0.3048;
  const RigidFit fit = site.fit();
  EXPECT_TRUE(says(fit, "feet and read as metres, and not all lie where they are drawn"))
      << fit.suspicion;
}

TEST(Suspicion, ScaleFactorLeftOn) {
  Site site(5);
  for (Vec3& p : site.measured) p *= 1.004;
  const RigidFit fit = site.fit();
  EXPECT_TRUE(says(fit, "% too long")) << fit.suspicion;
  double per_cent = 0;
  ASSERT_EQ(std::sscanf(fit.suspicion.c_str(), "all distances come out %lf", &per_cent), 1);
  EXPECT_NEAR(per_cent, 0.4, 4 * 100 * 0.002 / 19.5);  // root of the sum of squared arms: 19.5 m
}

// A footing that has really moved is neither.
TEST(Suspicion, NoneOfAMovedFooting) {
  Site site(6);
  for (int i = 3; i < 6; ++i) site.measured[i].z() -= 0.014;
  EXPECT_FALSE(says(site.fit(), "mirrored"));
  EXPECT_FALSE(says(site.fit(), "swapped"));
  EXPECT_FALSE(says(site.fit(), "read as"));
}

TEST(Suspicion, LeftAndRightOfOneFootingSwapped) {
  const std::vector<Vec3> designed = {{1.3, 6.4, 0}, {-1.3, 6.4, 0}, {0, 7.6, 0}};
  const std::vector<Vec3> measured = {{-1.3, 6.4, 0}, {1.3, 6.4, 0}, {0, 7.6, 0}};
  const RigidFit fit =
      fit_rigid(designed, measured, {.002, .002, .002}, 3, {"right", "left", "back"});
  EXPECT_TRUE(says(fit, "right and left look swapped")) << fit.suspicion;
  EXPECT_TRUE(says(fit, "mirrored")) << fit.suspicion;
}

}  // namespace
}  // namespace skewback
