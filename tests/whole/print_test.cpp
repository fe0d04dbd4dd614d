// What a printing cell asks of the whole chain, on the main demo and with other ways of cutting.
#include <gtest/gtest.h>

#include <filesystem>

#include "base/constants.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

Brief wren_leat() {
  return read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/wren-leat/brief.toml")
      .value();
}

Dossier run(const Brief& brief, const std::string& until) {
  WorksOptions options;
  options.until = until;
  options.depth = false;
  Result<Dossier> dossier = run_works(brief, options, {});
  EXPECT_TRUE(dossier.ok()) << describe(dossier.faults().front());
  return std::move(dossier).value();
}

// A block that is called printable has no point out of the limits of its cell.
TEST(PrintDemo, NoPointIsOutOfLimits) {
  const Brief brief = wren_leat();
  const PrintRequest& cell = brief.print;
  const Dossier dossier = run(brief, "print");
  int printable = 0;
  for (const BlockPrint& block : dossier.print->blocks) {
    if (!block.printable) continue;
    ++printable;
    double laid = 0;
    for (std::size_t i = 0; i < block.poses.size(); ++i) {
      const Pose& pose = block.poses[i];
      if (pose.share_m <= 0) continue;
      laid += section_m2(pose) * (block.poses[i + 1].tip - pose.tip).norm();
      ASSERT_LE(std::abs(pose.overhang_rad), cell.overhang_max_rad + 1e-6) << block.id;
      ASSERT_LE(pose.height_m, cell.layer_max_m + 1e-6) << block.id;
      ASSERT_LE(pose.share_m, cell.bead_max_m + 1e-6) << block.id;
      ASSERT_GE(pose.share_m, cell.bead_min_m - 1e-6) << block.id;
      ASSERT_GE(pose.speed_m_s, cell.speed_min_m_s - 1e-6) << block.id;
      ASSERT_LE(pose.speed_m_s, cell.speed_max_m_s + 1e-6) << block.id;
      const Eigen::Quaternionf turn(pose.turn[3], pose.turn[0], pose.turn[1], pose.turn[2]);
      const Vec3 axis = (turn * Eigen::Vector3f::UnitZ()).cast<double>();
      ASSERT_GE(axis.z(), std::cos(cell.tilt_max_rad) - 1e-6) << block.id;
      const Vec3 wrist = pose.tip + (cell.nozzle_length_m + cell.wrist_length_m) * axis;
      ASSERT_LE((wrist - cell.robot).norm(), cell.reach_max_m + 1e-4) << block.id;
    }
    const double whole_m3 = block.solid_m3 + block.ground_m3;
    EXPECT_NEAR(laid, whole_m3, 0.01 * whole_m3) << block.id;
  }
  EXPECT_GT(printable, 30);

  double cast_m3 = 0;
  for (const BlockPrint& block : dossier.print->blocks)
    if (block.way == PrintWay::kCast) cast_m3 += block.solid_m3;
  ASSERT_GT(cast_m3, 0);
  ASSERT_TRUE(dossier.quantities);
  double counted_m3 = 0;
  for (const QuantityLine& line : dossier.quantities->lines)
    if (line.what == "concrete of blocks that are cast") counted_m3 += line.amount;
  EXPECT_NEAR(counted_m3, cast_m3, 1e-9);
  EXPECT_LE(dossier.print->normal_to_thrust_median_rad, 10 * kPi / 180);
}

TEST(PrintDemo, KeyDividedAtItsRidges) {
  Brief brief = wren_leat();
  brief.print.otherwise = {"divide", "cast"};
  const Dossier dossier = run(brief, "stand");
  EXPECT_LE(dossier.cut->report.volume_error_rel, 1e-7);
  EXPECT_TRUE(dossier.cut->report.watertight);
  for (const Block& block : dossier.cut->assembly.blocks) EXPECT_NE(block.id, "key");
  for (const CaseProof& proof : dossier.proofs)
    EXPECT_EQ(proof.verdict, Verdict::kStands) << proof.id;
}

TEST(PrintDemo, WebsThatLeanToAndFro) {
  Brief brief = wren_leat();
  brief.section.webs = "warren";
  const Dossier dossier = run(brief, "cut");
  EXPECT_LE(dossier.cut->report.volume_error_rel, 1e-9);
  EXPECT_GE(dossier.cut->report.leaf_least_m, brief.section.leaf_m - 1e-6);
  // in the first bed the tubes are narrow above and below by turns
  int wide_below = 0, wide_above = 0;
  const Joint& bed = dossier.cut->assembly.joints.at(0);
  for (const Polygon& hole : bed.contact.at(0).holes) {
    double low = 1e9, high = -1e9;
    for (const Vec2& p : hole) low = std::min(low, p.y()), high = std::max(high, p.y());
    double below[2] = {1e9, -1e9}, above[2] = {1e9, -1e9};
    for (const Vec2& p : hole) {
      double* side = p.y() < (low + high) / 2 ? below : above;
      side[0] = std::min(side[0], p.x()), side[1] = std::max(side[1], p.x());
    }
    const double difference = (below[1] - below[0]) - (above[1] - above[0]);
    wide_below += difference > 0.05 ? 1 : 0;
    wide_above += difference < -0.05 ? 1 : 0;
  }
  EXPECT_GE(wide_below, 3);
  EXPECT_GE(wide_above, 3);
}

}  // namespace
}  // namespace skewback
