#include "print/clearance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "print/poses.hpp"
#include "print/sample_layers.hpp"
#include "print/tool.hpp"

namespace skewback {
namespace {

Pose pose(const Vec3& tip, const Vec3& axis, int layer, double share, double height) {
  Pose out;
  out.tip = tip;
  out.turn = Eigen::Quaterniond::FromTwoVectors(Vec3::UnitZ(), axis).coeffs().cast<float>();
  out.layer = layer;
  out.share_m = static_cast<float>(share);
  out.height_m = static_cast<float>(height);
  return out;
}

/// A wall along y with its face at x = d, as one bead 0.3 m high; then a tool at the origin that
/// leans towards the wall by `lean`.
std::vector<Pose> beside_a_wall(double d, double lean) {
  const double height = 0.3, share = 0.05, width = share + kRound * height;
  const Vec3 z = Vec3::UnitZ(), axis(std::sin(lean), 0, std::cos(lean));
  const double x = d + width / 2;
  return {pose({x, -0.3, height}, z, 0, share, height), pose({x, 0.3, height}, z, 0, 0, 0),
          pose({0, 0, 0.01}, axis, 1, 0, 0)};
}

/// Only the last pose matters: the way from the wall to it is made to pass far above.
double clearance_at_last(const PrintRequest& cell, std::vector<Pose> poses) {
  const Pose last = poses.back();
  const std::size_t n = poses.size();
  Pose high = poses[n - 2];
  high.tip = last.tip + 5 * Vec3::UnitZ();
  const auto upright = pose({0, 0, 0}, Vec3::UnitZ(), 0, 0, 0).turn;
  Pose above = poses[n - 2];
  above.tip.z() += 5;
  above.turn = high.turn = upright;
  poses.insert(poses.end() - 1, {above, high});
  poses[n - 2].turn = upright;
  return check_clearance(cell, poses).least_m;
}

PrintRequest plain_cylinder() {
  PrintRequest cell;
  cell.nozzle_m = cell.wrist_m = 0.05;
  return cell;
}

TEST(ToolShape, DistancesByHand) {
  PrintRequest cell;  // radii 25 and 120 mm, nozzle 250 mm, shoulder at 400, top at 550
  const ToolShape tool = tool_shape(cell);
  EXPECT_NEAR(tool.distance(0.030, 0.1), 0.005, 1e-12);
  EXPECT_NEAR(tool.distance(0.0, -0.01), 0.010, 1e-12);
  EXPECT_NEAR(tool.distance(0.028, -0.004), 0.005, 1e-12);
  EXPECT_NEAR(tool.distance(0.0, 0.1), -0.025, 1e-12);
  EXPECT_NEAR(tool.distance(0.150, 0.5), 0.030, 1e-12);
  EXPECT_NEAR(tool.distance(0.0, 0.6), 0.050, 1e-12);
  // the cone: 95 mm out over 150 mm up; a point 20 mm square off the middle of its slope
  const double slope = std::hypot(0.095, 0.150);
  EXPECT_NEAR(tool.distance(0.0725 + 0.020 * 0.150 / slope, 0.325 - 0.020 * 0.095 / slope), 0.020,
              1e-12);
  EXPECT_NEAR(tool.distance(0.0725 - 0.020 * 0.150 / slope, 0.325 + 0.020 * 0.095 / slope), -0.020,
              1e-12);
}

TEST(Clearance, LevelStackIsFlushAndFar) {
  const PrintRequest cell = sample::free_cell();
  const PoseRun run = run_poses(cell, sample::ring_stack(0.5, 180, 20, 0.010, 0.045), {});
  const ToolClearance found = check_clearance(cell, run.poses);
  EXPECT_EQ(found.least_m, kClearanceCap);
  EXPECT_EQ(found.against, "");
  EXPECT_EQ(found.layer, -1);
  EXPECT_GT(found.checked, run.poses.size());
}

// Closed form: the wall's top edge from the axis, d cos(lean) - (height over the tip) sin(lean),
// less the tool's radius.
TEST(Clearance, LeaningToolBesideAWall) {
  for (const double lean : {0.0, 0.1, 0.2}) {
    for (const double d : {0.08, 0.12}) {
      const double expected = d * std::cos(lean) - 0.29 * std::sin(lean) - 0.025;
      const double found = clearance_at_last(plain_cylinder(), beside_a_wall(d, lean));
      EXPECT_LE(found, std::min(kClearanceCap, expected) + 1e-6) << lean << " " << d;
      EXPECT_GE(found, std::min(kClearanceCap, expected) - kClearanceSlack - 1e-6)
          << lean << " " << d;
    }
  }
}

// Closed form: an upright tool, the wall's edge 0.29 m over the tip and d from the axis, against
// the cone that begins 0.25 m over the tip with 95 mm out over 150 mm up.
TEST(Clearance, WristBesideAWall) {
  const double d = 0.12, slope = std::hypot(0.095, 0.150);
  const double expected = ((d - 0.025) * 0.150 - (0.29 - 0.25) * 0.095) / slope;
  const double found = clearance_at_last({}, beside_a_wall(d, 0));
  EXPECT_LE(found, expected + 1e-6);
  EXPECT_GE(found, expected - kClearanceSlack - 1e-6);
}

// Closed form: the wrist's lower rim, 0.12 m from the axis and 0.4 m up it, is the lowest of a tool
// that lies over far enough.
TEST(Clearance, TableUnderALeaningTool) {
  PrintRequest cell;
  const double lean = 1.4, z = 0.1;
  const std::vector<Pose> poses = {
      pose({0, 0, z}, Vec3(std::sin(lean), 0, std::cos(lean)), 0, 0, 0)};
  const double expected = z + 0.4 * std::cos(lean) - 0.12 * std::sin(lean);
  const ToolClearance found = check_clearance(cell, poses);
  EXPECT_LE(found.least_m, expected + 1e-6);
  EXPECT_GE(found.least_m, expected - kClearanceSlack - 1e-6);
  EXPECT_EQ(found.against, "the table");
  EXPECT_NEAR(found.at.z(), 0, 1e-3);
  cell.table_length_m = 0.2;  // the rim hangs out over the edge
  EXPECT_GT(check_clearance(cell, poses).least_m, expected + 0.02);
}

// The rim of a tip that leans away from its layer cuts what lies beside it: depth of a level top
// under the rim, nearest to the face, r sin(lean) at the rim; only what is over kFlush counts.
TEST(Clearance, RimThatDigsIn) {
  PrintRequest cell = plain_cylinder();
  const double lean = 0.4;
  const Vec3 z = Vec3::UnitZ(), axis(std::sin(lean), 0, std::cos(lean));
  const std::vector<Pose> poses = {pose({-0.5, 0, 0.05}, z, 0, 0.2, 0.05),
                                   pose({0.5, 0, 0.05}, z, 0, 0, 0),
                                   pose({0, 0, 0.05}, axis, 0, 0, 0)};
  const double found = clearance_at_last(cell, poses);
  // of the level top, the point x from the tip is x sin(lean) over the face and 25 mm - x cos(lean)
  // inside the round: deepest where both are the same
  const double x = 0.025 / (std::sin(lean) + std::cos(lean));
  EXPECT_NEAR(found, -x * std::sin(lean), 2 * kClearanceSlack);
}

TEST(Clearance, OnlyWhatIsAlreadyThereCounts) {
  std::vector<Pose> poses = beside_a_wall(0.03, 0);
  const double before = clearance_at_last(plain_cylinder(), poses);
  EXPECT_NEAR(before, 0.005, 2 * kClearanceSlack);
  const Pose tool = poses.back();
  Pose above = tool;
  above.tip.z() += 5;
  Pose start = poses[0];
  start.share_m = 0;
  start.tip.z() += 5;
  // the tool is there first; the wall comes after, laid from 0.1 m away
  poses = {tool, above, start, poses[0], poses[1]};
  for (Pose& p : poses) p.turn = tool.turn;
  EXPECT_GE(check_clearance(plain_cylinder(), poses).least_m, 0.0999);
}

// Nothing in it depends on how the block lies on the table, and a wider nozzle is never clearer.
TEST(Clearance, SameWhicheverWayTheBlockIsTurned) {
  PrintRequest cell;
  cell.table_length_m = cell.table_width_m = 1e-6;
  for (const double lean : {0.05, 0.15}) {
    std::vector<double> found;
    for (const double turn : {0.0, 0.7, 2.1}) {
      const Mat3 R = Eigen::AngleAxisd(turn, Vec3::UnitZ()).toRotationMatrix();
      std::vector<Pose> poses = beside_a_wall(0.15, lean);
      for (Pose& p : poses) p = pose(R * p.tip, R * axis_of(p), p.layer, p.share_m, p.height_m);
      found.push_back(clearance_at_last(cell, poses));
    }
    EXPECT_NEAR(found[1], found[0], 2 * kClearanceSlack);
    EXPECT_NEAR(found[2], found[0], 2 * kClearanceSlack);
    PrintRequest wider = cell;
    wider.wrist_m += 0.04;
    EXPECT_LT(clearance_at_last(wider, beside_a_wall(0.15, lean)), found[0]);
  }
}

// ---- the same by brute force -------------------------------------------------------------------

/// Outline by crossing number and all its sides; written apart from tool.cpp.
double brute_distance(const PrintRequest& cell, const Vec3& tip, const Vec3& axis, const Vec3& p) {
  const double up = (p - tip).dot(axis), out = ((p - tip) - up * axis).norm();
  const double n = cell.nozzle_m / 2, w = cell.wrist_m / 2, l = cell.nozzle_length_m,
               k = cell.wrist_length_m;
  const double xs[] = {-n, n, n, w, w, -w, -w, -n};
  const double ys[] = {0, 0, l, l + k / 2, l + k, l + k, l + k / 2, l};
  double least = 1e9;
  bool inside = false;
  for (int i = 0; i < 8; ++i) {
    const int j = (i + 1) % 8;
    const double dx = xs[j] - xs[i], dy = ys[j] - ys[i];
    double t = ((out - xs[i]) * dx + (up - ys[i]) * dy) / (dx * dx + dy * dy);
    t = t < 0 ? 0 : t > 1 ? 1 : t;
    least = std::min(least, std::hypot(out - xs[i] - t * dx, up - ys[i] - t * dy));
    if ((ys[i] > up) != (ys[j] > up) && out < xs[i] + (up - ys[i]) / dy * dx) inside = !inside;
  }
  return inside ? -least : least;
}

constexpr double kGrid = 0.004;

/// Points of a bead's box, corners lengthened as the contract says, on a grid that holds its faces.
std::vector<Vec3> bead_points(const std::vector<Pose>& poses, std::size_t i) {
  const Pose &a = poses[i], &b = poses[i + 1];
  const double half = width_m(a) / 2;
  const auto bend = [&](std::size_t c) {
    if (c == 0 || c + 1 >= poses.size()) return half;
    const Vec3 u = (poses[c].tip - poses[c - 1].tip).normalized();
    const Vec3 v = (poses[c + 1].tip - poses[c].tip).normalized();
    const double cosine = u.dot(v);
    return cosine <= 0 ? half : half * std::sqrt((1 - cosine) / (1 + cosine));
  };
  const Vec3 along = (b.tip - a.tip).normalized();
  const Vec3 side = (axis_of(a) + axis_of(b)).cross(along).normalized(), down = side.cross(along);
  const double from = -bend(i), to = (b.tip - a.tip).norm() + bend(i + 1);
  const auto parts = [](double length) { return static_cast<int>(std::ceil(length / kGrid)); };
  const int nl = parts(to - from), nw = parts(2 * half),
            nh = parts(static_cast<double>(a.height_m));
  std::vector<Vec3> out;
  for (int l = 0; l <= nl; ++l)
    for (int w = 0; w <= nw; ++w)
      for (int h = 0; h <= nh; ++h)
        out.push_back(a.tip + (from + (to - from) * l / nl) * along +
                      half * (2.0 * w / nw - 1) * side +
                      static_cast<double>(a.height_m) * h / nh * down);
  return out;
}

constexpr double kBruteStep = 0.005;  // m

/// What the tool moves between two places tried, at its farthest corner, at the most.
double moved_between(const PrintRequest& cell, const std::vector<Pose>& poses) {
  const double far = std::hypot(cell.nozzle_length_m + cell.wrist_length_m, cell.wrist_m / 2);
  double most = 0;
  for (std::size_t i = 0; i + 1 < poses.size(); ++i) {
    const double length = (poses[i + 1].tip - poses[i].tip).norm();
    const double turn = std::acos(std::min(1.0, axis_of(poses[i]).dot(axis_of(poses[i + 1]))));
    const double parts = std::max(1.0, std::ceil(length / kBruteStep - 1e-9));
    most = std::max(most, length / parts + 1.01 * far * turn / parts);
  }
  return most;
}

/// With what counts from kFlush over the face, and with what counts from a little less.
struct Brute {
  double least_m = kClearanceCap, strict_m = kClearanceCap;
};

Brute brute_clearance(const PrintRequest& cell, const std::vector<Pose>& poses) {
  Brute least;
  std::vector<Vec3> printed;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const bool last = i + 1 == poses.size();
    const double length = last ? 0 : (poses[i + 1].tip - poses[i].tip).norm();
    const int parts = last ? 1 : static_cast<int>(std::ceil(length / kBruteStep - 1e-9));
    for (int j = 0; j < std::max(1, parts); ++j) {
      const double t = static_cast<double>(j) / std::max(1, parts);
      const Vec3 tip = last ? poses[i].tip : Vec3((1 - t) * poses[i].tip + t * poses[i + 1].tip);
      const Vec3 axis =
          last ? axis_of(poses[i])
               : ((1 - t) * axis_of(poses[i]) + t * axis_of(poses[i + 1])).normalized();
      for (const Vec3& p : printed) {
        const double over = (p - tip).dot(axis);
        if (over <= kFlush - 5e-4 || (p - tip).cross(axis).norm() >= 0.3)
          continue;  // 0.14 is reached
        const double d = brute_distance(cell, tip, axis, p);
        least.strict_m = std::min(least.strict_m, d);
        if (over > kFlush) least.least_m = std::min(least.least_m, d);
      }
    }
    if (!last && poses[i].share_m > 0)
      for (const Vec3& p : bead_points(poses, i)) printed.push_back(p);
  }
  return least;
}

// A tool that swings about its tip from one lean to the other, both clear of a shelf over it: about
// half-way the rim of its top is highest. Closed form: the shelf less the rim's distance from the
// tip.
TEST(Clearance, SwingBetweenTwoPosesCounts) {
  const PrintRequest cell = plain_cylinder();
  const double top = cell.nozzle_length_m + cell.wrist_length_m, gap = 0.03, lean = 0.5;
  const Vec3 z = Vec3::UnitZ();
  const auto leaning = [&](double by) { return Vec3(0, std::sin(by), std::cos(by)); };
  std::vector<Pose> poses = {pose({-0.3, 0, top + gap + 0.05}, z, 0, 0.5, 0.05),
                             pose({0.3, 0, top + gap + 0.05}, z, 0, 0, 0),
                             pose({0.3, 0, 5}, z, 1, 0, 0),
                             pose({0, 2, 5}, z, 1, 0, 0),
                             pose({0, 2, 0}, leaning(lean), 1, 0, 0),
                             pose({0, 0, 0}, leaning(lean), 1, 0, 0),
                             pose({0, 0, 0}, leaning(-lean), 1, 0, 0)};
  PrintRequest no_table = cell;
  no_table.table_length_m = no_table.table_width_m = 1e-6;
  for (Pose& p : poses) p.tip.z() += 0.2;
  const double expected = top + gap - std::hypot(top, cell.wrist_m / 2);
  const double found = check_clearance(no_table, poses).least_m;
  EXPECT_LE(found, expected + 1e-6);
  EXPECT_GE(found, expected - kClearanceSlack - 1e-6);
}

// Random walks of a leaning tool; the grid can miss the least by half its diagonal.
TEST(Clearance, AgreesWithBruteForce) {
  const double grid = kGrid * std::sqrt(3.0) / 2;
  int cuts = 0, clear = 0, capped = 0;
  double worst = 0;
  for (unsigned seed = 1; seed <= 30; ++seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    PrintRequest cell;
    cell.nozzle_m = 0.02 + 0.05 * unit(random);
    cell.nozzle_length_m = 0.05 + 0.2 * unit(random);
    cell.wrist_m = cell.nozzle_m + 0.2 * unit(random);
    cell.table_length_m = cell.table_width_m = 1e-6;  // the beads only
    // a wall, then a walk past it that rises (two scenes of three) or goes
    // up and down
    const bool rises = seed % 3 != 0;
    const double lean = rises ? 0.05 * unit(random) : 0.5 * unit(random);
    const double x = -0.05 - 0.25 * unit(random), z = 0.55 + 0.2 * unit(random);
    const Vec3 up(0, 0, 1);
    std::vector<Pose> poses = {pose({x, -0.1, z}, up, 0, 0.01, z - 0.5),
                               pose({x, 0.1, z}, up, 0, 0, 0), pose({x, 0.1, z + 1}, up, 0, 0, 0),
                               pose({0, 0, z + 1}, up, 0, 0, 0)};
    Vec3 tip(0, 0, 0.5);
    double heading = 0;
    for (int i = 0; i < 40; ++i) {
      const Vec3 axis(lean * std::sin(0.3 * i), lean * std::cos(0.2 * i), 1);
      const bool lays = i % 11 < 9;
      poses.push_back(pose(tip, axis.normalized(), i / 10, lays ? 0.02 + 0.03 * unit(random) : 0,
                           lays ? 0.006 + 0.006 * unit(random) : 0));
      heading += 1.5 * (unit(random) - 0.4);
      const double step = 0.01 + 0.04 * unit(random), climb = 0.0004 * unit(random);
      tip += step * Vec3(std::cos(heading), std::sin(heading), 0) +
             (rises ? climb : 20 * climb - 0.004) * Vec3::UnitZ();
    }
    const auto [brute, strict] = brute_clearance(cell, poses);
    const ToolClearance found = check_clearance(cell, poses);
    EXPECT_LE(found.least_m, brute + 1e-6) << "seed " << seed;
    EXPECT_GE(found.least_m,
              strict - kClearanceSlack - grid - moved_between(cell, poses) / 2 - 1e-6)
        << "seed " << seed;
    worst = std::max(worst, brute - found.least_m);
    (brute >= kClearanceCap ? capped : brute < 0 ? cuts : clear) += 1;
  }
  EXPECT_GT(cuts, 5);
  EXPECT_GT(clear, 5);
  EXPECT_GT(capped, 0);
  RecordProperty("worst_difference_m", std::to_string(worst));
}

}  // namespace
}  // namespace skewback
