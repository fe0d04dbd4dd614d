// Drovers-hop let go in time, as its scenes say; and a block on shaken ground.
#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "works/motion_scene.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

const Assembly& drovers_hop() {
  static const Assembly assembly = [] {
    const auto brief =
        read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/drovers-hop/brief.toml");
    EXPECT_TRUE(brief.ok());
    const auto dossier = run_works(*brief, {0, "loads"}, {});
    EXPECT_TRUE(dossier.ok());
    return dossier->cut->assembly;
  }();
  return assembly;
}

MotionScene scene(const std::string& name) {
  const auto read = read_motion_scene(
      std::string(SKEWBACK_SOURCE_DIR) + "/examples/drovers-hop/" + name, drovers_hop());
  EXPECT_TRUE(read.ok()) << (read.ok() ? "" : describe(read.faults().front()));
  return read.ok() ? *read : MotionScene{};
}

const LoadCase& called(const std::string& id) {
  for (const LoadCase& load : drovers_hop().cases)
    if (load.id == id) return load;
  throw std::invalid_argument(id);
}

int block(const std::string& id) {
  const auto& blocks = drovers_hop().blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i)
    if (blocks[i].id == id) return static_cast<int>(i);
  throw std::invalid_argument(id);
}

/// Up, on the ground by what stands on it.
double on_the_ground(const Motion& m) {
  double up = 0;
  const Assembly& assembly = drovers_hop();
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const auto fixed = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].fixed; };
    if (fixed(assembly.joints[j].a)) up += m.joints[j].force.z();
    if (fixed(assembly.joints[j].b)) up -= m.joints[j].force.z();
  }
  return up;
}

double weight() {
  double kg = 0;
  for (const Block& b : drovers_hop().blocks) kg += b.fixed ? 0 : mass_kg(b);
  return kg * kGravity;
}

// Views 1 and 2 prove these cases; the reactions carry what is put on.
TEST(MotionOfDroversHop, EveryCaseComesToRestOnItsReactions) {
  for (const LoadCase& load : drovers_hop().cases) {
    MotionOptions options;
    options.frames = 0;
    const Motion m = let_go(drovers_hop(), load, {}, options);
    EXPECT_EQ(m.ending, Ending::kAtRest) << load.id << ": " << m.reason;
    EXPECT_LT(m.energy.error, 0.01) << load.id;
    double put_on = -weight() * load.gravity.z() / kGravity;
    for (const LiveForce& f : load.live) put_on -= f.force.z();
    for (const Block& b : drovers_hop().blocks)
      put_on -= b.fixed ? 0 : mass_kg(b) * load.live_acceleration.z();
    EXPECT_NEAR(on_the_ground(m), put_on, 1e-3 * put_on) << load.id;
  }
}

TEST(MotionOfDroversHop, ADroppedLoadStaysOnTheCrown) {
  const MotionScene drop = scene("drop.toml");
  ASSERT_EQ(drop.scene.drops.size(), 1U);
  const Motion m = let_go(drovers_hop(), called("dead"), drop.scene, drop.options);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_GT(m.time_s, 1.5 + std::sqrt(2 * 0.5 / kGravity));  // it has come down
  EXPECT_LT(m.energy.error, 0.01);
  const double both = weight() + 100 * kGravity;
  EXPECT_NEAR(on_the_ground(m), both, 1e-3 * both);
  // what it fell for, and half the work of the weight on its way to where it rests
  EXPECT_GT(m.energy.brought, 100 * kGravity * 0.5);
  EXPECT_LT(m.energy.rubbed, 0.05 * m.energy.brought);  // no slip to speak of
}

TEST(MotionOfDroversHop, WithoutAVoussoirItMovesOff) {
  const MotionScene removal = scene("removal.toml");
  const Motion m = let_go(drovers_hop(), called("dead"), removal.scene, removal.options);
  EXPECT_EQ(m.ending, Ending::kMovingOff);
  EXPECT_GT(m.time_s, 1.0);
  EXPECT_LT(m.time_s, 1.0 + std::sqrt(2 * 1.8 / kGravity));  // sooner than the rise in free fall
  EXPECT_LT(m.energy.error, 0.01);
  for (const MotionFrame& frame : m.frames) {
    if (frame.time_s > 1.0) break;
    const auto b = static_cast<std::size_t>(block("west-07"));
    EXPECT_LT((frame.blocks[b].centre - m.frames.front().blocks[b].centre).norm(), 1e-3);
  }
}

// By hand: an arch of one span follows footings that go and turn by hinging; the western springer
// goes with its footing.
TEST(MotionOfDroversHop, FollowsAFootingThatGivesWay) {
  const MotionScene settles = scene("settlement.toml");
  const Motion m = let_go(drovers_hop(), called("dead"), settles.scene, settles.options);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  const auto ground = static_cast<std::size_t>(block("ground-west"));
  const auto springer = static_cast<std::size_t>(block("west-01"));
  const GroundMove& move = settles.scene.moves[0];
  const MotionFrame &first = m.frames.front(), &last = m.frames.back();
  const Vec3 r = first.blocks[ground].centre - move.about;
  const Vec3 went = last.blocks[ground].centre - first.blocks[ground].centre;
  EXPECT_LT(
      (went - move.shift - (Eigen::AngleAxisd(0.4 * kPi / 180, Vec3::UnitY()) * r - r)).norm(),
      1e-9);
  const Vec3 followed = last.blocks[springer].centre - first.blocks[springer].centre;
  EXPECT_LT((followed - move.shift).norm(), 0.003);
  EXPECT_NEAR(on_the_ground(m), weight(), 1e-3 * weight());
}

TEST(MotionOfDroversHop, OnePushAlongIsRiddenOut) {
  const MotionScene shaken = scene("shaking.toml");
  const Motion m = let_go(drovers_hop(), called("dead"), shaken.scene, shaken.options);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_GT(m.time_s, 2.0);
  EXPECT_LT(m.energy.error, 0.01);
}

// ---- a slender block under half a sine -----------------------------------------------------

/// 0.25 m wide, 1 m high.
Assembly slender() {
  Assembly out;
  for (const bool fixed : {true, false}) {
    Block block;
    block.id = fixed ? "ground" : "b1";
    block.solid = fixed ? box({-2, -2, -1}, {2, 2, 0}) : box({-0.125, -0.5, 0}, {0.125, 0.5, 1});
    block.density = 2400;
    block.fixed = fixed;
    out.blocks.push_back(block);
  }
  measure(out);
  out.joints = detect_joints(out.blocks, 0.8);
  return out;
}

struct Shaken {
  Motion motion;
  double turned = 0;  // most, rad
};

Shaken under_half_a_sine(double peak) {
  Scene scene;
  for (int i = 0; i <= 100; ++i) {
    scene.shaking.time_s.push_back(0.5 + 0.005 * i);
    scene.shaking.acceleration.emplace_back(peak * std::sin(kPi * i / 100), 0, 0);
  }
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.time_most_s = 30;
  options.frames = 2000;
  Shaken out{let_go(slender(), LoadCase{}, scene, options), 0};
  for (const MotionFrame& frame : out.motion.frames) {
    const auto& q = frame.blocks[1].turn;
    out.turned = std::max(out.turned, 2 * std::atan2(q.vec().norm(), std::abs(q.w())));
  }
  return out;
}

// A block rocks once the ground goes at more than g times its width over its height, here 2.45
// m/s2 (West's formula: Milne, Seismological Journal of Japan, 1885; from memory). Below it turns
// on its contacts only. By hand for 0.8 of it: the weight passes e = 0.8 b / 2 off the middle, the
// contact is pressed over x = 3 (b / 2 - e) = 0.075 m, and turns by 2 N / (kn x2 depth) = 2.1e-4.
TEST(MotionUnderShaking, ABlockRocksAboveWestsAccelerationOnly) {
  const double west = kGravity * 0.25 / 1;
  const Shaken below = under_half_a_sine(0.8 * west);
  EXPECT_EQ(below.motion.ending, Ending::kAtRest) << below.motion.reason;
  const double by_hand = 2 * 600 * kGravity / (1e10 * 0.075 * 0.075 * 1);
  EXPECT_NEAR(below.turned, by_hand, 0.2 * by_hand);
  const Shaken above = under_half_a_sine(1.3 * west);
  EXPECT_GT(above.turned, 20 * by_hand);
  EXPECT_EQ(above.motion.ending, Ending::kAtRest) << above.motion.reason;
  EXPECT_LT(above.motion.energy.error, 0.01);
  const Shaken over = under_half_a_sine(4 * west);
  EXPECT_EQ(over.motion.ending, Ending::kMovingOff);
}

}  // namespace
}  // namespace skewback
