#include "stand/modes.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

constexpr double kPi = 3.14159265358979323846;

Joint flat_joint(int a, int b, const Vec3& at, const Vec3& normal, double across, double up,
                 double kn, double ks) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame = frame_on({at, normal});
  // frame_on leaves the turn about the normal open: corners by world directions
  const Vec3 side =
      normal.cross(Vec3::UnitZ()).norm() > 0.5 ? Vec3(normal.cross(Vec3::UnitZ())) : Vec3::UnitX();
  const Vec3 rise = side.cross(normal);
  Polygon ring;
  for (const auto& [i, j] : {std::pair(-1, -1), {1, -1}, {1, 1}, {-1, 1}}) {
    const Vec3 p = joint.frame.to_local(at + 0.5 * i * across * side + 0.5 * j * up * rise);
    ring.push_back(p.head<2>());
  }
  if (area(ring) < 0) std::reverse(ring.begin(), ring.end());
  joint.contact = {{ring, {}}};
  joint.pad = Pad{0.01, kn, ks};
  return joint;
}

Block box_block(const std::string& id, const Vec3& low, const Vec3& high, double density,
                bool fixed) {
  Block block;
  block.id = id;
  block.density = density;
  block.fixed = fixed;
  block.solid = box(low, high);
  return block;
}

// Closed form: sqrt(k/m)/2pi with k = 2e9 Pa/m x 1 m2 and m = 1150 kg: 209.887 Hz.
TEST(Modes, ABlockOnItsPadBounces) {
  Assembly assembly;
  assembly.blocks = {box_block("ground", {-1, -1, -1}, {2, 2, 0}, 1000, true),
                     box_block("block", {0, 0, 0}, {1, 1, 0.5}, 2300, false)};
  assembly.joints = {flat_joint(0, 1, {0.5, 0.5, 0}, Vec3::UnitZ(), 1, 1, 2e9, 1e9)};
  measure(assembly);
  const auto modes = lowest_modes(assembly, {}, 6);
  ASSERT_EQ(modes.size(), 6u);
  bool found = false;
  for (const Mode& mode : modes) {
    if (mode.share.z() < 0.999) continue;
    found = true;
    EXPECT_NEAR(mode.hz, 209.887, 1e-3);
  }
  EXPECT_TRUE(found);
}

/// A chain of n rigid blocks, 1 m wide and 0.2 m deep, between two hinges: joints as stiff in
/// bending as one block's length of the beam they stand for.
Assembly chain(int n, double span, double EI, double kg_per_m) {
  const double l = span / n, I = 0.2 * 0.2 * 0.2 / 12, kn = EI / (l * I), ks = 1e3 * kn;
  Assembly assembly;
  assembly.blocks.push_back(box_block("left", {-1, 0, -0.1}, {0, 1, 0.1}, 1, true));
  for (int i = 0; i < n; ++i) {
    assembly.blocks.push_back(box_block("b" + std::to_string(i), {i * l, 0, -0.1},
                                        {(i + 1) * l, 1, 0.1}, kg_per_m / 0.2, false));
  }
  assembly.blocks.push_back(box_block("right", {span, 0, -0.1}, {span + 1, 1, 0.1}, 1, true));
  for (int i = 0; i <= n; ++i) {
    const bool hinge = i == 0 || i == n;
    assembly.joints.push_back(flat_joint(i, i + 1, {i * l, 0.5, 0}, Vec3::UnitX(), 1,
                                         hinge ? 1e-4 : 0.2, hinge ? 1e6 * kn : kn,
                                         hinge ? 1e6 * kn : ks));
  }
  measure(assembly);
  return assembly;
}

// Closed form of the simple beam: (pi/2) sqrt(EI/m)/L2 = 1.7106 Hz, and four times as much for one
// whole wave (6.8422), for EI 21.867 MNm2, 480 kg/m, 14 m.
TEST(Modes, AChainOfBlocksSwingsLikeTheBeamItStandsFor) {
  const auto modes = lowest_modes(chain(80, 14, 21.867e6, 480), {}, 8);
  std::vector<double> upright;
  for (const Mode& mode : modes) {
    if (mode.share.z() > 0.9) upright.push_back(mode.hz);
  }
  ASSERT_GE(upright.size(), 2u);
  EXPECT_NEAR(upright[0], 1.7106, 0.002 * 1.7106);
  EXPECT_NEAR(upright[1], 6.8422, 0.005 * 6.8422);
}

TEST(Modes, PeopleSlowIt) {
  const Assembly assembly = chain(20, 14, 21.867e6, 480);
  LoadCase people;
  for (int i = 1; i <= 20; ++i) {
    people.live.push_back({i,
                           centre_of_gravity(assembly.blocks[static_cast<std::size_t>(i)]),
                           {0, 0, -480 * 0.7 * 9.81}});
  }
  const double alone = lowest_modes(assembly, {}, 1)[0].hz,
               with = lowest_modes(assembly, {}, 1, &people)[0].hz;
  EXPECT_NEAR(alone / with, std::sqrt(2.0), 1e-3);  // as much mass again
}

TEST(Modes, NoneWhereABlockHangsOnNothing) {
  Assembly assembly = chain(4, 14, 21.867e6, 480);
  assembly.joints.erase(assembly.joints.begin() + 1);
  assembly.joints.erase(assembly.joints.begin());
  EXPECT_TRUE(lowest_modes(assembly, {}, 3).empty());
}

}  // namespace
}  // namespace skewback
