#pragma once
// Feet that elastic rods hold: unknown movements in plan, equilibrium of every foot. Private to
// works/.

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "ground/rods.hpp"
#include "stand/pads.hpp"

namespace skewback {

struct FeetSystem {
  std::vector<int> block;  // ground block per support, -1: none
  std::vector<Vec2> middles;
  std::vector<Rod> rods;
  std::vector<double> diameter_m;  // per tie
  Eigen::MatrixXd columns;         // what a rod of unit tension gives to the feet
  Eigen::MatrixXd stretch;         // elongation of the rods per movement of the feet
  Eigen::VectorXd stiffness;       // E A / L of each rod, N/m
  Eigen::MatrixXd relative;        // orthonormal basis of movements that are not rigid as a whole
};
[[nodiscard]] FeetSystem feet_system(const Brief& brief, const Assembly& assembly,
                                     const Groundworks& ground);

[[nodiscard]] std::vector<BlockMove> block_moves(const Brief& brief, const FeetSystem& feet,
                                                 const Eigen::VectorXd& movement);

/// One state of the pads with the feet so moved.
struct FeetState {
  PadState pads;
  std::vector<SupportReaction> supports;
  Eigen::VectorXd needed;  // by the feet in plan: x, y, yaw of each
};

/// A load on the bridge; movement: x, y and turn of each foot.
struct FeetLoad {
  const LoadCase* load = nullptr;
  PadOptions pads = {};
  Eigen::VectorXd pretension_n = {};  // of each rod when no foot has moved
  Eigen::VectorXd elongation_m = {};  // by warmth
};
[[nodiscard]] FeetState feet_state(const Brief& brief, const Assembly& assembly,
                                   const PadModel& model, const FeetSystem& feet,
                                   const FeetLoad& load, const Eigen::VectorXd& movement);

/// Pull of each rod; below zero it is slack.
[[nodiscard]] Eigen::VectorXd rod_pull(const FeetSystem& feet, const FeetLoad& load,
                                       const Eigen::VectorXd& movement);

/// How what the feet need changes with their relative movements: by differences about feet that
/// have not moved. None where the pads have no state.
[[nodiscard]] std::optional<Eigen::MatrixXd> bridge_stiffness(const Brief& brief,
                                                              const Assembly& assembly,
                                                              const PadModel& model,
                                                              const FeetSystem& feet,
                                                              const FeetLoad& load);

struct FeetAnswer {
  bool settled = false;
  std::string reason;
  int rounds = 0;
  Eigen::VectorXd movement;
  Eigen::VectorXd pull_n;  // none below zero
  FeetState state;
};
/// Newton steps on equilibrium of the feet in their relative movements; the bridge's part of the
/// matrix starts as `bridge` and is mended by Broyden's rule (1965), steps that make it worse are
/// halved. Settled when no foot moves by `still_m` more and all but 1e-4 of what the feet need is
/// balanced. What no relative movement can balance (a push on the whole) is left to the ground.
[[nodiscard]] FeetAnswer settle_feet(const Brief& brief, const Assembly& assembly,
                                     const PadModel& model, const FeetSystem& feet,
                                     const FeetLoad& load, const Eigen::MatrixXd& bridge,
                                     double still_m, int rounds_most);

}  // namespace skewback
