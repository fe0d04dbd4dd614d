#include <gtest/gtest.h>

#include <cmath>

#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kWeight = 1000 * 9.81;

/// A cube of 1 m3 and 1,000 kg on the ground by a pad of `kn`, with four props under it.
struct Propped {
  Assembly assembly;
  StandOptions options;
  explicit Propped(double kn) {
    assembly.blocks.resize(2);
    assembly.blocks[0].id = "ground";
    assembly.blocks[0].fixed = true;
    assembly.blocks[0].solid = box({-0.5, -0.5, -1}, {0.5, 0.5, 0});
    assembly.blocks[1].id = "cube";
    assembly.blocks[1].density = 1000;
    assembly.blocks[1].solid = box({-0.5, -0.5, 0}, {0.5, 0.5, 1});
    measure(assembly);
    Joint joint;
    joint.a = 0;
    joint.b = 1;
    joint.contact = {{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}, {}}};
    joint.pad = Pad{0.01, kn, kn};
    assembly.joints = {joint};
    for (const double x : {-0.4, 0.4}) {
      for (const double y : {-0.4, 0.4})
        options.props.push_back({1, Vec3(x, y, 0), Vec3::UnitZ(), 0.3});
    }
  }
  [[nodiscard]] double on_props(double lowered_m, double prop_kn) {
    for (Prop& prop : options.props) prop.lowered_m = lowered_m;
    PadOptions pads;
    pads.prop_kn = prop_kn;
    LoadCase dead;
    const PadState state = PadModel(assembly, options, pads).solve(dead, pads);
    EXPECT_TRUE(state.found) << state.reason;
    double sum = 0;
    for (const PropForce& prop : state.forces.props) sum += prop.force.z();
    return sum;
  }
};

// Two springs side by side, pad K and props k: both take the same movement u. Lowered by d the
// props take k (u - d) with (K + k) u = W + k d, so k (W - K d) / (K + k), and nothing from
// d = W / K on. By hand.
TEST(LoweredProp, SharesTheWeightWithThePadAndLetsGo) {
  const double K = 4e6, each = 1e6, k = 4 * each;
  Propped cube(K);
  for (const double d : {0.0, 0.5e-3, 1.5e-3, -1e-3}) {
    const double expected = k * (kWeight - K * d) / (K + k);
    EXPECT_NEAR(cube.on_props(d, each), std::min(expected, kWeight), 1e-6 * kWeight) << d;
  }
  EXPECT_EQ(cube.on_props(1.01 * kWeight / K, each), 0);
  EXPECT_EQ(cube.on_props(0.1, each), 0);
}

// A block laid on seats that then go down by 1 mm goes down with them by 1 mm, no more, no less.
TEST(LoweredProp, TakesTheBlockAlong) {
  Propped cube(1);  // next to no pad
  const auto drop = [&](double lowered) {
    for (Prop& prop : cube.options.props) prop.lowered_m = lowered;
    const PadState state = PadModel(cube.assembly, cube.options).solve({}, {});
    EXPECT_TRUE(state.found) << state.reason;
    return -state.moves[1].v.z();
  };
  EXPECT_NEAR(drop(1e-3) - drop(0), 1e-3, 1e-9);
}

// Between two seats at 45 degrees that go down together a block follows them straight down, and
// what they press it with stays as it was: no friction is stirred up.
TEST(LoweredProp, LeaningSeatsGoStraightDown) {
  Propped cube(1);
  const double s = std::sqrt(0.5);
  for (Prop& prop : cube.options.props) {
    prop.direction = Vec3(prop.point.x() > 0 ? -s : s, 0, s);
    prop.friction = 2;  // nothing slips from the start, so what would be stirred up shows
  }
  const auto state_at = [&](double lowered) {
    for (Prop& prop : cube.options.props) prop.lowered_m = lowered;
    PadState state = PadModel(cube.assembly, cube.options).solve({}, {});
    EXPECT_TRUE(state.found) << state.reason;
    return state;
  };
  const PadState before = state_at(0), after = state_at(2e-3);
  EXPECT_NEAR(before.moves[1].v.z() - after.moves[1].v.z(), 2e-3, 1e-8);
  for (std::size_t k = 0; k < before.forces.props.size(); ++k)
    EXPECT_LT((before.forces.props[k].force - after.forces.props[k].force).norm(), 1e-2) << k;
}

}  // namespace
}  // namespace skewback
