#pragma once
// Blocks laid one on the other from the springings as they are. Theory: docs/theory/survey.md.

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "survey/as_made.hpp"

namespace skewback {

/// Movements are small: p goes to p + shift + turn x (p - about the block's centre of gravity).
struct SmallMove {
  Vec3 shift = Vec3::Zero(), turn = Vec3::Zero();
};
/// Exact rotation with the same turn vector.
[[nodiscard]] Rigid rigid(const SmallMove& move, const Vec3& about);

/// Four corners of a joint's contact in its frame: (-,-), (+,-), (+,+), (-,+); of its hull those
/// farthest out along the diagonals of its extent.
using JointCorners = std::array<Vec2, 4>;
[[nodiscard]] JointCorners joint_corners(const Joint& joint);

/// Corner gaps and steps of every joint as linear functions of the blocks' moves; made once for an
/// assembly, shared by threads. The assembly has to outlive it.
struct StackPlan;
class StackModel {
 public:
  explicit StackModel(const Assembly& assembly);
  [[nodiscard]] const Assembly& assembly() const { return *assembly_; }
  [[nodiscard]] const std::vector<JointCorners>& corners() const { return corners_; }
  /// Blocks that are not fixed, springings first, by phi; crown blocks and keys last. Without
  /// places (BlockPlace) breadth first from the fixed blocks.
  [[nodiscard]] const std::vector<int>& order() const { return order_; }
  [[nodiscard]] const StackPlan& plan() const { return *plan_; }  // private to survey/

 private:
  const Assembly* assembly_;
  std::vector<JointCorners> corners_;
  std::vector<int> order_;
  std::shared_ptr<const StackPlan> plan_;
};

/// How a joint lies, beyond the drawn pad: gap > 0 open, < 0 tight.
struct JointLie {
  std::array<double, 4> gap_m = {};   // per corner
  std::array<double, 4> step_m = {};  // sideways, per corner
  [[nodiscard]] double gap_min_m() const;
  [[nodiscard]] double gap_max_m() const;
  [[nodiscard]] double step_max_m() const;
};
/// Of every joint, for given moves of the blocks (those of fixed blocks included). Lists of `made`
/// that are empty are as drawn.
[[nodiscard]] std::vector<JointLie> lies(const StackModel& model, const AsMade& made,
                                         const std::vector<SmallMove>& moves);

struct Stack {
  std::vector<SmallMove> moves;  // per block of the assembly
  std::vector<JointLie> joints;
  bool key_goes_in = false;  // no joint is tighter than `squeeze`, none out of line by over `step`
  int tightest = -1, widest = -1;  // joints
  std::string finding;             // in words
};
/// Moves of the fixed blocks by their supports (BlockPlace::arm), zero for all others.
[[nodiscard]] std::vector<SmallMove> footing_moves(const StackModel& model, const AsMade& made);

/// No packers: each block in turn lies on those already there, corners flush and faces in line in
/// least squares, where a step counts a sixth of a gap of the same size; the blocks of the crown
/// and the keys last, together, in what is left.
[[nodiscard]] Stack stack_up(const StackModel& model, const AsMade& made,
                             const PackingRequest& packing);

}  // namespace skewback
