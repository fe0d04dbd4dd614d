#include <gtest/gtest.h>

#include "stand/pad_state.hpp"

namespace skewback {
namespace {

/// A row of three cubes, one on the other, the upper two pushed sideways: with little friction the
/// middle joint slips at some of its points and sticks at others.
struct Pushed {
  Assembly assembly;
  PadSystem system;
  PadWork work;
};

Pushed pushed(double push_n) {
  Pushed out;
  for (int i = 0; i < 3; ++i) {
    Block block;
    block.id = "b" + std::to_string(i);
    block.density = 2000;
    block.fixed = i == 0;
    block.solid = box({0, 0, double(i)}, {1, 1, double(i + 1)});
    out.assembly.blocks.push_back(std::move(block));
  }
  out.assembly.joints = detect_joints(out.assembly.blocks, 0.3);
  for (Joint& joint : out.assembly.joints) joint.pad = Pad{0.008, 5e7, 1e6};
  measure(out.assembly);
  out.system = pad_system(out.assembly, {}, {}, 0.3);
  const auto n = 6 * static_cast<Eigen::Index>(out.system.blocks.size());
  out.work.u = VectorX::Zero(n);
  out.work.loads = VectorX::Zero(n);
  out.work.given.assign(out.system.places.size(), Vec6::Zero());
  out.work.response.resize(out.system.places.size());
  for (Eigen::Index b = 0; b < n; b += 6) out.work.loads[b + 2] = -2000 * 9.81;
  out.work.loads[6] = push_n;                                  // on the upper cube
  out.work.loads[11] = 0.3 * push_n / out.system.length_unit;  // off its middle: it turns
  return out;
}

void expect_state(const Pushed& p) {
  EXPECT_LT(p.work.gradient.lpNorm<Eigen::Infinity>(), 2e-9 * p.system.force_unit);
  EXPECT_LT(beyond_friction(p.system, p.work), 1e-9 * p.system.force_unit);
  for (std::size_t i = 0; i < p.system.places.size(); ++i) {
    const PadResponse& r = p.work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      EXPECT_NEAR(p.work.bound[i][k], 0.3 * r.normal[k], 1e-6) << i << ", " << k;
    }
  }
}

// The push is 0.7 of what friction under the upper cube holds, and with its moment
// about the vertical the far points slip; the wrench on each cube must vanish all the same.
TEST(CoupledPads, BalanceAndCoulombHoldAtOnce) {
  Pushed p = pushed(0.7 * 0.3 * 2000 * 9.81);
  int steps = 0;
  PadState rounds;
  rounds.moves.resize(3);
  find_state(p.system, 1e-9, rounds, p.work);
  ASSERT_TRUE(rounds.found) << rounds.reason;
  EXPECT_FALSE(rounds.sticks);
  const VectorX found = p.work.u;
  p.work.u *= 1.3;
  ASSERT_TRUE(settle_coupled(p.system, 1e-9, 60, steps, p.work));
  expect_state(p);
  EXPECT_LT((p.work.u - found).lpNorm<Eigen::Infinity>(), 1e-3 * found.lpNorm<Eigen::Infinity>());
  EXPECT_LE(steps, 3) << "Newton close by: a wrong derivative takes many more";
}

// From the drawn place no joint is pressed yet: with pads that hardly resist sliding there is next
// to no stiffness in the first step.
TEST(CoupledPads, SoftSlidingPadsAreReachedFromTheDrawnPlace) {
  Pushed p = pushed(0);
  for (const double ks : {1e3, 1e5, 1e6, 1e8}) {
    for (Joint& joint : p.assembly.joints) joint.pad->ks = ks;
    const PadState state = PadModel(p.assembly, {}).solve({}, {});
    ASSERT_TRUE(state.found) << ks << ": " << state.reason;
    // by hand: two cubes of 19,620 N on 5e7 Pa/m x 1 m2, then one
    EXPECT_NEAR(-state.moves[2].v.z(), 19620.0 * 3 / 5e7, 1e-9) << ks;
  }
}

TEST(CoupledPads, NothingIsFoundWhereNothingHolds) {
  Pushed p = pushed(1.05 * 0.3 * 2000 * 9.81);  // more than the friction of the whole joint
  int steps = 0;
  PadWork rounded = p.work;
  EXPECT_FALSE(settle_coupled(p.system, 1e-9, 60, steps, p.work));
  EXPECT_FALSE(settle_by_rounding(p.system, 1e-9, steps, rounded));
}

// Ends on Coulomb's own law, from the drawn place, where nothing is pressed.
TEST(CoupledPads, RoundedCornersLeadToTheSameState) {
  for (const double share : {0.3, 0.5, 0.7}) {
    Pushed p = pushed(share * 0.3 * 2000 * 9.81), q = p;
    PadState rounds;
    rounds.moves.resize(3);
    find_state(p.system, 1e-9, rounds, p.work);
    ASSERT_TRUE(rounds.found) << rounds.reason;
    int steps = 0;
    start_closed(q.system, q.work);
    ASSERT_TRUE(settle_by_rounding(q.system, 1e-9, steps, q.work)) << share;
    expect_state(q);
    EXPECT_LT((p.work.u - q.work.u).lpNorm<Eigen::Infinity>(),
              1e-6 * p.work.u.lpNorm<Eigen::Infinity>());
  }
}

// Central differences; one corner lifts, so triangles are partly open, and points stick and slip.
TEST(CoupledPads, StiffnessIsTheDerivativeOfTheWrench) {
  const PadLaw law = pad_law({{{{0, 0}, {1, 0}, {1, 0.6}, {0, 0.6}}, {}}}, 5e7, 1e7, 0.2);
  Vec6 movement;
  movement << 1e-5, 2e-5, -1e-5, 3e-5, -4e-5, 2e-5;
  for (const double rounding : {0.5, 0.1, 0.01}) {
    PadResponse here, ahead, behind;
    respond_coulomb(law, movement, {}, 0.4, rounding, here);
    double slips = 0, sticks = 0;
    for (std::size_t k = 0; k < here.normal.size(); ++k) {
      const double share = here.tangential[k].norm() / (0.4 * here.normal[k] + 1e-9);
      EXPECT_LE(share, 1 + 1e-12);
      (share > 0.9 ? slips : sticks) += 1;
    }
    EXPECT_GT(slips, 0);
    EXPECT_GT(sticks, 0);
    const double scale = here.stiffness.lpNorm<Eigen::Infinity>();
    for (int axis = 0; axis < 6; ++axis) {
      constexpr double kStep = 1e-9;
      respond_coulomb(law, movement + kStep * Vec6::Unit(axis), {}, 0.4, rounding, ahead);
      respond_coulomb(law, movement - kStep * Vec6::Unit(axis), {}, 0.4, rounding, behind);
      const Vec6 slope = (behind.wrench - ahead.wrench) / (2 * kStep);
      EXPECT_LT((slope - here.stiffness.col(axis)).lpNorm<Eigen::Infinity>(), 2e-5 * scale)
          << rounding << ", " << axis;
    }
  }
}

}  // namespace
}  // namespace skewback
