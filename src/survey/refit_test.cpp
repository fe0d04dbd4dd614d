#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/survey.hpp"

namespace skewback {
namespace {

/// All marks of the brief, those of `support` shifted.
SurveyRequest surveyed(const Brief& brief, const std::string& support, const Vec3& shift) {
  SurveyRequest request;
  for (const Mark& mark : springing_marks(brief)) {
    const Vec3 off = support.empty() || support == mark.of ? shift : Vec3::Zero();
    request.points.push_back({mark.of, mark.name.substr(mark.of.size() + 1), mark.designed + off});
  }
  return request;
}

struct Case {
  Assembly assembly;
  Brief brief;
};
Case arch_case(double pad = 0) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 0.6};
  Case c{sample::arch_assembly(arch), sample::barrel_brief(arch.radius, arch.width)};
  LoadCase point;
  point.id = "point";
  point.live = {{2, centre_of_gravity(c.assembly.blocks[2]), {0, 0, -1000}}};
  c.assembly.cases.push_back(point);
  if (pad > 0) {
    for (Joint& joint : c.assembly.joints) joint.pad = Pad{pad, 1e9, 1e8};
  }
  return c;
}

RefitInput input(const Case& c) {
  RefitInput in;
  in.brief = &c.brief;
  in.assembly = &c.assembly;
  return in;
}

Refit refit_with(Case& c, const std::string& support, const Vec3& shift) {
  c.brief.survey = surveyed(c.brief, support, shift);
  Result<Refit> found = refit(input(c), {});
  EXPECT_TRUE(found.ok()) << (found.ok() ? "" : describe(found.faults()[0]));
  return std::move(found).value();
}

TEST(SettingOut, MarksOfASpringing) {
  Case c = arch_case();
  c.brief.ground.footing_width_m = 0.4;
  const auto marks = springing_marks(c.brief);
  ASSERT_EQ(marks.size(), 6u);
  EXPECT_EQ(marks[0].name, marks[0].of + " right");
  EXPECT_EQ(marks[0].designed, Vec3(-3, 0.5, 0));  // right, looking out to the west
  EXPECT_EQ(marks[1].designed, Vec3(-3, -0.5, 0));
  EXPECT_NEAR((marks[2].designed - Vec3(-3.4, 0, 0)).norm(), 0, 1e-12);
  EXPECT_NEAR((marks[5].designed - Vec3(3.4, 0, 0)).norm(), 0, 1e-12);
}

TEST(Refit, ExactFootingsLeaveTheBridgeAsDesigned) {
  Case c = arch_case();
  const Refit found = refit_with(c, "", Vec3::Zero());
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_EQ(found.packers, 0);
  EXPECT_NEAR(found.whole.rms_m, 0, 1e-12);
  const auto before = prove_all(c.assembly);
  ASSERT_TRUE(found.load_factor_after && before[1].load_factor);
  EXPECT_NEAR(*found.load_factor_after, *before[1].load_factor, 1e-4 * *before[1].load_factor);
}

// The whole bridge somewhere else is the same bridge.
TEST(Refit, CommonShiftChangesNothing) {
  Case c = arch_case();
  const Refit found = refit_with(c, "", {120, -35, 8});
  EXPECT_NE(found.finding.find("within 0.5 mm"), std::string::npos) << found.finding;
  EXPECT_TRUE(found.key_goes_in);
  const auto before = prove_all(c.assembly);
  ASSERT_TRUE(found.load_factor_after && before[1].load_factor);
  EXPECT_NEAR(*found.load_factor_after, *before[1].load_factor, 1e-4 * *before[1].load_factor);
}

// By hand: the east footing 10 mm out opens the two joints of the key, at 3/7 and 4/7 of the half
// circle, by 5 mm each along x: 5 sin(3 pi / 7) across the joint and 5 cos(3 pi / 7) along it.
TEST(Refit, SpreadOpensBothJointsOfTheKeyAlike) {
  Case c = arch_case(0.008);
  const Refit found = refit_with(c, "east", {0.010, 0, 0});
  ASSERT_EQ(found.misfits.size(), 2u);
  const double a = 3 * kPi / 7;
  for (const JointMisfit& m : found.misfits) {
    EXPECT_NEAR(m.gap_min_m, 0.005 * std::sin(a), 1e-6);
    EXPECT_NEAR(m.gap_max_m, 0.005 * std::sin(a), 1e-6);
    EXPECT_NEAR(m.step_m, 0.005 * std::cos(a), 1e-6);
    EXPECT_EQ(m.packers.size(), 4u);
  }
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_EQ(found.packers, 8);
  EXPECT_NE(found.finding.find("footing east is 10 mm out"), std::string::npos) << found.finding;
  EXPECT_EQ(found.proofs.at(0).verdict, Verdict::kStands);
  for (const Block& block : found.as_built.blocks) EXPECT_TRUE(closed(block.solid)) << block.id;
  // Its contact is what the two shifted faces share: 0.6 m less the step, by a width of 1 m.
  const Joint& key_joint = found.as_built.joints[found.misfits[0].joint];
  EXPECT_NEAR(area(key_joint.contact), 0.6 - 0.005 * std::cos(a), 1e-6);
}

// By hand: foot a 15 mm out draws the key after it by a third. That opens its joint by 10 mm and
// the two others by 5 cos 60 = 2.5 mm, with a step of 5 sin 60.
TEST(Refit, KeyOfThreeArmsSharesTheError) {
  const sample::Tripod tripod{.pad = 0.008};
  Case c{sample::tripod_assembly(tripod),
         sample::tripod_brief(tripod.core + tripod.radius, tripod.width)};
  const Refit found = refit_with(c, "a", {0.015, 0, 0});
  ASSERT_EQ(found.misfits.size(), 3u);
  for (const JointMisfit& m : found.misfits) {
    const bool at_a = c.assembly.blocks[c.assembly.joints[m.joint].a].place.arm == 0;
    EXPECT_NEAR(m.gap_min_m, at_a ? 0.010 : 0.0025, 1e-6);
    EXPECT_NEAR(m.gap_max_m, at_a ? 0.010 : 0.0025, 1e-6);
    EXPECT_NEAR(m.step_m, at_a ? 0 : 0.005 * std::sin(kPi / 3), 1e-6);
  }
  EXPECT_TRUE(found.key_goes_in);
  EXPECT_EQ(found.packers, 12);
  EXPECT_EQ(found.proofs.at(0).verdict, Verdict::kStands) << found.proofs[0].reason;
}

TEST(Refit, FootingsTooNearLeaveNoRoomForTheKey) {
  Case dry = arch_case();
  const Refit tight = refit_with(dry, "east", {-0.004, 0, 0});
  EXPECT_FALSE(tight.key_goes_in);  // 1.95 mm tight, dry joints give 1 mm
  EXPECT_NE(tight.finding.find("does not go in"), std::string::npos) << tight.finding;
  Case padded = arch_case(0.008);
  EXPECT_TRUE(refit_with(padded, "east", {-0.004, 0, 0}).key_goes_in);  // pads give 4 mm
}

TEST(Refit, ThickPackersAreSaidToBeTooThick) {
  Case c = arch_case();
  c.brief.survey = surveyed(c.brief, "east", {0.060, 0, 0});
  c.brief.packing.most_m = 0.025;
  const Refit found = refit(input(c), {}).value();
  EXPECT_NE(found.finding.find("over the 25 mm allowed"), std::string::npos) << found.finding;
}

TEST(Refit, LowFootingIsNamed) {
  Case c = arch_case();
  const Refit found = refit_with(c, "west", {0, 0, -0.014});
  EXPECT_NE(found.finding.find("footing west is 14 mm low"), std::string::npos) << found.finding;
  EXPECT_EQ(found.finding.find("footing east"), std::string::npos) << found.finding;
}

TEST(Refit, MissingMarksAreAFault) {
  Case c = arch_case();
  EXPECT_FALSE(refit(input(c), {}).ok());
  c.brief.survey = surveyed(c.brief, "", Vec3::Zero());
  c.brief.survey->points.erase(c.brief.survey->points.begin());
  const auto result = refit(input(c), {});
  ASSERT_FALSE(result.ok());
  EXPECT_NE(describe(result.faults()[0]).find("west"), std::string::npos);
}

}  // namespace
}  // namespace skewback
