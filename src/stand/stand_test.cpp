#include "stand/stand.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "base/constants.hpp"
#include "stand/sample_arch.hpp"

namespace skewback {
namespace {

using sample::arch;
using sample::block_at;
using sample::dead;
using sample::ground;
using sample::level_joint;
using sample::one_block;
using sample::rectangle;

// ---- checks of evidence that share nothing with the code under test ----------------------------

void expect_forces_hold(const Assembly& assembly, const LoadCase& load, const Forces& forces) {
  std::vector<Vec3> force(assembly.blocks.size(), Vec3::Zero()), moment = force;
  double scale = 0;
  const auto put = [&](int block, const Vec3& p, const Vec3& f) {
    force[static_cast<std::size_t>(block)] += f;
    moment[static_cast<std::size_t>(block)] += p.cross(f);
  };
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    const double mass = block.density * block.mass.volume;
    const Vec3 a = load.gravity + forces.load_factor * load.live_acceleration;
    put(static_cast<int>(i), block.mass.centroid, mass * a);
    if (!block.fixed) scale = std::max(scale, mass * kGravity);
  }
  for (const LiveForce& live : load.live) {
    put(live.block, live.point, forces.load_factor * live.force);
  }
  for (const ContactForce& c : forces.contacts) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(c.joint)];
    put(joint.b, c.point, c.force);
    put(joint.a, c.point, -c.force);
    const double normal = c.force.dot(joint.frame.z);
    const double tangential = (c.force - normal * joint.frame.z).norm();
    EXPECT_GE(normal, 0);
    EXPECT_LE(tangential, joint.friction * normal + 1e-12 * scale);
    EXPECT_NEAR(joint.frame.to_local(c.point).z(), 0, 1e-12);
  }
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (assembly.blocks[i].fixed) continue;
    EXPECT_LE(force[i].norm() / scale, 1e-9) << assembly.blocks[i].id;
    EXPECT_LE(moment[i].norm() / scale, 1e-9) << assembly.blocks[i].id;
  }
}

void expect_mechanism_moves(const Assembly& assembly, const LoadCase& load, const Mechanism& m) {
  const auto velocity = [&](int block, const Vec3& p) -> Vec3 {
    const BlockVelocity& b = m.blocks[static_cast<std::size_t>(block)];
    return b.v + b.w.cross(p);
  };
  double work = 0;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed) {
      EXPECT_EQ(m.blocks[i].v.norm() + m.blocks[i].w.norm(), 0) << block.id;
      continue;
    }
    const Vec3 a = load.gravity + m.load_factor * load.live_acceleration;
    work += block.density * block.mass.volume *
            a.dot(velocity(static_cast<int>(i), block.mass.centroid));
  }
  for (const LiveForce& live : load.live) {
    work += m.load_factor * live.force.dot(velocity(live.block, live.point));
  }
  EXPECT_GT(work, 0);
  EXPECT_NEAR(work, m.work, 1e-6 * (1 + std::abs(work)));
  for (const Joint& joint : assembly.joints) {
    for (const Vec2& corner : joint.contact[0].outer) {
      const Vec3 p = joint.frame.to_world(corner);
      const Vec3 opening = velocity(joint.b, p) - velocity(joint.a, p);
      const double normal = opening.dot(joint.frame.z);
      const double slip = (opening - normal * joint.frame.z).norm();
      EXPECT_GE(normal, joint.friction * slip - 2e-9);
    }
  }
}

void expect_evidence(const Assembly& assembly, const LoadCase& load, const CaseProof& proof) {
  if (proof.verdict == Verdict::kStands) {
    expect_forces_hold(assembly, load, std::get<Forces>(proof.evidence));
    EXPECT_LE(proof.residual_rel, 1e-10);
  }
  if (proof.verdict == Verdict::kFalls) {
    expect_mechanism_moves(assembly, load, std::get<Mechanism>(proof.evidence));
    EXPECT_FALSE(proof.reason.empty());
  }
  if (proof.limit_mechanism) expect_mechanism_moves(assembly, load, *proof.limit_mechanism);
}

// ---- the tests ---------------------------------------------------------------------------------

// Source: closed form. Live load P at 0.3 m from the middle of a bed that ends at 0.2 m: the block
// tips when factor P 0.1 = W 0.2.
TEST(Stand, LoadBeyondTheBedTipsTheBlock) {
  const Assembly assembly = one_block(0.6);
  LoadCase load = dead();
  const double W = 1000 * kGravity, P = W / 3;
  load.live = {{1, {0.3, 0, 1}, {0, 0, -P}}};
  const CaseProof proof = limit_load(assembly, load);
  EXPECT_EQ(proof.verdict, Verdict::kStands);
  EXPECT_NEAR(proof.load_factor.value(), 6, 1e-7);
  EXPECT_FALSE(proof.at_cap);
  expect_evidence(assembly, load, proof);
  ASSERT_TRUE(proof.limit_mechanism.has_value());
  EXPECT_EQ(in_words(assembly, *proof.limit_mechanism),
            "one hinge: at the +x edge of joint ground/block");
}

// Source: closed form. At factor 1 the resultant of W and W/3 lies 0.075 m out: beyond the kern
// (0.4/6), so depth 3 (0.2 - 0.075) and peak 2N / (depth 1 m), if the bed is loaded evenly across.
TEST(Stand, StressIsThatOfTheFactorOne) {
  const Assembly assembly = one_block(0.6);
  LoadCase load = dead();
  const double W = 1000 * kGravity;
  load.live = {{1, {0.3, 0, 1}, {0, 0, -W / 3}}};
  const CaseProof proof = limit_load(assembly, load);
  const double N = W * 4 / 3;
  EXPECT_NEAR(proof.joint_stress_max_pa.value() / (2 * N / (3 * 0.125)), 1, 1e-5);
  EXPECT_EQ(proof.governing_joint, 0);
}

TEST(Stand, LoadStraightDownReachesTheCap) {
  LoadCase load = dead();
  load.live = {{1, {0, 0, 1}, {0, 0, -1000}}};
  const CaseProof proof = limit_load(one_block(0.6), load, {.load_factor_cap = 7});
  EXPECT_EQ(proof.verdict, Verdict::kStands);
  EXPECT_TRUE(proof.at_cap);
  EXPECT_NEAR(proof.load_factor.value(), 7, 1e-6);
}

TEST(Stand, FrictionIsReplacedWhereAsked) {
  LoadCase load = dead();
  load.live_acceleration = {0, kGravity, 0};  // source: closed form, slides at mu
  EXPECT_NEAR(limit_load(one_block(0.6), load).load_factor.value(), 0.6, 1e-7);
  EXPECT_NEAR(limit_load(one_block(0.6), load, {.friction = 0.25}).load_factor.value(), 0.25, 1e-7);
}

// Source: closed form: slides at mu whichever way it is pushed. Midway between two rays the
// eight-ray cones say 0.924 mu and 1.082 mu; finer ones must decide.
TEST(Stand, FinerConesDecideWhereEightRaysCannot) {
  LoadCase load = dead();
  const double angle = kPi / 8;
  load.live_acceleration = kGravity * Vec3(std::cos(angle), std::sin(angle), 0);
  for (const double friction : {0.985, 1.015}) {
    Assembly assembly = one_block(friction);
    assembly.blocks[1].mass.centroid.z() = 0.01;  // too flat to tip
    const CaseProof proof = limit_load(assembly, load);
    EXPECT_EQ(proof.verdict, friction > 1 ? Verdict::kStands : Verdict::kFalls) << proof.reason;
    expect_evidence(assembly, load, proof);
  }
}

TEST(Stand, PropsPushAndNeverPull) {
  Assembly assembly;
  assembly.blocks = {ground(), block_at("block", {0, 0, 0.5}, 1000)};
  EXPECT_EQ(limit_load(assembly, dead()).verdict, Verdict::kFalls);
  StandOptions options;
  for (const auto& [x, y] : {std::pair{-1.0, -1.0}, {1.0, -1.0}, {0.0, 1.0}}) {
    options.props.push_back({1, {x, y, 0}, Vec3::UnitZ(), 0.3});
  }
  const CaseProof held = limit_load(assembly, dead(), options);
  ASSERT_EQ(held.verdict, Verdict::kStands);
  Vec3 sum = Vec3::Zero();
  for (const PropForce& p : std::get<Forces>(held.evidence).props) sum += p.force;
  EXPECT_NEAR((sum - Vec3(0, 0, 1000 * kGravity)).norm(), 0, 1e-6);
  options.props.pop_back();
  EXPECT_EQ(limit_load(assembly, dead(), options).verdict, Verdict::kFalls);
  for (Prop& prop : options.props) prop.direction = -Vec3::UnitZ();
  EXPECT_EQ(limit_load(assembly, dead(), options).verdict, Verdict::kFalls);
}

TEST(Stand, AbsentBlocksNeitherWeighNorHold) {
  const Assembly assembly = arch(6, 0.7);
  EXPECT_EQ(limit_load(assembly, dead()).verdict, Verdict::kStands);
  StandOptions options;
  options.present.assign(assembly.blocks.size(), 1);
  options.present[3] = 0;  // a voussoir out of the middle
  EXPECT_EQ(limit_load(assembly, dead(), options).verdict, Verdict::kFalls);
  options.present.assign(assembly.blocks.size(), 0);
  EXPECT_EQ(limit_load(assembly, dead(), options).verdict,
            Verdict::kStands);  // nothing there to fall
}

TEST(Stand, LooseBlockFallsAndSaysSo) {
  Assembly assembly = one_block(0.6);
  assembly.blocks.push_back(block_at("loose", {5, 0, 3}, 10));
  const CaseProof proof = limit_load(assembly, dead());
  ASSERT_EQ(proof.verdict, Verdict::kFalls);
  EXPECT_NE(proof.reason.find("loose"), std::string::npos) << proof.reason;
  expect_evidence(assembly, dead(), proof);
}

TEST(Stand, SizeDoesNotMatter) {
  LoadCase load = dead();
  load.live_acceleration = {kGravity, 0, 0};
  const double small = limit_load(arch(8, 0.6, 1), load).load_factor.value();
  EXPECT_NEAR(limit_load(arch(8, 0.6, 100), load).load_factor.value() / small, 1, 1e-7);
}

TEST(Stand, FewerContactPointsAreOnTheSafeSide) {
  Assembly assembly = one_block(2);
  Polygon circle;
  for (int i = 0; i < 60; ++i) {
    circle.push_back(0.2 * Vec2(std::cos(2 * kPi * i / 60), std::sin(2 * kPi * i / 60)));
  }
  assembly.joints[0].contact = {{circle, {}}};
  LoadCase load = dead();
  load.live_acceleration = {kGravity, 0.3 * kGravity, 0};
  const double all = limit_load(assembly, load, {.contact_points_max = 60}).load_factor.value();
  const double few = limit_load(assembly, load, {.contact_points_max = 8}).load_factor.value();
  EXPECT_LT(few, all);
  EXPECT_GT(few, 0.9 * all);
}

// Random arches pushed at random, friction and depth drawn log-uniformly: every verdict's evidence
// is re-checked here, and the factor lies between what was balanced and what moves.
TEST(Stand, RandomArchesCarryTheirEvidence) {
  std::mt19937 rng(20240611);
  std::uniform_real_distribution<double> unit(0, 1);
  const auto log_uniform = [&](double a, double b) { return a * std::pow(b / a, unit(rng)); };
  int counts[3] = {0, 0, 0};
  for (int round = 0; round < 60; ++round) {
    const int n = 3 + static_cast<int>(10 * unit(rng));
    const Assembly assembly =
        arch(n, log_uniform(0.15, 1.5), log_uniform(0.5, 200), log_uniform(0.05, 0.4));
    LoadCase load = dead();
    const int struck = 1 + static_cast<int>(n * unit(rng));
    const Vec3 at = assembly.blocks[static_cast<std::size_t>(struck)].mass.centroid;
    load.live = {{struck, at + Vec3(0, 0.05 * unit(rng), 0),
                  100 * log_uniform(1, 100) * Vec3(unit(rng) - 0.5, unit(rng) - 0.5, -1)}};
    const CaseProof proof = limit_load(assembly, load);
    ++counts[static_cast<int>(proof.verdict)];
    SCOPED_TRACE("round " + std::to_string(round) + ": " + proof.reason);
    LoadCase judged = load;
    if (proof.load_factor && *proof.load_factor == 0) judged.live.clear();
    expect_evidence(assembly, judged, proof);
    if (proof.limit_mechanism) {
      EXPECT_GE(proof.limit_mechanism->load_factor, proof.load_factor.value());
    }
  }
  EXPECT_GT(counts[0], 5);
  EXPECT_GT(counts[1], 5);
  EXPECT_EQ(counts[2], 0) << "undecided";
}

TEST(Stand, ProveAllAgreesWithProve) {
  Assembly assembly = arch(7, 0.6);
  LoadCase side = dead();
  side.id = "side";
  side.live_acceleration = {kGravity, 0, 0};
  LoadCase tilted = side;
  tilted.id = "tilted";
  tilted.gravity = {0.1 * kGravity, 0, -kGravity};
  assembly.cases = {side, dead(), tilted};
  const std::vector<CaseProof> all = limit_loads(assembly);
  ASSERT_EQ(all.size(), 3u);
  for (std::size_t i = 0; i < 3; ++i) {
    const CaseProof alone = limit_load(assembly, assembly.cases[i]);
    EXPECT_EQ(all[i].id, assembly.cases[i].id);
    EXPECT_EQ(all[i].load_factor, alone.load_factor);
    EXPECT_EQ(word(all[i].verdict), word(alone.verdict));
    EXPECT_EQ(write_evidence(assembly, assembly.cases[i], all[i], {}),
              write_evidence(assembly, assembly.cases[i], alone, {}));
  }
}

// Source: equilibrium of the whole: the two end joints carry the weight between them.
TEST(Stand, ResultantsOfTheEndJointsCarryTheWeight) {
  const Assembly assembly = arch(5, 0.6);
  const CaseProof proof = limit_load(assembly, dead());
  const auto joints = joint_resultants(assembly, std::get<Forces>(proof.evidence));
  const Vec3 up = joints.front().force - joints.back().force;
  EXPECT_NEAR((up - Vec3(0, 0, 500 * kGravity)).norm(), 0, 1e-6);
  for (const JointResultant& joint : joints) EXPECT_LT(joint.angle_deg, std::atan(0.6) * 180 / kPi);
}

}  // namespace
}  // namespace skewback
