#include "survey/as_made.hpp"

#include <gtest/gtest.h>

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "assembly/sample_tripod.hpp"
#include "base/constants.hpp"
#include "survey/beds.hpp"
#include "survey/marks.hpp"

namespace skewback {
namespace {

struct Draw {
  std::mt19937_64 rng;
  double within(double half) { return std::uniform_real_distribution<double>(-half, half)(rng); }
  Rigid move() {
    return {Eigen::AngleAxisd(within(3), Vec3(within(1), within(1), within(1)).normalized())
                .toRotationMatrix(),
            Vec3(within(50), within(50), within(50))};
  }
};

Assembly sample_with_pads() {
  sample::Tripod t;
  t.pad = 0.008;
  return sample::tripod_assembly(t);
}

int index_of(const Assembly& assembly, const std::string& id) {
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i)
    if (assembly.blocks[i].id == id) return i;
  return -1;
}

/// What is wrong with one bed: along the joint frame's z.
struct Wrong {
  BedError error;
  double middle_m = 0;  // of its middle off the plane
};

/// Marks of a block's beds as they would be measured, wherever the block lies.
PointFile measured(const Assembly& assembly, const std::string& id, const std::vector<Wrong>& wrong,
                   const Rigid& X) {
  PointFile file;
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, id));
  for (std::size_t b = 0; b < beds.size(); ++b) {
    const auto places = bed_places(beds[b]);
    for (int k = 0; k < 5; ++k) {
      const BedError& e = wrong[b].error;
      const double off =
          e.height_m + e.slope.dot(places[k]) + (k < 4 ? e.corner_m[k] : wrong[b].middle_m);
      const Vec3 at = beds[b].on(places[k]) + off * beds[b].frame.z;
      file.points.push_back({id + " " + beds[b].name + " " + std::to_string(k + 1), X(at), 0.0005,
                             static_cast<int>(file.points.size()) + 2});
    }
  }
  return file;
}

struct Found {
  AsMade made;
  MeasuredBlocks blocks;
};
Found measure(const Assembly& assembly, const PointFile& file) {
  Found out{as_drawn(assembly, 3), {}};
  out.blocks = measure_blocks(assembly, file, 3, out.made);
  return out;
}

const BedError& error_of(const Assembly& assembly, const AsMade& made, int joint, int block) {
  return assembly.joints[joint].a == block ? made.on_a[joint] : made.on_b[joint];
}

TEST(AsDrawn, IsAllZeroAndOfTheRightSizes) {
  const Assembly assembly = sample_with_pads();
  const AsMade made = as_drawn(assembly, 3);
  EXPECT_EQ(made.supports.size(), 3U);
  EXPECT_EQ(made.on_a.size(), assembly.joints.size());
  EXPECT_EQ(made.on_b.size(), assembly.joints.size());
  EXPECT_EQ(made.pad_m, std::vector<double>(assembly.joints.size(), 0));
  EXPECT_EQ(made.timber_m, std::vector<double>(assembly.blocks.size(), 0));
}

TEST(MeasureBlocks, AsDrawnWhereverItLies) {
  const Assembly assembly = sample_with_pads();
  Draw draw{std::mt19937_64(1)};
  const Found found = measure(assembly, measured(assembly, "A2", {{}, {}}, draw.move()));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  EXPECT_TRUE(found.blocks.remarks.empty());
  EXPECT_EQ(found.blocks.blocks[0].finding, "as drawn, to half a millimetre");
  for (const BedError& e : found.made.on_b) EXPECT_NEAR(e.height_m, 0, 1e-9);
}

// A far bed 3 mm out of the block, along its own normal: the chord between the middles of the beds,
// 22.5 degrees apart, is 11.25 degrees off it. The rigid fit moves by half of that, and turns by
// sum r x d / sum r^2 over the marks: five on each bed, at half the chord from the middle, four of
// them 0.28 m up or down the bed. By hand:
TEST(MeasureBlocks, TooLong) {
  const Assembly assembly = sample_with_pads();
  const int block = index_of(assembly, "B3");
  const std::vector<Bed> beds = beds_of(assembly, block);
  ASSERT_EQ(beds.size(), 2U);
  std::vector<Wrong> wrong(2);
  wrong[1].error.height_m = -beds[1].side * 0.003;  // out of the block
  Draw draw{std::mt19937_64(2)};
  const Found found = measure(assembly, measured(assembly, "B3", wrong, draw.move()));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  const double apart = kPi / 8;
  EXPECT_NEAR(found.blocks.blocks[0].length_m, 0.003 * std::cos(apart / 2), 1e-6);
  EXPECT_NE(found.blocks.blocks[0].finding.find("2.9 mm too long"), std::string::npos)
      << found.blocks.blocks[0].finding;
  const double half_chord = 3 * std::sin(apart / 2), across = 0.003 * std::sin(apart / 2);
  const double turn = 5 * half_chord * across / (10 * half_chord * half_chord + 8 * 0.28 * 0.28);
  const double back = turn * half_chord * std::sin(apart / 2);
  for (const Bed& bed : beds) {
    const BedError& e = error_of(assembly, found.made, bed.joints[0], block);
    const double out = bed.name == "far" ? 0.0015 - back : 0.0015 * std::cos(apart) + back;
    EXPECT_NEAR(-bed.side * e.height_m, out, 1e-6);
  }
}

// 0.2 degrees on the far bed, its upper edge out: longer at the back.
TEST(MeasureBlocks, OutOfAngle) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "A3"));
  std::vector<Wrong> wrong(2);
  wrong[1].error.slope.y() = -beds[1].side * 0.2 * kPi / 180;
  Draw draw{std::mt19937_64(3)};
  const Found found = measure(assembly, measured(assembly, "A3", wrong, draw.move()));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  // The far bed's upper edge is the back's: at A3 the frame's y leans towards it.
  EXPECT_NEAR(found.blocks.blocks[0].wedge_rad, 0.2 * kPi / 180, 1e-5);
  EXPECT_NE(
      found.blocks.blocks[0].finding.find("0.20 degrees out of their angle (longer at the back)"),
      std::string::npos)
      << found.blocks.blocks[0].finding;
}

// By hand: the far bed turned as it is by a milliradian, about the flow and about the upright that
// is square to it, right-handed. Where the block lies changes nothing.
TEST(MeasureBlocks, FarBedTwistedOrOutOfSquare) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "B3"));
  const Vec3 middle = beds[1].on(beds[1].middle);
  const Vec3 flow = (middle - beds[0].on(beds[0].middle)).normalized();
  const Vec3 upright = (Vec3::UnitZ() - flow.z() * flow).normalized();
  Draw draw{std::mt19937_64(5)};
  for (const auto& [axis, twist] : {std::pair(flow, true), std::pair(upright, false)}) {
    PointFile file = measured(assembly, "B3", {{}, {}}, {});
    const Rigid X = draw.move();
    for (std::size_t i = 0; i < file.points.size(); ++i) {
      Vec3& p = file.points[i].at;
      if (i >= 5) p += 1e-3 * axis.cross(p - middle);
      p = X(p);
    }
    const Found found = measure(assembly, file);
    ASSERT_EQ(found.blocks.blocks.size(), 1U);
    const MeasuredBlock& block = found.blocks.blocks[0];
    EXPECT_NEAR(block.twist_rad, twist ? 1e-3 : 0, 1e-5);
    EXPECT_NEAR(block.skew_rad, twist ? 0 : 1e-3, 1e-5);
    EXPECT_NEAR(block.wedge_rad, 0, 1e-5);
    EXPECT_NEAR(block.length_m, 0, 1e-6);
  }
}

// By hand: three beds 1 mm out, 120 degrees apart, move the fit nowhere: 2 mm from bed to bed; and
// all three 2 mm a metre further out at the top: longer at the back.
TEST(MeasureBlocks, KeyTooLargeAllRound) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "key"));
  ASSERT_EQ(beds.size(), 3U);
  std::vector<Wrong> wrong(3);
  for (std::size_t b = 0; b < 3; ++b) {
    ASSERT_NEAR(beds[b].frame.y.z(), 1, 1e-9);  // up
    wrong[b].error.height_m = -beds[b].side * 0.001;
    wrong[b].error.slope.y() = -beds[b].side * 0.002;
  }
  Draw draw{std::mt19937_64(6)};
  const Found found = measure(assembly, measured(assembly, "key", wrong, draw.move()));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  EXPECT_NEAR(found.blocks.blocks[0].length_m, 0.002, 1e-6);
  EXPECT_NEAR(found.blocks.blocks[0].wedge_rad, 0.002, 1e-6);
}

TEST(MeasureBlocks, ProudInItsMiddle) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "A1"));
  std::vector<Wrong> wrong(2);
  wrong[0].middle_m = -beds[0].side * 0.002;
  const Found found = measure(assembly, measured(assembly, "A1", wrong, {}));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  EXPECT_NEAR(found.blocks.blocks[0].bow_m, 0.002, 1e-5);
  EXPECT_NEAR(found.blocks.blocks[0].length_m, 0, 1e-4);
}

// Random heights, slopes and corners on every bed of arm blocks and the key, measured anywhere:
// what comes back differs from what was put in by one small rigid movement of the block alone, to
// second order in the errors (1e-3 m, 1e-3 rad), and what no such movement changes comes back as
// it is.
TEST(MeasureBlocks, GivesBackWhatWasPutIn) {
  const Assembly assembly = sample_with_pads();
  Draw draw{std::mt19937_64(4)};
  for (int round = 0; round < 120; ++round) {
    const std::string id = std::vector<std::string>{"A1", "B2", "C3", "A4", "key"}[round % 5];
    const int block = index_of(assembly, id);
    const std::vector<Bed> beds = beds_of(assembly, block);
    std::vector<Wrong> wrong(beds.size());
    for (Wrong& w : wrong) {
      const double twist = draw.within(5e-4);
      w.error.height_m = draw.within(1e-3);
      w.error.slope = {draw.within(1e-3), draw.within(1e-3)};
      // the one pattern of four corners of a rectangle that no plane takes up
      w.error.corner_m = {twist, -twist, twist, -twist};
    }
    const Found found = measure(assembly, measured(assembly, id, wrong, draw.move()));
    ASSERT_EQ(found.blocks.blocks.size(), 1U) << id;
    std::vector<Eigen::Matrix<double, 1, 6>> rows;
    std::vector<double> differences;
    for (std::size_t b = 0; b < beds.size(); ++b) {
      const BedError& e = error_of(assembly, found.made, beds[b].joints[0], block);
      for (int k = 0; k < 4; ++k)
        EXPECT_NEAR(e.corner_m[k], wrong[b].error.corner_m[k], 5e-6) << id;
      for (const Vec2& p : {Vec2(-0.3, -0.5), Vec2(0.3, -0.5), Vec2(0.3, 0.5)}) {
        const Vec3 at = beds[b].frame.to_world(p), n = beds[b].frame.z;
        Eigen::Matrix<double, 1, 6> row;
        row << n.transpose(), at.cross(n).transpose();
        rows.push_back(row);
        differences.push_back(e.height_m + e.slope.dot(p) - wrong[b].error.height_m -
                              wrong[b].error.slope.dot(p));
      }
    }
    Eigen::MatrixXd A(rows.size(), 6);
    Eigen::VectorXd d(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
      A.row(static_cast<long>(i)) = rows[i];
      d[static_cast<long>(i)] = differences[i];
    }
    const Eigen::VectorXd rest = d - A * A.completeOrthogonalDecomposition().solve(d);
    EXPECT_LT(rest.cwiseAbs().maxCoeff(), 5e-6) << id << " round " << round;
    EXPECT_GT(d.norm(), 1e-5);  // or there was nothing to take out
  }
}

TEST(MeasureBlocks, ASlipIsNamedAndLeftOut) {
  const Assembly assembly = sample_with_pads();
  PointFile file = measured(assembly, "A2", {{}, {}}, {});
  file.points[6].at.x() += 0.2;
  const Found found = measure(assembly, file);
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  EXPECT_NE(found.blocks.blocks[0].finding.find("A2 far 2 is 200 mm off"), std::string::npos)
      << found.blocks.blocks[0].finding;
  EXPECT_NEAR(found.blocks.blocks[0].length_m, 0, 1e-9);
}

TEST(MeasureBlocks, WhatCannotBeUsedIsRemarked) {
  const Assembly assembly = sample_with_pads();
  PointFile near_alone = measured(assembly, "A2", {{}, {}}, {});
  near_alone.points.resize(7);
  Found found = measure(assembly, near_alone);
  EXPECT_TRUE(found.blocks.blocks.empty());
  ASSERT_EQ(found.blocks.remarks.size(), 1U);
  EXPECT_NE(found.blocks.remarks[0].find("bed far"), std::string::npos) << found.blocks.remarks[0];

  for (const BedError& e : found.made.on_a) EXPECT_EQ(e.height_m, 0);
  EXPECT_TRUE(found.blocks.wrong.empty());
}

/// What is said to be wrong with the points of A2 in a file "points.csv".
Fault refused(PointFile file) {
  const Assembly assembly = sample_with_pads();
  file.file = "points.csv";
  const Found found = measure(assembly, file);
  EXPECT_TRUE(found.blocks.blocks.empty());
  EXPECT_TRUE(found.blocks.remarks.empty());
  EXPECT_EQ(found.blocks.wrong.size(), 1U);
  if (found.blocks.wrong.empty()) return {};
  EXPECT_EQ(found.blocks.wrong[0].file, "points.csv");
  EXPECT_EQ(found.blocks.wrong[0].key, "survey: block A2");
  return found.blocks.wrong[0];
}

TEST(MeasureBlocks, WhatIsPlainlyWrongIsRefused) {
  const Assembly assembly = sample_with_pads();
  PointFile feet = measured(assembly, "A2", {{}, {}}, {});
  for (MeasuredPoint& p : feet.points) p.at /= 0.3048;
  EXPECT_NE(refused(feet).found.find("feet"), std::string::npos);

  PointFile swapped = measured(assembly, "A2", {{}, {}}, {});
  std::swap(swapped.points[1].at, swapped.points[7].at);
  const Fault two = refused(swapped);
  EXPECT_NE(two.found.find("A2 near 2 and A2 far 3 look swapped"), std::string::npos) << two.found;
  EXPECT_TRUE(two.line == 3 || two.line == 9) << two.line;  // theirs: the header is line 1
}

// Each of them with a far bed 3 mm out of the block besides: that hides no name.
TEST(MeasureBlocks, NamesOfBedsAndCornersExchangedAreRefused) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "A2"));
  std::vector<Wrong> wrong(2);
  wrong[1].error.height_m = -beds[1].side * 0.003;
  Draw draw{std::mt19937_64(7)};
  const PointFile right = measured(assembly, "A2", wrong, draw.move());
  ASSERT_EQ(measure(assembly, right).blocks.blocks.size(), 1U);

  PointFile ends = right;  // 0 to 4 are the near bed's, 5 to 9 the far bed's
  for (std::size_t k = 0; k < 5; ++k) std::swap(ends.points[k].at, ends.points[k + 5].at);
  EXPECT_NE(refused(ends).found.find("the names of the beds near and far look exchanged"),
            std::string::npos);

  PointFile round = right;  // 1 was called 2, 2 was called 3, 3 was called 4, 4 was called 1
  for (std::size_t k = 0; k < 4; ++k) round.points[5 + (k + 1) % 4].at = right.points[5 + k].at;
  const Fault far = refused(round);
  EXPECT_NE(far.found.find("on the bed far what is named 1, 2, 3 and 4 lies at 4, 1, 2 and 3"),
            std::string::npos)
      << far.found;
  EXPECT_GE(far.line, 2);
}

// By hand: a warp of 1 mm at corners 1 and 3 out of the block, at 2 and 4 into it, is of no plane.
TEST(MeasureBlocks, AWarpedBedIsNamed) {
  const Assembly assembly = sample_with_pads();
  const std::vector<Bed> beds = beds_of(assembly, index_of(assembly, "A2"));
  std::vector<Wrong> wrong(2);
  const double out = -beds[1].side * 0.001;
  wrong[1].error.corner_m = {out, -out, out, -out};
  const Found found = measure(assembly, measured(assembly, "A2", wrong, {}));
  ASSERT_EQ(found.blocks.blocks.size(), 1U);
  EXPECT_NEAR(found.blocks.blocks[0].warp_m, 0.001, 1e-5);
  EXPECT_EQ(found.blocks.blocks[0].finding,
            "bed far warped, its corners up to 1.0 mm off a plane (1 and 3 proud)");
}

}  // namespace
}  // namespace skewback
