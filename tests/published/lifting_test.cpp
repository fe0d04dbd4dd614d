// Lifting and lashing.
//
// Sources: legs and angles as in rigging practice and EN 13155, dynamic factors and adhesion as in
// CEN/TR 15728 (from memory); 0.25 m3 at 2,200 kg/m3, worked by hand. Statics of a beam with
// overhangs (closed form), worked by hand for 1.2 m x 0.5 m x 0.3 m. EN 12195-1:2010, 5.4:
// top-over lashing (from memory), worked by hand for 2 t. A crane maker's note on wind: a load of
// 85 t with 60 m2 of exposed area under a chart for 9 m/s may hang up to 11.73 m/s.

#include "erect/lifting.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "erect/handling_beam.hpp"
#include "erect/handling_block.hpp"
#include "erect/transport.hpp"

namespace skewback {
namespace {

constexpr double kDegree = kPi / 180;

TEST(Published, ForceInSlings) {
  const double weight = 0.25 * 2200 * kGravity;
  EXPECT_NEAR(weight, 5395.5, 0.05);
  EXPECT_NEAR(sling_force(weight, 1.3, 2, 30 * kDegree), 4049.6, 0.1);
  EXPECT_NEAR(sling_force(weight, 2.0, 2, 30 * kDegree), 6230.2, 0.1);
  // 1 kPa on half a square metre comes on top when it leaves the mould
  const Solid block = box({0, 0, 0}, {1, 0.5, 0.5});
  EXPECT_NEAR(weight + 1e3 * lying_area_m2(block, {}), 5895.5, 0.05);
  // the angle factor by itself
  for (const auto& [degrees, factor] :
       {std::pair(15, 1.035), std::pair(30, 1.155), std::pair(45, 1.414), std::pair(60, 2.0)})
    EXPECT_NEAR(sling_force(1, 1, 1, degrees * kDegree), factor, 5e-4);
}

TEST(Published, BeamLiftedAtItsEndsAndAtTheBestPoints) {
  const double length = 1.2, wide = 0.5, deep = 0.3;
  const Solid beam = box({-length / 2, 0, 0}, {length / 2, wide, deep});
  const Vec3 pull = -2.0 * kGravity * Vec3::UnitZ();
  const double half = 2200 * 2.0 * kGravity * length * wide * deep / 2;
  const auto tension = [&](double off, double at) {
    const std::vector<HandlingForce> forces = {{{-off, wide / 2, 0}, half * Vec3::UnitZ()},
                                               {{off, wide / 2, 0}, half * Vec3::UnitZ()}};
    return beam_tension(beam_cuts(beam, Vec3::UnitX(), {at}), 2200, pull, forces).greatest_pa;
  };
  const double modulus = wide * deep * deep / 6;
  EXPECT_NEAR(tension(length / 2 - 1e-9, 0), 1.1654e3 / modulus, 10);
  EXPECT_NEAR(tension(length / 2 - 1e-9, 0), 0.1554e6, 50);
  const double best = (0.5 - 0.207) * length;
  EXPECT_NEAR(tension(best, best), 0.1997e3 / modulus, 10);
  // over the points and between them alike where the overhang is (sqrt(2) - 1) / 2
  const double alike = (0.5 - (std::sqrt(2) - 1) / 2) * length;
  EXPECT_NEAR(tension(alike, alike), tension(alike, 0), 1e-6 * tension(alike, 0));
}

TEST(Published, StrapsOverALoad) {
  const double angle = 75 * kDegree;
  EXPECT_EQ(straps_needed(2000, 0.8, 1, 0.45, angle, 5000, 1.25), 2);  // 1.975
  EXPECT_EQ(straps_needed(2000, 0.5, 1, 0.45, angle, 5000, 1.1), 1);   // 0.248
  EXPECT_EQ(straps_needed(2000 * 2 / 1.97, 0.8, 1, 0.45, angle, 5000, 1.25), 3);
  EXPECT_EQ(straps_needed(2000, 0.4, 1, 0.45, angle, 5000, 1.25), 0);
}

TEST(Published, WindOnALoad) {
  // four times the area, half the wind
  EXPECT_NEAR(permitted_wind(9, 85e3, 1.2, 4 * 50), 11.734 / 2, 5e-4);
  EXPECT_EQ(permitted_wind(9, 85e3, 1.2, 50), 9) << "never over the chart's own";
}

}  // namespace
}  // namespace skewback
