#include "print/pose_checks.hpp"

#include <cstdio>

#include "base/constants.hpp"
#include "print/bead.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

std::string layer_of(const PoseRun& run, int layer) {
  return layer_words(static_cast<std::size_t>(layer), run.layer_time_s.size());
}

std::string with_seconds(const std::string& words, double seconds) {
  char text[64];
  std::snprintf(text, sizeof text, ", %.1f s of the printing time", seconds);
  return words + text;
}

std::string point_words(const Vec3& p) {
  char text[96];
  std::snprintf(text, sizeof text, "x %.3f, y %.3f, z %.3f m on the table", p.x(), p.y(), p.z());
  return text;
}

void nozzle_checks(const PrintRequest& cell, const PoseRun& run, std::vector<PrintCheck>& out) {
  constexpr double kOneDegree = kPi / 180;
  // a stand of half the angle was tried by the set-up
  out.push_back({"tilt", run.tilt_max_rad / kOneDegree, cell.tilt_max_rad / kOneDegree, "degrees",
                 false, layer_of(run, run.tilt_layer),
                 "print.tilt_max, or beds nearer to parallel: shorter blocks (blocks.length)"});
  out.push_back({"tilt rate", run.tilt_rate_max_rad_s / kOneDegree,
                 cell.tilt_rate_max_rad_s / kOneDegree, "degrees/s", false,
                 with_seconds("held to the limit by slowing down", run.slowed_s),
                 "print.tilt_rate_max"});
  out.push_back({"spin rate", run.spin_rate_max_rad_s / kOneDegree,
                 cell.spin_rate_max_rad_s / kOneDegree, "degrees/s", false,
                 with_seconds("held to the limit by slowing down", run.slowed_s),
                 "print.spin_rate_max, print.turn_radius or a round nozzle"});
  out.push_back({"nozzle speed", run.speed_min_m_s, cell.speed_min_m_s, "m/s", true,
                 layer_of(run, run.speed_min_layer),
                 "print.speed_min, print.tilt_rate_max or print.spin_rate_max", true});
  if (cell.nozzle_follows && cell.turns_max > 0)
    out.push_back({"turns", run.turns / 2, cell.turns_max, "turns", false,
                   "either way from rest, wound up by half of the " + figure(run.turns, 1) +
                       " turns before the first layer",
                   "print.nozzle_follows = false, with a round nozzle; or a swivel for hoses and "
                   "leads, print.turns_max = 0",
                   true});
  constexpr double kLitresPerMinute = 6e4;
  out.push_back({"flow", kLitresPerMinute * run.flow_max_m3_s,
                 kLitresPerMinute * nozzle_flow_m3_s(cell), "L/min", false,
                 "the most that the beads take, accelerator and all",
                 "print.flow, print.speed_min or print.bead_max", true, true});
  out.push_back({"join", run.drift_m, cell.bead_m / 2, "m", false,
                 "from one layer to the next, " + layer_of(run, run.drift_layer),
                 "print.layer_max, print.bead"});
}

}  // namespace

std::vector<PrintCheck> pose_checks(const PrintRequest& cell, const PoseRun& run,
                                    const ToolClearance& clearance, const ReachFinding& reach) {
  std::vector<PrintCheck> out;
  nozzle_checks(cell, run, out);
  const std::string near = clearance.against.empty() ? "nothing nearer"
                                                     : "to " + clearance.against + " while " +
                                                           layer_of(run, clearance.layer) +
                                                           " is laid, " + point_words(clearance.at);
  out.push_back({"clearance", clearance.least_m, cell.clearance_m, "m", true, near,
                 "print.nozzle_length, print.nozzle, print.tilt_max, or the other bed down"});
  const std::string worst = run.poses.empty() ? "" : point_words(run.poses[reach.worst_pose].tip);
  const std::string place =
      "print.robot, print.reach_max or print.reach_min; or smaller blocks: blocks.width_max, "
      "blocks.length";
  out.push_back({"reach", reach.wrist_max_m, cell.reach_max_m, "m", false, worst, place, true});
  out.push_back(
      {"reach, nearest", reach.wrist_min_m, cell.reach_min_m, "m", true, worst, place, true});
  out.push_back({"table", reach.table_over_m, 0, "m", false, "first layer over the edge",
                 "print.table_length, print.table_width, or smaller blocks: blocks.width_max",
                 true});
  return out;
}

}  // namespace skewback
