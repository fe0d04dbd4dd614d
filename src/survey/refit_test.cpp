#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_refit.hpp"
#include "survey/survey.hpp"

namespace skewback {
namespace {

using sample::arch_case;
using sample::Case;
using sample::input;
using sample::refit_with;
using sample::shift;
using sample::surveyed;

const RemedyTrial* chosen(const Refit& found) {
  const auto it = std::ranges::find_if(found.trials, &RemedyTrial::chosen);
  return it == found.trials.end() ? nullptr : &*it;
}

TEST(Refit, ExactFootingsLeaveTheBridgeAsDesigned) {
  Case c = arch_case();
  const Refit found = refit_with(c, "", {});
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_FALSE(found.shifted);
  EXPECT_EQ(found.packers, 0);
  EXPECT_TRUE(found.misfits.empty());
  EXPECT_TRUE(found.measure_again.empty());
  EXPECT_NEAR(found.whole.rms_m, 0, 1e-12);
  ASSERT_EQ(found.trials.size(), 1u);  // nothing to shift
  const auto before = prove_all(c.assembly);
  ASSERT_TRUE(found.load_factor_after && before[1].load_factor);
  EXPECT_NEAR(*found.load_factor_after, *before[1].load_factor, 1e-4 * *before[1].load_factor);
}

// Twice the load may grow half as far (the program is linear in it): that case governs.
TEST(Refit, LoadFactorAfterIsTheLeastOfAllCases) {
  Case c = arch_case();
  LoadCase twice = c.assembly.cases.back();
  twice.id = "twice";
  twice.live[0].force *= 2;
  c.assembly.cases.insert(c.assembly.cases.begin() + 1, twice);
  const Refit found = refit_with(c, "", {});
  ASSERT_EQ(found.proofs.size(), 3u);
  ASSERT_TRUE(found.load_factor_after && found.proofs[2].load_factor);
  EXPECT_LT(*found.proofs[2].load_factor, 19);  // no cap on it
  EXPECT_NEAR(*found.load_factor_after, *found.proofs[2].load_factor / 2,
              1e-4 * *found.load_factor_after);
  EXPECT_EQ(found.table.back().governing, "twice");
}

// The whole bridge somewhere else, turned about the vertical, is the same bridge.
TEST(Refit, AnotherDatumChangesNothing) {
  Case c = arch_case();
  const Rigid far{Eigen::AngleAxisd(0.7, Vec3::UnitZ()).toRotationMatrix(), {120, -35, 8}};
  const Refit found = refit_with(c, "", far);
  EXPECT_NE(found.finding.find("within 0.5 mm"), std::string::npos) << found.finding;
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_FALSE(found.shifted);
  EXPECT_NEAR((found.datum(Vec3(1, 2, 3)) - far(Vec3(1, 2, 3))).norm(), 0, 1e-9);
  ASSERT_FALSE(found.remarks.empty());
  EXPECT_NE(found.remarks[0].find("120.000, -35.000, 8.000 m off the bridge's axes"),
            std::string::npos)
      << found.remarks[0];
  EXPECT_NE(found.remarks[0].find("turned by 40.107 degrees"), std::string::npos)
      << found.remarks[0];
  const auto before = prove_all(c.assembly);
  ASSERT_TRUE(found.load_factor_after && before[1].load_factor);
  EXPECT_NEAR(*found.load_factor_after, *before[1].load_factor, 1e-4 * *before[1].load_factor);
}

// Footings both 12 mm off the same way: the bridge shifted by as much needs no packers, where
// steps and gaps on the drawn axes do.
TEST(Refit, CommonErrorIsTakenOutByShiftingTheBridge) {
  Case c = arch_case();
  const Refit found = refit_with(c, "", shift({0.004, 0.003, -0.012}));
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_EQ(found.packers, 0);
  // drawn blocks laid from footings that moved alike close by themselves: the first trial does
  ASSERT_NE(chosen(found), nullptr);
  EXPECT_EQ(chosen(found)->name, "no packers");
  EXPECT_NE(found.finding.find("footing west is 12 mm low"), std::string::npos) << found.finding;
}

// The east footing 20 mm out and joints that may hardly step.
TEST(Refit, SpreadIsPacked) {
  Case c = arch_case(0.008);
  c.brief.packing.step_m = 0.0005;
  const Refit found = refit_with(c, "east", shift({0.020, 0, 0}));
  ASSERT_TRUE(found.key_goes_in) << found.finding;
  EXPECT_GT(found.packers, 0);
  EXPECT_EQ(found.packers, static_cast<int>(found.packed.packers.size()));
  EXPECT_NE(found.finding.find("footing east is 20 mm outward"), std::string::npos)
      << found.finding;
  ASSERT_EQ(found.proofs.size(), 2u);
  EXPECT_EQ(found.proofs[0].verdict, Verdict::kStands);
  for (const Block& block : found.as_built.blocks) EXPECT_TRUE(closed(block.solid)) << block.id;
  ASSERT_EQ(found.table.size(), 3u);  // no proofs as drawn were given
  EXPECT_EQ(found.table[1].what, "as packed");
  EXPECT_EQ(found.table[1].load_factor, found.load_factor_after);
  EXPECT_EQ(found.table[2].what, "as packed, its gaps closing");
  ASSERT_EQ(found.as_built.joints.size(), c.assembly.joints.size());
  // Packers lie on the bed, at the edge they are said to lie at: 0.3 m from the middle of the ring,
  // and on the level beds of the springings half the width.
  int told = 0;
  for (const JointMisfit& misfit : found.misfits) {
    const Frame& frame = c.assembly.joints[static_cast<std::size_t>(misfit.joint)].frame;
    const double edge = std::abs(frame.z.z()) > 0.99 ? 0.5 : 0.3;
    std::size_t k = 0;
    for (const Packer& packer : found.packed.packers) {
      if (packer.joint != misfit.joint) continue;
      const Vec3 at = frame.to_local(misfit.packers.at(k++).first);
      EXPECT_LT((at - Vec3(packer.along_m, packer.upper ? edge : -edge, 0)).norm(), 1e-9);
      ++told;
    }
  }
  EXPECT_EQ(told, found.packers);
  // Bears on no more than it was drawn with, nowhere on nothing.
  for (std::size_t j = 0; j < c.assembly.joints.size(); ++j) {
    EXPECT_LE(area(found.as_built.joints[j].contact), area(c.assembly.joints[j].contact));
    EXPECT_GT(area(found.as_built.joints[j].contact), 0.9 * 0.15 * 0.10);
  }
}

// By hand: the fit of all marks shares an error of one of two footings, 12 mm low, by halves:
// 6 mm at each middle.
TEST(Refit, WholeFitSharesTheError) {
  Case c = arch_case();
  const Refit found = refit_with(c, "east", shift({0, 0, -0.012}));
  ASSERT_EQ(found.footings.size(), 2u);
  EXPECT_NEAR((found.footings[1].X(Vec3(3, 0, 0)) - Vec3(3, 0, -0.012)).norm(), 0, 1e-9);
  EXPECT_NEAR((found.footings[0].X(Vec3(-3, 0, 0)) - Vec3(-3, 0, 0)).norm(), 0, 1e-9);
  const Vec3 middle = found.whole.X(Vec3(0, 0, 0));
  EXPECT_NEAR(middle.z(), -0.006, 1e-5);
}

TEST(Refit, FootingsTooNearLeaveNoRoomForTheKey) {
  Case dry = arch_case();
  dry.brief.packing.step_m = dry.brief.packing.squeeze_m = 0.0002;
  dry.brief.packing.most_m = 0.001;
  const Refit tight = refit_with(dry, "east", shift({-0.045, 0, 0}));
  EXPECT_FALSE(tight.key_goes_in) << tight.finding;
  EXPECT_NE(tight.finding.find("does not go in"), std::string::npos) << tight.finding;
  EXPECT_FALSE(tight.packed.reason.empty());
  EXPECT_TRUE(tight.proofs.empty());  // what cannot be built is not proved
  EXPECT_FALSE(tight.load_factor_after.has_value());
  EXPECT_EQ(tight.table.back().verdict.rfind("not built", 0), 0u) << tight.table.back().verdict;
  ASSERT_NE(chosen(tight), nullptr);
}

// Packers of 1 mm at most do not fill a spread of 40 mm: springers are made anew.
TEST(Refit, NewSpringerWherePackersDoNotDo) {
  Case c = arch_case();
  c.brief.packing.most_m = 0.001;
  c.brief.packing.step_m = 0.0005;
  const Refit found = refit_with(c, "east", shift({0.040, 0, 0}));
  ASSERT_NE(chosen(found), nullptr);
  ASSERT_TRUE(found.key_goes_in) << found.finding;
  ASSERT_FALSE(found.packed.springers.empty()) << found.finding;
  EXPECT_NE(found.finding.find("a new springer at"), std::string::npos) << found.finding;
  double drawn = 0, now = 0;
  for (std::size_t i = 0; i < c.assembly.blocks.size(); ++i) {
    drawn += c.assembly.blocks[i].mass.volume;
    now += found.as_built.blocks[i].mass.volume;
  }
  // 40 mm of spread between level beds turns the springers' beds, about their middle: what it adds
  // on one side it takes from the other, and both are triangles within the bed's move
  double moved = 0;
  for (const BedError& bed : found.packed.springer)
    moved = std::max(moved, std::abs(bed.height_m) + bed.slope.norm());
  EXPECT_GT(moved, 1e-3);
  EXPECT_LT(std::abs(now - drawn), moved * drawn);
  EXPECT_TRUE(std::ranges::any_of(found.measure_again, [](const std::string& text) {
    return text.find("springer") != std::string::npos;
  }));
}

TEST(Refit, TripodWithOneFootingOut) {
  const sample::Tripod tripod{.pad = 0.008};
  Case c{sample::tripod_assembly(tripod),
         sample::tripod_brief(tripod.core + tripod.radius, tripod.width)};
  const Refit found = refit_with(c, "a", shift({0.015, 0, 0}));
  ASSERT_TRUE(found.key_goes_in) << found.finding;
  ASSERT_EQ(found.footings.size(), 3u);
  EXPECT_EQ(found.proofs.at(0).verdict, Verdict::kStands) << found.proofs[0].reason;
}

// By hand: flat joints of 8 mm pads that give 0.5 mm each under dead load, laid so much thicker:
// the crown of every block that lies over k pads of a straight column is k times that higher.
TEST(Refit, PadsUncompressedLayTheBlocksHigher) {
  Case c = arch_case(0.008);
  c.brief.survey = surveyed(c.brief, "", {});
  RefitInput in = input(c);
  in.closing_m.assign(c.assembly.joints.size(), 0.0);
  in.closing_m[0] = 0.0005;  // springing joint in the west: its block is lifted
  const Refit found = refit(in, {}).value();
  ASSERT_EQ(found.laid.size(), c.assembly.blocks.size());
  EXPECT_GT(found.laid[0].shift.z(), 0.0001);
  EXPECT_NEAR(found.packed.moves[0].shift.z(), 0, 1e-9);
}

TEST(Refit, MissingMarksAreAFault) {
  Case c = arch_case();
  EXPECT_FALSE(refit(input(c), {}).ok());
  c.brief.survey = surveyed(c.brief, "", {});
  c.brief.survey->points.erase(c.brief.survey->points.begin());
  const auto result = refit(input(c), {});
  ASSERT_FALSE(result.ok());
  EXPECT_NE(describe(result.faults()[0]).find("west"), std::string::npos);
}

TEST(Refit, ExchangedMarksAreAFault) {
  Case c = arch_case();
  c.brief.survey = surveyed(c.brief, "", {});
  std::swap(c.brief.survey->points[0].measured, c.brief.survey->points[1].measured);
  const auto result = refit(input(c), {});
  ASSERT_FALSE(result.ok());
}

TEST(Refit, OneMarkFarOffIsAFault) {
  Case c = arch_case();
  c.brief.survey = surveyed(c.brief, "", {});
  c.brief.survey->points[2].measured.z() += 0.3;
  c.brief.survey->points[2].measured.x() += 0.3;
  const auto result = refit(input(c), {});
  ASSERT_FALSE(result.ok());
  EXPECT_NE(describe(result.faults()[0]).find("west"), std::string::npos)
      << describe(result.faults()[0]);
}

// 12 mm off in one mark of three, 2 mm accuracy: told, not refused.
TEST(Refit, DoubtfulMarkIsToBeMeasuredAgain) {
  Case c = arch_case();
  c.brief.ground.footing_width_m = 1;
  c.brief.survey = surveyed(c.brief, "", {});
  c.brief.survey->points[2].measured.x() += 0.030;
  const Refit found = refit(input(c), {}).value();
  ASSERT_FALSE(found.measure_again.empty());
  EXPECT_NE(found.measure_again[0].find("west"), std::string::npos) << found.measure_again[0];
}

// A measured file replaces the marks of the brief.
TEST(Refit, PointsOfAFileReplaceThoseOfTheBrief) {
  Case c = arch_case(0.008);
  c.brief.survey = surveyed(c.brief, "east", shift({0.010, 0, 0}));
  PointFile file;
  for (const Mark& mark : springing_marks(c.brief))
    file.points.push_back({mark.name, mark.designed, 0.002, 1});
  RefitInput in = input(c);
  in.points = &file;
  for (const bool of_the_brief : {true, false}) {
    if (!of_the_brief) c.brief.survey.reset();
    const Result<Refit> found = refit(in, {});
    ASSERT_TRUE(found.ok());
    EXPECT_EQ(found->packers, 0);
    EXPECT_NE(found->finding.find("within 0.5 mm"), std::string::npos) << found->finding;
  }
}

}  // namespace
}  // namespace skewback
