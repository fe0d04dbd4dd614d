#include "print/reach.hpp"

#include <gtest/gtest.h>

#include "print/pose_checks.hpp"
#include "print/sample_layers.hpp"

namespace skewback {
namespace {

PoseRun disc(const PrintRequest& cell) {
  return run_poses(cell, sample::ring_stack(0.5, 360, 2, 0.010, 0.045), {});
}

// Closed forms: an upright tool on a ring of radius 0.5 m; the centre of reach 2 m to the south.
TEST(Reach, RingBeforeTheRobot) {
  const PrintRequest cell = sample::free_cell();
  const PoseRun run = disc(cell);
  const ReachFinding found = check_reach(cell, run.poses);
  // the wrist is 0.55 m over the tip: at z 0.002 to 0.02, the centre at 0.6
  EXPECT_NEAR(found.wrist_max_m, std::hypot(2.5, 0.55 + 0.010 - 0.6), 2e-3);
  EXPECT_NEAR(found.wrist_min_m, std::hypot(1.5, 0.55 + 0.020 - 0.6), 2e-3);
  // bead of width 45 + 0.2146 x 10 mm, half of it outside the ring
  const double outside = 0.5 + (0.045 + kRound * 0.010) / 2;
  EXPECT_NEAR(found.table_over_m, outside - cell.table_width_m / 2, 1e-3);
}

TEST(Reach, WorstPlaceIsTheOneNearestToALimit) {
  PrintRequest cell = sample::free_cell();
  cell.reach_max_m = 2.4;
  const PoseRun run = disc(cell);
  const ReachFinding found = check_reach(cell, run.poses);
  EXPECT_GT(run.poses[found.worst_pose].tip.y(), 0.49);
  EXPECT_GT(found.wrist_max_m, cell.reach_max_m);
}

const PrintCheck& named(const std::vector<PrintCheck>& checks, const std::string& name) {
  for (const PrintCheck& check : checks)
    if (check.name == name) return check;
  ADD_FAILURE() << "no check " << name;
  return checks.front();
}

std::vector<PrintCheck> checks_of(const PrintRequest& cell, const Rigid& X = {}) {
  const PoseRun run = run_poses(cell, sample::ring_stack(0.5, 360, 2, 0.010, 0.045), X);
  return pose_checks(cell, run, check_clearance(cell, run.poses), check_reach(cell, run.poses));
}

TEST(PoseChecks, PassAndFailWithTheirSetting) {
  PrintRequest cell;
  for (const PrintCheck& check : checks_of(cell)) EXPECT_TRUE(check.passes()) << check.name;
  cell.table_width_m = 1.0;
  EXPECT_FALSE(named(checks_of(cell), "table").passes());
  cell = {};
  cell.reach_max_m = 2.4;
  EXPECT_FALSE(named(checks_of(cell), "reach").passes());
  EXPECT_TRUE(named(checks_of(cell), "reach, nearest").passes());
  cell.reach_min_m = 1.6;
  EXPECT_FALSE(named(checks_of(cell), "reach, nearest").passes());
  cell = {};
  cell.speed_min_m_s = 0.25;  // 112 mL/s wanted of 83
  EXPECT_FALSE(named(checks_of(cell), "flow").passes());
  EXPECT_NEAR(named(checks_of(cell), "flow").value / (6e4 * 0.25 * 4.5e-4), 1, 2e-4);  // chords
  cell = {};
  cell.nozzle_follows = true;
  cell.turns_max = 1;
  cell.spin_rate_max_rad_s = 0.05;
  EXPECT_TRUE(named(checks_of(cell), "spin rate").passes());
  EXPECT_FALSE(named(checks_of(cell), "nozzle speed").passes());
  // two rings wind it up by two turns and the join of 0.3 m on a circle of 3.14 m: half of it
  const PrintCheck turns = named(checks_of(cell), "turns");
  EXPECT_NEAR(turns.value, 1 + 0.15 / kPi, 0.02);
  EXPECT_EQ(turns.unit, "turns");
  EXPECT_FALSE(turns.passes());
  EXPECT_TRUE(turns.setting);
  cell.turns_max = 1.2;
  EXPECT_TRUE(named(checks_of(cell), "turns").passes());
  cell.turns_max = 0;
  for (const PrintCheck& check : checks_of(cell)) EXPECT_NE(check.name, "turns");
  cell = {};
  const Rigid leant{Eigen::AngleAxisd(0.6, Vec3::UnitX()).toRotationMatrix(), {0, 0, 0.5}};
  const PrintCheck tilt = named(checks_of(cell, leant), "tilt");
  EXPECT_FALSE(tilt.passes());
  EXPECT_NEAR(tilt.value, 0.6 * 180 / kPi, 0.01);
  EXPECT_NEAR(tilt.limit, 30, 1e-9);
  EXPECT_EQ(tilt.unit, "degrees");
  EXPECT_EQ(tilt.change.find("stand"), std::string::npos);
  EXPECT_FALSE(named(checks_of(cell, leant), "clearance").passes());  // the tip's rim digs in
}

}  // namespace
}  // namespace skewback
