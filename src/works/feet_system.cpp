#include "works/feet_system.hpp"

#include <Eigen/LU>
#include <Eigen/QR>
#include <cmath>

#include "base/constants.hpp"
#include "ground/reactions.hpp"

namespace skewback {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kTry = 0.1e-3;  // m and mrad, of the differences
constexpr int kHalvings = 6;
constexpr double kBalancedTo = 1e-4;  // of what the feet need, in relative movements

/// Movements that are not those of all feet together as one rigid body.
MatrixXd relative_movements(const std::vector<Vec2>& middles) {
  const auto n = 3 * static_cast<Eigen::Index>(middles.size());
  MatrixXd rigid = MatrixXd::Zero(n, 3);
  for (std::size_t i = 0; i < middles.size(); ++i) {
    const auto at = 3 * static_cast<Eigen::Index>(i);
    rigid(at, 0) = rigid(at + 1, 1) = rigid(at + 2, 2) = 1;
    rigid(at, 2) = -middles[i].y();
    rigid(at + 1, 2) = middles[i].x();
  }
  const MatrixXd Q = rigid.householderQr().householderQ();
  return Q.rightCols(n - 3);
}

struct Step {
  VectorXd z;
  FeetState state;
  VectorXd pull;  // as rod_pull
  VectorXd left;  // equilibrium not yet reached, in relative movements
  [[nodiscard]] bool found() const { return state.pads.found; }
};

}  // namespace

FeetSystem feet_system(const Brief& brief, const Assembly& assembly, const Groundworks& ground) {
  FeetSystem feet;
  feet.block = ground_blocks(brief, assembly);
  std::vector<Footing> footings;
  for (const Support& s : brief.plan.supports) {
    feet.middles.emplace_back((s.a + s.b) / 2);
    footings.push_back({s.id, feet.middles.back(), Vec2::Zero(), 0});
  }
  feet.rods = rods_of(brief.plan.supports, ground.laid);
  for (const TieForce& tie : ground.ties) feet.diameter_m.push_back(tie.diameter_m);
  feet.columns = rod_columns(footings, feet.rods);
  feet.stretch = -feet.columns.transpose();
  feet.stiffness.resize(static_cast<Eigen::Index>(feet.rods.size()));
  for (std::size_t k = 0; k < feet.rods.size(); ++k) {
    const double d = feet.diameter_m[static_cast<std::size_t>(feet.rods[k].tie)];
    feet.stiffness[static_cast<Eigen::Index>(k)] =
        kSteelStiffness * kPi / 4 * d * d / feet.rods[k].length();
  }
  feet.relative = relative_movements(feet.middles);
  return feet;
}

std::vector<BlockMove> block_moves(const Brief& brief, const FeetSystem& feet,
                                   const VectorXd& movement) {
  std::vector<BlockMove> out;
  for (std::size_t s = 0; s < feet.block.size(); ++s) {
    if (feet.block[s] < 0) continue;
    const Vec3 m = movement.segment<3>(3 * static_cast<Eigen::Index>(s));
    BlockMove move;
    move.block = feet.block[s];
    move.shift = {m.x(), m.y(), 0};
    move.turn = {0, 0, m.z()};
    move.about = springing_middle(brief.plan.supports[s]);
    out.push_back(move);
  }
  return out;
}

FeetState feet_state(const Brief& brief, const Assembly& assembly, const PadModel& model,
                     const FeetSystem& feet, const FeetLoad& load, const VectorXd& movement) {
  FeetState out;
  PadOptions pads = load.pads;
  pads.moves = block_moves(brief, feet, movement);
  out.pads = model.solve(*load.load, pads);
  if (!out.pads.found) return out;
  out.supports = reactions(brief, assembly, feet.block, out.pads.forces);
  out.needed.resize(movement.size());
  Eigen::Index at = 0;
  for (const SupportReaction& s : out.supports) {
    out.needed.segment<3>(at) << s.force.x(), s.force.y(), s.moment.z();
    at += 3;
  }
  return out;
}

VectorXd rod_pull(const FeetSystem& feet, const FeetLoad& load, const VectorXd& movement) {
  const VectorXd more = feet.stretch * movement - load.elongation_m;
  return load.pretension_n + feet.stiffness.cwiseProduct(more);
}

std::optional<MatrixXd> bridge_stiffness(const Brief& brief, const Assembly& assembly,
                                         const PadModel& model, const FeetSystem& feet,
                                         const FeetLoad& load) {
  const VectorXd none = VectorXd::Zero(feet.relative.rows());
  const FeetState still = feet_state(brief, assembly, model, feet, load, none);
  if (!still.pads.found) return std::nullopt;
  const Eigen::Index n = feet.relative.cols();
  MatrixXd out(n, n);
  for (Eigen::Index k = 0; k < n; ++k) {
    const VectorXd movement = kTry * feet.relative.col(k);
    const FeetState moved = feet_state(brief, assembly, model, feet, load, movement);
    if (!moved.pads.found) return std::nullopt;
    out.col(k) = feet.relative.transpose() * (moved.needed - still.needed) / kTry;
  }
  return out;
}

FeetAnswer settle_feet(const Brief& brief, const Assembly& assembly, const PadModel& model,
                       const FeetSystem& feet, const FeetLoad& load, const MatrixXd& bridge,
                       double still_m, int rounds_most) {
  const MatrixXd& Q = feet.relative;
  const MatrixXd given = Q.transpose() * feet.columns, stretch = feet.stretch * Q;
  FeetAnswer out;
  const auto look = [&](const VectorXd& z) {
    ++out.rounds;
    Step step{
        z, feet_state(brief, assembly, model, feet, load, Q * z), rod_pull(feet, load, Q * z), {}};
    if (step.found()) step.left = Q.transpose() * step.state.needed - given * step.pull.cwiseMax(0);
    return step;
  };
  MatrixXd B = bridge;
  Step now = look(VectorXd::Zero(Q.cols()));
  while (now.found() && out.rounds < rounds_most) {
    const VectorXd active =
        feet.stiffness.cwiseProduct((now.pull.array() >= 0).cast<double>().matrix());
    const MatrixXd J = B - given * active.asDiagonal() * stretch;
    const VectorXd dz = -J.completeOrthogonalDecomposition().solve(now.left);
    out.settled = (Q * dz).lpNorm<Eigen::Infinity>() < still_m &&
                  now.left.norm() <= kBalancedTo * now.state.needed.norm();
    if (out.settled) break;
    double share = 1;
    Step next = look(now.z + dz);
    for (int k = 0; k < kHalvings && (!next.found() || next.left.norm() > 2 * now.left.norm());
         ++k) {
      share /= 2;
      next = look(now.z + share * dz);
    }
    if (next.found()) {
      const VectorXd went = next.z - now.z;
      const VectorXd change = Q.transpose() * (next.state.needed - now.state.needed);
      B += (change - B * went) * went.transpose() / went.squaredNorm();
    }
    now = std::move(next);
  }
  if (!now.found())
    out.reason = "no state of the pads with the feet so moved: " + now.state.pads.reason;
  else if (!out.settled)
    out.reason = "feet, rods and pads did not settle";
  out.movement = Q * now.z;
  out.pull_n = now.pull.cwiseMax(0);
  out.state = std::move(now.state);
  return out;
}

}  // namespace skewback
