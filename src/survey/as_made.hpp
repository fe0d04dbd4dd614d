#pragma once
// How footings, beds and pads really are, against the drawing: what stacking and packing start
// from, measured or drawn at random alike.

#include <array>
#include <vector>

#include "assembly/assembly.hpp"
#include "base/result.hpp"
#include "survey/fit.hpp"
#include "survey/points.hpp"

namespace skewback {

/// The bed of one block at a joint: its surface lies at height + slope . (x, y) along the joint
/// frame's z from where it is drawn, and at each corner of the joint by `corner_m` more.
struct BedError {
  double height_m = 0;
  Vec2 slope = Vec2::Zero();
  std::array<double, 4> corner_m = {};  // in the order of stack.hpp's joint corners
};

struct AsMade {
  std::vector<Rigid> supports;       // per support, drawn to found, bridge axes
  std::vector<BedError> on_a, on_b;  // per joint
  /// Per joint and corner: what finite turns of its blocks add to its gap; empty: nothing.
  std::vector<std::array<double, 4>> turning_m = {};
  std::vector<double> pad_m;     // per joint: thickness beyond the drawn one
  std::vector<double> timber_m;  // per block: how much too high what it is laid on is
};
/// All as drawn.
[[nodiscard]] AsMade as_drawn(const Assembly& assembly, std::size_t supports);

/// One block, measured corner by corner before it is placed.
struct MeasuredBlock {
  int block = -1;
  RigidFit fit;          // of all its points
  double length_m = 0;   // error between the middles of its beds, > 0 too long
  double wedge_rad = 0;  // beds out of their angle about the level axis, > 0 longer at the back
  double twist_rad = 0;  // far bed against near about the flow, right-handed
  double bow_m = 0;      // most that a bed's middle stands off the plane of its corners, > 0 proud
  std::string finding;   // in words
  double skew_rad =
      0;              // far bed against near about the upright, right-handed: out of square in plan
  double warp_m = 0;  // most that a corner stands off the plane of its bed
};
struct MeasuredBlocks {
  std::vector<MeasuredBlock> blocks;  // those with points enough; in the order of the assembly
  std::vector<std::string> remarks;   // those that cannot be used and count as drawn, and why:
                                      // points too few, or that do not go together
  Faults wrong;  // those whose points are plainly wrong: unit, mirrored, names exchanged
};
/// Fills on_a and on_b of `made` for the beds that were measured. The rigid fit of all points of a
/// block decides how an error is shared between its beds: a block 2 mm too long is 1 mm proud on
/// each. Points over 15 mm off (5 mm of shape, times `gate` of 3) are slips of measurement and left
/// out. Keys: length is twice the mean of their beds, wedge the most of any bed about its own level
/// axis; twist and skew 0.
[[nodiscard]] MeasuredBlocks measure_blocks(const Assembly& assembly, const PointFile& points,
                                            double gate, AsMade& made);

}  // namespace skewback
