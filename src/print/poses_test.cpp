#include "print/poses.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "print/sample_layers.hpp"

namespace skewback {
namespace {

using sample::free_cell;
using sample::line;
using sample::ring_stack;

struct Sums {
  double volume_m3 = 0, laying_s = 0, path_m = 0;
};
/// As a reader of the poses would add them up.
Sums add_up(const PoseRun& run) {
  Sums sums;
  for (std::size_t i = 0; i + 1 < run.poses.size(); ++i) {
    const Pose& pose = run.poses[i];
    if (pose.share_m <= 0) continue;
    const double length = (run.poses[i + 1].tip - pose.tip).norm();
    sums.volume_m3 += section_m2(pose) * length;
    sums.laying_s += length / static_cast<double>(pose.speed_m_s);
    sums.path_m += length;
  }
  return sums;
}

double total(const std::vector<double>& values) {
  double sum = 0;
  for (const double v : values) sum += v;
  return sum;
}

/// What every run must keep.
void expect_sound(const PoseRun& run, const PrintRequest& cell) {
  for (std::size_t i = 0; i < run.poses.size(); ++i) {
    const Pose& pose = run.poses[i];
    EXPECT_NEAR(pose.turn.norm(), 1, 1e-6);
    EXPECT_LE(std::acos(std::min(1.0, axis_of(pose).z())), cell.tilt_max_rad + 1e-3);
    if (i == 0) continue;
    const Pose& before = run.poses[i - 1];
    EXPECT_LE((pose.tip - before.tip).norm(), cell.step_m * (1 + 1e-6)) << i;
    EXPECT_GE(pose.time_s, before.time_s) << i;
    EXPECT_GE(pose.turn.dot(before.turn), 0) << i;
    EXPECT_GE(pose.layer, before.layer) << i;
  }
  EXPECT_EQ(run.poses.back().speed_m_s, 0);
  EXPECT_EQ(run.poses.back().share_m, 0);
}

// 60 x 10 mm with rounded sides at 20 L/min: section w h - (1 - pi/4) h^2 = 578.54 mm2, speed
// 576.2 mm/s.
TEST(Poses, BeadAndSpeedForAFlow) {
  PrintRequest cell = free_cell();
  cell.flow_m3_s = 20e-3 / 60;
  const double share = 0.060 - kRound * 0.010;
  const PoseRun run = run_poses(cell, ring_stack(0.5, 60, 3, 0.010, share), {});
  const auto whole = std::count_if(run.poses.begin(), run.poses.end(), [](const Pose& p) {
    return p.share_m > 0 && std::abs(p.height_m - 0.010) < 1e-7 &&
           std::abs(p.share_m - 0.0578540) < 1e-6;
  });
  EXPECT_GT(whole, 100);
  for (const Pose& pose : run.poses) {
    if (std::abs(pose.height_m - 0.010) > 1e-7 || std::abs(pose.share_m - 0.0578540) > 1e-6)
      continue;
    EXPECT_NEAR(width_m(pose), 0.060, 1e-7);
    EXPECT_NEAR(section_m2(pose) * 1e6, 578.54, 0.005);
    EXPECT_NEAR(pose.speed_m_s * 1e3, 576.2, 0.05);
  }
  EXPECT_NEAR(run.flow_max_m3_s, cell.flow_m3_s, 1e-12);
  EXPECT_NEAR(run.flow_min_m3_s, cell.flow_m3_s, 1e-12);
}

TEST(Poses, SpiralOfRingsLaysWhatTheRingsHold) {
  const PrintRequest cell = free_cell();
  const auto layers = ring_stack(0.5, 90, 12, 0.010, 0.045);
  const PoseRun run = run_poses(cell, layers, {});
  expect_sound(run, cell);
  const Sums sums = add_up(run);
  EXPECT_NEAR(sums.volume_m3 / sample::volume_m3(layers), 1, 1e-6);
  EXPECT_NEAR(total(run.layer_laid_m3) / sums.volume_m3, 1, 1e-6);
  EXPECT_NEAR(total(run.layer_path_m), sums.path_m, 1e-6);
  EXPECT_NEAR(total(run.layer_time_s), run.poses.back().time_s, 1e-6);
  EXPECT_NEAR(sums.laying_s, run.poses.back().time_s, 1e-3);
  EXPECT_EQ(run.strokes, 1);
  EXPECT_NEAR(run.drift_m, 0, 1e-12);
}

// Closed forms at the window of a level spiral: a pass rises by one layer, its bead fills what is
// between it and the pass before, and all beads at one place add up to the stack.
TEST(Poses, BeadsOfASpiralStandOnOneAnother) {
  const double h = 0.010, r = 0.5;
  const int n = 5;
  const PoseRun run = run_poses(free_cell(), ring_stack(r, 720, n, h, 0.045), {});
  for (const double at_way : {0.02, 0.1, 0.2, 0.28, 0.5, 2.0}) {
    const double angle = at_way / r;
    double top = 0, sum = 0;
    int passes = 0;
    for (std::size_t i = 0; i + 1 < run.poses.size(); ++i) {
      const auto off = [&](const Vec3& p) {
        return std::remainder(std::atan2(p.y(), p.x()) - angle, 2 * kPi);
      };
      const double a = off(run.poses[i].tip), b = off(run.poses[i + 1].tip);
      if (!(a <= 0 && b > 0 && b - a < 1)) continue;
      const double z =
          run.poses[i].tip.z() + a / (a - b) * (run.poses[i + 1].tip.z() - run.poses[i].tip.z());
      const auto height = static_cast<double>(run.poses[i].height_m);
      const double step = h / 12;  // the ramp's steps
      EXPECT_NEAR(z - top, height, run.poses[i].layer == n - 1 && passes == n ? h : step) << at_way;
      top = z;
      sum += height;
      ++passes;
    }
    EXPECT_EQ(passes, at_way < 0.3 ? n + 1 : n);
    EXPECT_NEAR(sum, n * h, h / 12);
    EXPECT_NEAR(top, n * h, 1e-6);
  }
}

TEST(Poses, BeginsAndEndsInARamp) {
  const PoseRun run = run_poses(free_cell(), ring_stack(0.5, 360, 3, 0.010, 0.045), {});
  EXPECT_NEAR(run.poses.front().tip.z(), 0.002, 1e-12);  // a fifth of the layer
  EXPECT_LT(run.poses.front().height_m, 0.003);
  const Pose& last_bead = run.poses[run.poses.size() - 2];
  EXPECT_GT(last_bead.height_m, 0);
  EXPECT_LT(last_bead.height_m, 0.001);
  EXPECT_NEAR(run.poses.back().tip.z(), 0.030, 1e-12);
}

// Where a layer's curve begins and which way it runs is the planner's accident.
TEST(Poses, SeamAndDirectionAreKept) {
  auto layers = ring_stack(0.5, 100, 4, 0.010, 0.045);
  const PoseRun straight = run_poses(free_cell(), layers, {});
  auto& second = layers[1].strokes[0].points;
  std::rotate(second.begin(), second.begin() + 37, second.end());
  auto& third = layers[2].strokes[0].points;
  std::reverse(third.begin(), third.end());
  const PoseRun muddled = run_poses(free_cell(), layers, {});
  ASSERT_EQ(muddled.poses.size(), straight.poses.size());
  for (std::size_t i = 0; i < straight.poses.size(); ++i)
    EXPECT_NEAR((muddled.poses[i].tip - straight.poses[i].tip).norm(), 0, 1e-9);
}

// The world's layers come to the table by a rigid motion, and nothing else changes.
TEST(Poses, GoToTheTableFrame) {
  const auto layers = ring_stack(0.5, 100, 3, 0.010, 0.045);
  const Rigid X{Eigen::AngleAxisd(0.2, Vec3(1, 2, 0).normalized()).toRotationMatrix(), {1, 2, 3}};
  const PoseRun here = run_poses(free_cell(), layers, {}),
                there = run_poses(free_cell(), layers, X);
  ASSERT_EQ(here.poses.size(), there.poses.size());
  for (std::size_t i = 0; i < here.poses.size(); ++i) {
    EXPECT_NEAR((X(here.poses[i].tip) - there.poses[i].tip).norm(), 0, 1e-9);
    EXPECT_NEAR((X.R * axis_of(here.poses[i]) - axis_of(there.poses[i])).norm(), 0, 1e-6);
  }
  EXPECT_NEAR(there.tilt_max_rad, 0.2, 1e-9);
}

TEST(Poses, LeanIsHeldAndSaid) {
  PrintRequest cell = free_cell();
  const Rigid X{Eigen::AngleAxisd(0.7, Vec3::UnitX()).toRotationMatrix(), Vec3::Zero()};
  const PoseRun run = run_poses(cell, ring_stack(0.5, 100, 3, 0.010, 0.045), X);
  EXPECT_NEAR(run.tilt_max_rad, 0.7, 1e-9);
  for (const Pose& pose : run.poses) {
    EXPECT_NEAR(std::acos(axis_of(pose).z()), cell.tilt_max_rad, 1e-5);
    EXPECT_NEAR(axis_of(pose).x(), 0, 1e-6);  // leant back in its own plane
  }
}

/// An open stroke over a barrel of radius r: the axis turns by 1 / r per metre.
SpaceLayer barrel(double r, int parts, double height_m, double share_m) {
  SpaceStroke stroke;
  for (int i = 0; i <= parts; ++i) {
    const double a = -0.4 + 0.8 * i / parts;
    SpacePoint q;
    q.normal = {std::sin(a), 0, std::cos(a)};
    q.p = r * q.normal;
    q.height_m = height_m;
    q.share_m = share_m;
    stroke.points.push_back(q);
  }
  return {{stroke}};
}

// Closed form: turning by one piece's angle over one piece's chord, v = rate x chord / angle.
TEST(Poses, SlowsDownWhereTheAxisTurnsTooFast) {
  PrintRequest cell = free_cell();
  cell.tilt_rate_max_rad_s = 0.1;
  const double r = 1, angle = 0.8 / 20;
  const PoseRun run = run_poses(cell, {barrel(r, 20, 0.010, 0.045)}, {});
  const double expected = 0.1 * 2 * r * std::sin(angle / 2) / angle;
  ASSERT_LT(expected, cell.flow_m3_s / 4.5e-4);
  EXPECT_NEAR(run.speed_min_m_s, expected, 1e-6);
  EXPECT_NEAR(run.tilt_rate_max_rad_s, 0.1, 1e-9);
  const double length = 20 * 2 * r * std::sin(angle / 2);
  EXPECT_NEAR(run.slowed_s, run.poses.back().time_s - length * 4.5e-4 / cell.flow_m3_s, 1e-6);
  EXPECT_NEAR(run.spin_rate_max_rad_s, 0, 1e-9);
}

// A nozzle that turns with the path on a ring spins by v / r; it winds up by one turn a layer.
TEST(Poses, FollowingNozzleSpinsWithThePath) {
  PrintRequest cell = free_cell();
  cell.nozzle_follows = true;
  cell.spin_rate_max_rad_s = 0.2;
  const int layers = 4;
  const PoseRun run = run_poses(cell, ring_stack(0.5, 360, layers, 0.010, 0.045), {});
  EXPECT_NEAR(run.spin_rate_max_rad_s, 0.2, 1e-9);
  EXPECT_NEAR(run.speed_min_m_s, 0.2 * 0.5, 1e-3);
  EXPECT_NEAR(run.turns, layers + 0.3 / (2 * kPi * 0.5), 0.01);
  for (std::size_t i = 1; i + 1 < run.poses.size(); i += 7) {
    const Mat3 R = Eigen::Quaterniond(run.poses[i].turn.cast<double>()).toRotationMatrix();
    const Vec3 out = Vec3(run.poses[i].tip.x(), run.poses[i].tip.y(), 0).normalized();
    EXPECT_NEAR(R.col(0).dot(Vec3::UnitZ().cross(out)), 1, 1e-3);
  }
}

TEST(Poses, RoundNozzleDoesNotSpin) {
  const PoseRun run = run_poses(free_cell(), ring_stack(0.5, 360, 4, 0.010, 0.045), {});
  EXPECT_NEAR(run.spin_rate_max_rad_s, 0, 1e-12);
  for (const Pose& pose : run.poses) EXPECT_NEAR(std::abs(pose.turn.w()), 1, 1e-6);
}

TEST(Poses, ShortLayerIsSlowedToItsLeastTime) {
  PrintRequest cell = free_cell();
  const auto layers = ring_stack(0.5, 90, 3, 0.010, 0.045);
  const double free_s = run_poses(cell, layers, {}).layer_time_s[1];
  cell.layer_time_min_s = 1.5 * free_s;
  cell.speed_min_m_s = 0.05;
  const PoseRun run = run_poses(cell, layers, {});
  EXPECT_NEAR(run.layer_time_s[1], cell.layer_time_min_s, 1e-6);
  EXPECT_EQ(run.waited_s, 0);
  EXPECT_EQ(run.strokes, 1);
  EXPECT_NEAR(run.flow_min_m3_s, cell.flow_m3_s / 1.5, 0.15 * cell.flow_m3_s);
}

TEST(Poses, WaitsWhereSlowingIsNotEnough) {
  PrintRequest cell = free_cell();
  const auto layers = ring_stack(0.5, 90, 3, 0.010, 0.045);
  cell.layer_time_min_s = 60;
  cell.speed_min_m_s = 0.1;
  const PoseRun run = run_poses(cell, layers, {});
  expect_sound(run, cell);
  EXPECT_NEAR(run.layer_time_s[0], 60, 1e-6);
  EXPECT_NEAR(run.layer_time_s[1], 60, 1e-6);
  EXPECT_LT(run.layer_time_s[2], 60);  // nothing comes on top of it
  EXPECT_NEAR(run.waited_s, 120 - (run.layer_path_m[0] + run.layer_path_m[1]) / 0.1, 1e-6);
  EXPECT_EQ(run.strokes, 3);
  EXPECT_NEAR(run.speed_min_m_s, 0.1, 1e-12);
  const auto lifted =
      std::max_element(run.poses.begin(), run.poses.end(),
                       [](const Pose& a, const Pose& b) { return a.tip.z() < b.tip.z(); });
  EXPECT_NEAR(lifted->tip.z(), 0.020 + 0.020, 1e-6);  // over the second layer by two
  EXPECT_NEAR(add_up(run).volume_m3 / sample::volume_m3(layers), 1, 1e-6);
}

TEST(Poses, StrokesThatDoNotJoinAreTravelledTo) {
  PrintRequest cell = free_cell();
  std::vector<SpaceLayer> layers = {
      {{line({0, 0, .01}, {1, 0, .01}, .01, .04), line({1, .5, .01}, {0, .5, .01}, .01, .04)}}};
  const auto rings = ring_stack(0.3, 60, 2, 0.010, 0.045);
  for (SpaceLayer ring : rings) {
    for (SpacePoint& q : ring.strokes[0].points) q.p += Vec3(0.5, 0.25, 0.010);
    layers.push_back(ring);
  }
  const PoseRun run = run_poses(cell, layers, {});
  expect_sound(run, cell);
  EXPECT_EQ(run.strokes, 3);
  EXPECT_NEAR(add_up(run).volume_m3 / sample::volume_m3(layers), 1, 1e-6);
  double travel_top = 0;
  for (const Pose& pose : run.poses)
    if (pose.share_m <= 0 && pose.layer == 0) travel_top = std::max(travel_top, pose.tip.z());
  EXPECT_NEAR(travel_top, 0.030, 1e-9);
  EXPECT_NEAR(total(run.layer_time_s), run.poses.back().time_s, 1e-6);
}

// Places in the middle of straight, even runs are left out; corners and steps of the bead stay.
TEST(Poses, KeepsFewPlacesOnStraightRuns) {
  SpaceStroke stroke = line({0, 0, .01}, {0.2, 0, .01}, .01, .04);
  const SpaceStroke cut = stroke;
  stroke.points.clear();
  for (int i = 0; i <= 20; ++i) {
    SpacePoint q = cut.points[0];
    q.p.x() = 0.01 * i;
    if (i >= 10) q.share_m = 0.05;
    stroke.points.push_back(q);
  }
  PrintRequest cell = free_cell();
  cell.step_m = 0.05;
  const PoseRun run = run_poses(cell, {{{stroke}}}, {});
  ASSERT_EQ(run.poses.size(), 5U);  // steps of 50 mm, the bead's step at 100 mm
  EXPECT_NEAR(run.poses[1].share_m, 0.04, 1e-7);
  EXPECT_NEAR(run.poses[2].tip.x(), 0.1, 1e-9);
  EXPECT_NEAR(run.poses[2].share_m, 0.05, 1e-7);
}

TEST(Poses, NoPathNoPoses) {
  EXPECT_TRUE(run_poses(free_cell(), {}, {}).poses.empty());
  EXPECT_TRUE(run_poses(free_cell(), {SpaceLayer{}}, {}).poses.empty());
}

// Random wedges of blobs: planes turned evenly about an axis, heights in proportion to the
// distance from it, shares that vary. Seeds are those of the loop.
TEST(Poses, RandomWedgesCloseTheirVolume) {
  double worst = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    const double axis = 1.2 + 3 * unit(random), step = (0.006 + 0.006 * unit(random)) / axis;
    const double size = 0.15 + 0.4 * unit(random), wave = 0.3 * unit(random);
    const int corners = 20 + static_cast<int>(120 * unit(random)),
              lobes = 2 + static_cast<int>(4 * unit(random));
    std::vector<SpaceLayer> layers(3 + static_cast<std::size_t>(12 * unit(random)));
    for (std::size_t k = 0; k < layers.size(); ++k) {
      const double turn = step * static_cast<double>(k + 1), begin = 6 * unit(random);
      SpaceStroke stroke;
      stroke.closed = true;
      for (int i = 0; i < corners; ++i) {
        const double a = begin + 2 * kPi * i / corners;
        const double r = size * (1 + wave * std::cos(lobes * a));
        const double far = axis + r * std::cos(a);
        SpacePoint q;
        q.p = {far * std::cos(turn) - axis, r * std::sin(a), far * std::sin(turn)};
        q.normal = {-std::sin(turn), 0, std::cos(turn)};
        q.height_m = far * step;
        q.share_m = 0.03 + 0.02 * unit(random);
        stroke.points.push_back(q);
      }
      if (unit(random) < 0.3) std::reverse(stroke.points.begin(), stroke.points.end());
      layers[k].strokes = {stroke};
    }
    PrintRequest cell;
    const PoseRun run = run_poses(cell, layers, {});
    expect_sound(run, cell);
    worst = std::max(worst, std::abs(add_up(run).volume_m3 / sample::volume_m3(layers) - 1));
    EXPECT_LE(run.tilt_rate_max_rad_s, cell.tilt_rate_max_rad_s * (1 + 1e-9));
    EXPECT_LE(run.speed_max_m_s, cell.speed_max_m_s * (1 + 1e-9));
    EXPECT_NEAR(total(run.layer_time_s), run.poses.back().time_s, 1e-6);
    EXPECT_LT(run.drift_m, 0.02);
    for (std::size_t k = 0; k + 1 < layers.size(); ++k)
      EXPECT_GE(run.layer_time_s[k], cell.layer_time_min_s - 1e-6) << "seed " << seed;
  }
  EXPECT_LT(worst, 1e-6);
  RecordProperty("worst_volume_error_1e9", std::to_string(worst * 1e9));
}

}  // namespace
}  // namespace skewback
