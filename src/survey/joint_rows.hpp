#pragma once
// Private to survey/: gaps and steps of joints as linear functions of the blocks' moves.
//
// A move of a block is u = (shift, turn) about its centre of gravity. At the origin of a joint, in
// its frame, b moves against a by r = to_b u_b - to_a u_a = (x, y, z, turns about x, y, z). At a
// point (x, y) of the joint: gap = (r_z, r_tx, r_ty) . (1, y, -x), steps = r_x - r_tz y and
// r_y + r_tz x.

#include <Eigen/Cholesky>
#include <array>
#include <memory>
#include <vector>

#include "solve/block_cholesky.hpp"
#include "survey/stack.hpp"

namespace skewback {

using Vec6 = Eigen::Matrix<double, 6, 1>;

/// A step counts this much of a gap of the same size in least squares: 0.5 mm over 3 mm, the usual
/// slack of a joint over the usual step.
inline constexpr double kStepOverGap = 1.0 / 6;

/// Limits of gaps and steps are held to within this, m.
inline constexpr double kLieNear_m = 1e-6;

using Rows3x6 = Eigen::Matrix<double, 3, 6>;

struct JointRows {
  int a = -1, b = -1;  // nodes; -1: fixed
  Block6 to_a, to_b;
  // of to_a and to_b the rows of gaps (z and the turns about x and y) and of steps
  Rows3x6 gap_a, gap_b, step_a, step_b;
  Block6 flush;  // sum over corners of gap^2 + (kStepOverGap step)^2 is r' flush r + ...
  std::array<Vec6, 4> gap;
};

/// Weight of lying on the timber against a corner lying flush.
inline constexpr double kTimber = 0.3;

/// How one block is laid on those that are there before it: least squares whose matrix no error
/// changes.
struct LayingOne {
  std::vector<int> joints;  // to what is there
  Eigen::LDLT<Block6> bare, on_timber;
};

struct StackPlan {
  std::vector<LayingOne> laying;                // in order, those laid one by one
  std::vector<JointRows> rows;                  // per joint
  std::vector<int> node, block;                 // block -> node of those not fixed (-1), and back
  std::vector<std::vector<int>> joints_of;      // per block
  std::size_t keys_from = 0;                    // in the order: from here on laid together
  std::shared_ptr<const BlockPattern> pattern;  // of all nodes
  std::shared_ptr<const BlockPattern> keys;     // of the last, in their order
};

[[nodiscard]] Vec6 coordinates(const SmallMove& move);
[[nodiscard]] SmallMove small_move(const Vec6& u);
[[nodiscard]] Vec6 relative(const JointRows& rows, const Joint& joint,
                            const std::vector<SmallMove>& moves);
/// At the joint's corners, of beds, pad and finite turns alone: on b - on a - pad + turning.
[[nodiscard]] std::array<double, 4> bed_gaps(const StackModel& model, const AsMade& made,
                                             int joint);
[[nodiscard]] std::string joint_name(const Assembly& assembly, int joint);  // "y7 | key"
[[nodiscard]] std::string in_mm(double m);                                  // "3.1 mm"

/// Where all blocks that are not fixed lie in least squares if the joints are to have the gaps
/// `wanted_m` (per joint and corner) beyond those of `bed_gaps`. `moves` holds those of the fixed
/// blocks and is filled.
void lie_in_least_squares(const StackModel& model, const AsMade& made,
                          const std::vector<std::array<double, 4>>& wanted_m,
                          std::vector<SmallMove>& moves);

}  // namespace skewback
