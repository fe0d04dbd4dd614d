#include "print/pose_checks.hpp"

#include <cstdio>

#include "print/bead.hpp"

namespace skewback {
namespace {

std::string layer_words(int layer, const PoseRun& run) {
  return "layer " + std::to_string(layer + 1) + " of " + std::to_string(run.layer_time_s.size());
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
  out.push_back({"tilt", run.tilt_max_rad, cell.tilt_max_rad, "rad", false,
                 layer_words(run.tilt_layer, run),
                 "print.tilt_max, or a stand of half the block's angle"});
  out.push_back({"tilt rate", run.tilt_rate_max_rad_s, cell.tilt_rate_max_rad_s, "rad/s", false,
                 with_seconds("held to the limit by slowing down", run.slowed_s),
                 "print.tilt_rate_max"});
  out.push_back({"spin rate", run.spin_rate_max_rad_s, cell.spin_rate_max_rad_s, "rad/s", false,
                 with_seconds("held to the limit by slowing down", run.slowed_s),
                 "print.spin_rate_max, print.turn_radius or a round nozzle"});
  out.push_back({"nozzle speed", run.speed_min_m_s, cell.speed_min_m_s, "m/s", true,
                 layer_words(run.speed_min_layer, run),
                 "print.speed_min, print.tilt_rate_max or print.spin_rate_max"});
  constexpr double kLitresPerMinute = 6e4, kRounding = 1 - 1e-6;  // shares and heights are floats
  out.push_back({"flow", kRounding * kLitresPerMinute * run.flow_max_m3_s,
                 kLitresPerMinute * nozzle_flow_m3_s(cell), "L/min", false,
                 "the most that the beads take, accelerator and all",
                 "print.flow, print.speed_min or print.bead_max"});
  out.push_back({"join", run.drift_m, cell.bead_m / 2, "m", false,
                 "from one layer to the next, " + layer_words(run.drift_layer, run),
                 "print.layer_max, print.bead"});
}

}  // namespace

std::vector<PrintCheck> pose_checks(const PrintRequest& cell, const PoseRun& run,
                                    const ToolClearance& clearance, const ReachFinding& reach) {
  constexpr double kRounding = 1e-9;  // of limits that are met by construction
  std::vector<PrintCheck> out;
  nozzle_checks(cell, run, out);
  for (PrintCheck& check : out) {
    const double tolerance = kRounding * check.limit;
    if (!check.passes() && std::abs(check.value - check.limit) <= tolerance)
      check.value = check.limit;
  }
  const std::string near = clearance.against.empty() ? "nothing nearer"
                                                     : "to " + clearance.against + " while " +
                                                           layer_words(clearance.layer, run) +
                                                           " is laid, " + point_words(clearance.at);
  out.push_back({"clearance", clearance.least_m, cell.clearance_m, "m", true, near,
                 "print.nozzle_length, print.nozzle, print.tilt_max, or the other bed down"});
  const std::string worst = run.poses.empty() ? "" : point_words(run.poses[reach.worst_pose].tip);
  const std::string place = "print.robot, or the block turned on the table";
  out.push_back({"reach", reach.wrist_max_m, cell.reach_max_m, "m", false, worst, place});
  out.push_back({"reach, nearest", reach.wrist_min_m, cell.reach_min_m, "m", true, worst, place});
  out.push_back({"table", reach.table_over_m, 0, "m", false, "first layer over the edge",
                 "print.table_length, print.table_width, or the block turned on the table"});
  return out;
}

}  // namespace skewback
