#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "deliver/report.hpp"
#include "deliver/report_ground.hpp"
#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

TEST(FrontPage, SaysWhichLostTieLetsTheFeetGo) {
  Dossier d = sample::small_dossier();
  LossState whole, rod;
  whole.tie = rod.tie = "west-east";
  whole.reason = "not held in case dead: footing east lacks 82.11 kN in plan";
  rod.rod = 0;
  rod.reason = "not held in case full: one rod only";
  d.ground->losses = {whole, rod};
  const auto said = troubles(d);
  EXPECT_THAT(said, Contains(HasSubstr("If tie west-east is lost")));
  EXPECT_THAT(said, Contains(HasSubstr("in plan, what the ground resists not counted.")));
  EXPECT_THAT(said, Not(Contains(HasSubstr("one rod only"))));
  d.ground->losses[0].held = true;
  EXPECT_THAT(troubles(d), Not(Contains(HasSubstr("is lost"))));
}

TEST(FrontPage, SaysWhereNoStateIsFoundOnSettledFeet) {
  Dossier d = sample::small_dossier();
  TriedState state;
  state.what = std::string(kSettledFeet) + " by 2.0 to 9.0 mm and tilted";
  state.reason = "a joint opens";
  d.tried = {state};
  EXPECT_THAT(troubles(d), Contains(HasSubstr("footings settled by 2.0 to 9.0 mm and tilted")));
  d.tried.push_back(state);  // of another case, the same to read
  EXPECT_EQ(troubles(d).size(), 1u);
  d.tried.pop_back();
  d.tried[0].holds = true;
  EXPECT_THAT(troubles(d), Not(Contains(HasSubstr("footings settled"))));
}

// Blocks 2.125 m over the surface drawn, with room wanted for 93 mm of deck; 0.05 m of room is too
// little and still no walk through stone.
TEST(FrontPage, SaysThatTheWalkLiesInTheBlocks) {
  Dossier d = sample::small_dossier();
  AccessFinding room;
  room.what = "room for the deck";
  room.line = "west to crown";
  room.along_m = 3;
  room.found = -2.125;
  room.limit = 0.093;
  room.unit = "m";
  d.access.emplace();
  d.access->findings = {room};
  EXPECT_THAT(troubles(d), Contains(HasSubstr("lies inside the blocks, by up to 2125 mm (west to "
                                              "crown, at 3.00 m)")));
  d.access->findings[0].found = 0.05;
  EXPECT_THAT(troubles(d), Not(Contains(HasSubstr("inside the blocks"))));
}

TEST(FrontPage, TellsACombinationFromAPattern) {
  Dossier d = sample::small_dossier();
  CaseProof proof;
  proof.id = "wind-east";
  proof.verdict = Verdict::kStands;
  proof.load_factor = 2.5;
  d.proofs = {proof};
  d.notes = {{"wind-east", CaseKind::kCombination, "", 1, 1}};
  EXPECT_THAT(what_was_found(d), HasSubstr("all of it but the weight times 2.50"));
  d.notes[0].kind = CaseKind::kPattern;
  EXPECT_THAT(what_was_found(d), HasSubstr("live load times 2.50"));
}

TEST(LastPage, SaysWhichLoadsAreLeftOut) {
  Dossier d = sample::small_dossier();
  EXPECT_THAT(not_looked_at(d), Not(Contains(HasSubstr("Loads left out"))));
  d.loads_left_out = {"the vehicle does not fit at vehicle-1-5: too short"};
  EXPECT_THAT(not_looked_at(d),
              Contains("Loads left out: the vehicle does not fit at vehicle-1-5: too short."));
}

TEST(Required, WordsSayUnitAndDirection) {
  RequiredCheck check{"blocks_made", 1, 0, false, "", "", true, "blocks"};
  EXPECT_EQ(value_words(check), "1 block");
  EXPECT_EQ(limit_words(check), "at most 0 blocks");
  check = {"lifting", HUGE_VAL, 1, false, "", "", true};
  EXPECT_EQ(value_words(check), "unbounded");
  check = {"blocks_enter", 2.94, 0, true, "", "", false, "degrees"};
  EXPECT_EQ(value_words(check), "2.9 degrees");
  EXPECT_EQ(limit_words(check), "at least 0.0 degrees");
  check.value.reset();
  EXPECT_EQ(value_words(check), "");
}

TEST(FootingWords, AFootingTooThinIsToBeThickened) {
  FootingReport f;
  f.size = {2, 0.3, 1, 0.5};
  f.plain_depth_m = 0.49;
  EXPECT_THAT(thickness_words(f), Not(HasSubstr("thicken")));
  f.plain_depth_m = 0.54;
  EXPECT_THAT(thickness_words(f), HasSubstr("more than the 0.50 m drawn, so thicken it"));
}

TEST(FootingWords, NoThicknessWhereTheLoadLiesOffTheBase) {
  FootingReport f;
  f.size = {2, 0.3, 0.53, 0.5};
  f.overhang_m = 0.4;
  FootingCase off;
  off.far = true;
  f.cases = {off};
  EXPECT_EQ(thickness_words(f).find("0.00 m"), std::string::npos) << thickness_words(f);
  EXPECT_THAT(thickness_words(f), HasSubstr("none, load off the base"));
  f.cases.emplace_back();
  f.pressure_needed_pa = 90e3;
  f.plain_depth_m = 0.31;
  EXPECT_THAT(thickness_words(f), HasSubstr("0.31 m thick at least"));
  EXPECT_THAT(thickness_words(f), HasSubstr("off the base or beyond a third of it aside"));
}

TEST(FootingWords, SettlementInTwoStepsAndTilt) {
  FootingReport f;
  EXPECT_EQ(settlement_words(f), "");
  f.settlement_m = 0.007;
  f.settled_at_once = 5.0 / 7;
  f.tilt_rad = Vec2(-0.0004, 1e-9);
  EXPECT_EQ(settlement_words(f),
            " Settles 7.0 mm under the dead load, 5.0 mm of it at once and the rest as water "
            "leaves, tilting 0.40 mm per m inwards (elastic half-space; creep of the soil is not "
            "in it).");
}

}  // namespace
}  // namespace skewback::deliver
