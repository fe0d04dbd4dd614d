#pragma once
// Private to print/: the tool against what is printed and against the table.

#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "print/print.hpp"

namespace skewback {

inline constexpr double kClearanceCap = 0.1;     // m: farther than this is not looked into
inline constexpr double kClearanceSlack = 5e-4;  // m: how far `least_m` may be under the truth
inline constexpr double kFlush = 2e-3;           // m

struct ToolClearance {
  double least_m = kClearanceCap;  // tool's surface to beads or table; negative: they cut
  std::string against;             // "the table", "layer 7" counted from 1; empty: nothing is near
  Vec3 at = Vec3::Zero();          // of the obstacle, table frame
  int layer = -1;                  // being laid when it happens, from 0; -1: nothing is near
  std::size_t pose = 0;            // at it or on the way to the next
  std::size_t checked = 0;         // places of the tool searched from
};

/// The tool (tool.hpp) all the way from pose to pose (straight, the axis turning evenly), against
/// all beads laid before (bricks.hpp) and the table (0.1 m thick). Of these only what rises over
/// the plane of the tip's face by more than kFlush counts: the face rests on the bead being laid
/// and slides over its neighbours, whose tops lie level with it. The result is never more than the
/// least distance over all those points and the whole way, and less by no more than kClearanceSlack
/// (points a hair under kFlush may count).
[[nodiscard]] ToolClearance check_clearance(const PrintRequest& cell,
                                            const std::vector<Pose>& poses);

}  // namespace skewback
