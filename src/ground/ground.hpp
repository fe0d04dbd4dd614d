#pragma once
// What holds the feet: reactions, thrust, ties and rods. Theory: docs/theory/ground.md.

#include "brief/brief.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct SupportReaction {
  std::string id;
  Vec3 point = Vec3::Zero();   // middle of the springing
  Vec3 force = Vec3::Zero();   // of the ground on the bridge, N
  Vec3 moment = Vec3::Zero();  // about point, N m
  double thrust_n = 0;         // horizontal part of force
};

struct TieForce {
  std::string id;
  std::vector<double> rod_force_n;  // per rod, tension > 0
  double force_n = 0;               // sum
  double governing_n = 0;           // the largest rod force over all cases, factored
  double diameter_m = 0;            // of each rod, next size of a stated series
  double length_m = 0;
};

struct TieState {  // of one case
  std::string case_id;
  std::vector<SupportReaction> supports;
  std::vector<std::vector<double>> rod_force_n;  // per tie, per rod
  std::vector<Vec3> ground_shear_n;              // per support: x, y force and yaw moment in z
  double residual_rel = 0;                       // plan equilibrium of the footings
  bool balanced = false;
  std::string reason;  // when not: which footing, what is missing
};

struct Groundworks {
  std::vector<SupportReaction> supports;  // dead load
  std::vector<TieForce> ties;             // dead load, sized over all cases
  std::vector<TieState> cases;
  std::vector<std::string> remarks;
};

/// Sizes the ties. Reactions are those of the pads, else of view 1 (one state among many); said in
/// remarks.
[[nodiscard]] Groundworks hold_feet(const Brief& brief, const Assembly& assembly,
                                    const std::vector<CaseProof>& proofs);

}  // namespace skewback
