#pragma once
// Private to survey/: the linear program of packing, and how it is solved. Millimetres and
// milliradians inside.
//
//   minimise  sum_h cost_h tau_h   subject to   a . r_h - tau_h <= most,   tau_h >= 0
//
// over the moves of all free blocks; r_h: three of the six coordinates of a joint's movement
// (joint_rows.hpp). Each joint has three hinges: openings (tau: packers), what is too tight or over
// the most that packers may fill (tau: by how much), steps (tau: by how much too far).

#include <array>
#include <vector>

#include "survey/joint_rows.hpp"

namespace skewback {

enum class HingeKind { kPackers, kTight, kStep };

struct Hinge {
  int joint = -1;
  HingeKind kind = HingeKind::kPackers;
  double cost = 1;
  std::size_t rows = 0;
  std::array<Vec3, 16> a;
  std::array<double, 16> most;
  std::array<signed char, 16> edge;  // of the bed, where the row keeps it within slack; else -1
};
/// Which coordinates of the joint's movement its rows are of.
[[nodiscard]] const std::array<int, 3>& parts_of(HingeKind kind);

struct PackProgram {
  const StackModel* model = nullptr;
  std::vector<Hinge> hinges;  // three a joint
  std::vector<Vec6> fixed;    // per joint: the part of its movement that is of fixed blocks
};

/// Of a joint's packers in the sum: 0.95 at springings, about 1 elsewhere and different in every
/// joint, so that no two ways of packing cost the same.
[[nodiscard]] double packer_weight(const StackModel& model, int joint);

/// mm of what packers cannot do, against 1 mm of packers: a springing joint past its limits where a
/// springer may be made to fit, and anything else.
inline constexpr double kSpringerCost = 100, kBeyondCost = 10000;

/// Per joint, whether packers may open its lower and its upper edge. Empty: all.
using EdgesOpen = std::vector<std::array<char, 2>>;

/// `held_m`: gaps at the corners that packers fill already, per joint; empty: none. Edges that are
/// not `open` stay within slack.
[[nodiscard]] PackProgram pack_program(const StackModel& model, const AsMade& made,
                                       const PackingRequest& packing, bool springers,
                                       const std::vector<std::array<double, 4>>& held_m = {},
                                       const EdgesOpen& open = {});

struct PackSolution {
  bool converged = false;
  std::vector<SmallMove> moves;  // per block; the centre of the best ones
  std::vector<double> tau_m;     // per hinge: the least for these moves
  double objective_m = 0;        // of these
  double bound_m = 0;            // no moves do better: dual objective
  int iterations = 0;
  std::vector<std::array<double, 16>> dual;  // per hinge and row
};
/// Interior point with predictor and corrector (Mehrotra 1992); the normal equations have 6 x 6
/// blocks on the graph of blocks. `from`: moves to start at, those of fixed blocks included.
[[nodiscard]] PackSolution solve_packing(const PackProgram& program,
                                         const std::vector<SmallMove>& from);

}  // namespace skewback
