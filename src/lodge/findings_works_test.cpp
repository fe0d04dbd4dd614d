// Making, lifting, building and walking: what is nearest to its limit is named, and its weight is
// that of the check.
#include "deliver/sample_survey.hpp"
#include "lodge/finding.hpp"
#include "lodge/said.hpp"
#include "lodge/sample_steps.hpp"

namespace skewback::lodge {
namespace {

TEST(FindingsWorks, AStageThatFallsUnderPeopleSaysSo) {
  Dossier d = sample::small_dossier();
  d.programme = sample::steps_placing(3);
  for (const std::size_t i : {1u, 2u}) {
    d.programme->stages[i].working.emplace();
    d.programme->stages[i].working->verdict = Verdict::kUndecided;
    d.programme->stages[i].working->governing = "two people at the edge";
    d.programme->stages[i].working->reason = "no state";
  }
  d.required[2] = {"stages_standing", 1.0 / 3, 1, false, "design rule", ""};
  const auto f = said(d, "stages_standing");
  expect_says(f, "Step 2 (place v2): undecided under two people at the edge: no state.");
  expect_says(f, " 1 later steps do not stand either.");
}

TEST(FindingsWorks, AFootThatHangsUpSaysSo) {
  Dossier d = sample::small_dossier();
  d.programme = sample::steps_placing(3);
  d.programme->uneven.steps.resize(4);
  for (UnevenStep& step : d.programme->uneven.steps) step.stands = true;
  d.programme->uneven.standing = 4;
  d.required[2] = {"stages_standing", 1, 1, true, "design rule", ""};
  expect_says(said(d, "stages_standing"), "So do 4 states of striking with one foot ahead");
  UnevenStep& bad = d.programme->uneven.steps[1];
  bad.stands = false;
  bad.stage = 2;
  bad.foot = "R1-2";
  d.programme->uneven.standing = 3;
  d.programme->uneven.words = {"Not proved to stand: R1-2 still up."};
  d.required[2] = {"stages_standing", 0.9, 1, false, "design rule", ""};
  const auto f = said(d, "stages_standing");
  expect_says(f, "Struck unevenly they do not all: Not proved to stand: R1-2 still up.");
  EXPECT_EQ(f.at("moment"), "stage 3");
}

TEST(FindingsWorks, ABlockOverTheMassIsSaidAndOthersAreNot) {
  Dossier d = sample::small_dossier();
  d.required.push_back({"block_mass", 700, 650, false, "", ""});
  const auto f = said(d, "block_mass");
  expect_says(f, "weighs 700 kg, and 650 is what the brief allows");
  EXPECT_EQ(f.at("weight"), 0);  // fails
}

TEST(FindingsWorks, TheTightestWayIn) {
  Dossier d = sample::small_dossier();
  d.programme = sample::steps_placing(3);
  const double margins[] = {0.3, 0.1, 0.2};
  for (int i = 0; i < 3; ++i) {
    Entry entry;
    entry.block = i;
    entry.margin = margins[i];
    d.programme->stages[static_cast<std::size_t>(i)].entry = {entry};
  }
  d.required.push_back({"blocks_enter", 5.7, 0, true, "", ""});
  const auto f = said(d, "blocks_enter");
  expect_says(f, "Tightest is v2, 5.7 degrees clear of a joint.");
  EXPECT_EQ(f.at("place").at("id"), "v2");
  EXPECT_EQ(f.at("moment"), "stage 2");
}

TEST(FindingsWorks, SparesInDaysAndTheDateNineTimesInTen) {
  Dossier d = sample::small_dossier();
  d.spares.emplace();
  Spares& spares = *d.spares;
  spares.risks.resize(3);
  spares.risks[0].id = "v4";
  spares.risks[1].id = "v5";
  spares.risks[0].spare = true;
  spares.trials.resize(2);
  spares.trials[0].expected_delay_s = 9 * 86400;
  spares.trials[1].expected_delay_s = 2.5 * 86400;
  spares.chosen = 1;
  spares.network.start = "2027-03-01";
  for (int day = 1; day <= 20; ++day) spares.with.finish_s.push_back(day * 86400.0);
  const auto f = said(d, "spares");
  expect_says(f, "Worth printing twice: v4.");
  expect_says(f, "hold the works back by 2.5 days in the mean.");
  expect_says(f, "Nine times in ten it is done by 2027-03-19.");  // 18 of 20
  EXPECT_EQ(f.at("place").at("id"), "v4");
}

HandlingCheck used(const std::string& name, double demand, double resistance) {
  HandlingCheck check;
  check.name = name;
  check.demand = demand;
  check.resistance = resistance;
  check.unit = "N";
  check.utilisation = demand / resistance;
  return check;
}

TEST(FindingsWorks, TheLiftUsedMostAndAWayThatIsBarred) {
  Dossier d = sample::small_dossier();
  d.programme = sample::steps_placing(3);
  // a step before that only moves the seats under v2
  d.programme->stages[0].what = "lower";
  d.programme->stages[0].blocks = {"v2"};
  d.lifts.emplace();
  d.lifts->lifts.resize(3);
  for (std::size_t i = 0; i < 3; ++i) {
    d.lifts->lifts[i].id = "v" + std::to_string(i + 1);
    d.lifts->lifts[i].checks = {used("sling", i == 1 ? 9e3 : 4e3, 1e4)};
  }
  d.required.push_back({"lifting", 0.9, 1, true, "", ""});
  auto f = said(d, "lifting");
  expect_says(f, "Lifting v2 uses 90 % of what is allowed: sling, 9.0 kN of 10.0 kN.");
  EXPECT_EQ(f.at("weight"), 1);
  EXPECT_EQ(f.at("moment"), "stage 2");
  EXPECT_TRUE(said(d, "cradles").is_null());
  d.lifts->lifts[2].way_clear = false;
  d.lifts->lifts[2].obstacle = "its sling meets v2";
  d.lifts->lifts[2].cradle = true;
  d.required.back().passes = false;
  f = said(d, "lifting");
  expect_says(f, "Block v3 cannot come straight in on its slings: Its sling meets v2.");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_EQ(f.at("place").at("id"), "v3");
  expect_says(said(d, "cradles"), "Slings alone do not hold 1 block (v3)");
  d.lifts->lifts[2].strap_n = 1500;
  EXPECT_TRUE(said(d, "cradles").is_null());
}

TEST(FindingsWorks, TheBlockUsedMostOnTheRoad) {
  Dossier d = sample::small_dossier();
  d.transport.emplace();
  d.transport->pallets.resize(1);
  d.transport->pallets[0].blocks.resize(2);
  d.transport->pallets[0].blocks[0].id = "v1";
  d.transport->pallets[0].blocks[0].checks = {used("bends", 1.1e4, 1e4), used("tips", 1, 2)};
  d.transport->pallets[0].blocks[1].id = "v2";
  d.transport->pallets[0].blocks[1].checks = {used("tips", 4, 5)};
  d.required.push_back({"transport", 1.1, 1, false, "", ""});
  const auto f = said(d, "transport");
  expect_says(f, "On the road v1 uses 110 % of what is allowed: bends, 11.0 kN of 10.0 kN.");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsWorks, AWalkNearItsLimitAndOneNotJudged) {
  Dossier d = sample::small_dossier();
  d.brief.access.gradient_max = 0.1;
  d.access.emplace();
  d.access->gradient_max = 0.085;
  d.access->complies = true;
  auto f = said(d, "walk_complies");
  EXPECT_NEAR(f.at("share").get<double>(), 0.85, 1e-12);
  EXPECT_EQ(f.at("weight"), 1);
  expect_says(f, "no steeper than 8.5 %; 10.0 % is allowed.");
  d.access->gradient_max = 0.05;
  EXPECT_EQ(said(d, "walk_complies").at("weight"), 3);
  d.access->complies = false;
  d.access->remarks = {"no block under the line"};
  f = said(d, "walk_complies");
  EXPECT_EQ(f.at("weight"), 2) << "nothing too steep was found, but not all was seen";
  expect_says(f, "No block under the line.");
}

TEST(FindingsWorks, ChancesOfTheKeyByItselfAndWithPackers) {
  Dossier d = sample::small_dossier();
  d.brief.tolerances.chance = 0.95;
  d.tolerances.emplace();
  d.tolerances->draws = 400;
  d.tolerances->key_by_itself.share = 0.25;
  d.tolerances->goes_in.share = 0.97;
  expect_says(said(d, "tolerances"),
              "by itself in 25.0 % of 400 draws, with packers in 97.0 % (95 % asked).");
  EXPECT_EQ(said(d, "tolerances").at("weight"), 3);
  d.tolerances->goes_in.share = 0.94;
  EXPECT_EQ(said(d, "tolerances").at("weight"), 1);
}

TEST(FindingsBlocks, AFormThatPullsAndWishesNotMet) {
  Dossier d = sample::small_dossier();
  EXPECT_TRUE(said(d, "tension").is_null());
  d.form->tension_max_n = 1200;
  d.form->achieved = {{"rise", 3, 2.9, "m", false}, {"thrust", 5e3, 5e3, "N", true}};
  expect_says(said(d, "tension"), "pulls with up to 1.2 kN");
  EXPECT_EQ(said(d, "tension").at("weight"), 0);
  expect_says(said(d, "wishes"), "to all that was asked: rise 2.90 m, asked 3.00 m.");
}

TEST(FindingsBlocks, TooHeavyAndNotClosed) {
  Dossier d = sample::small_dossier();
  EXPECT_TRUE(said(d, "watertight").is_null());
  d.cut->report.watertight = false;
  EXPECT_EQ(said(d, "watertight").at("weight"), 0);
  const double heaviest = mass_kg(d.cut->assembly.blocks[0]);
  d.brief.blocks.mass_max_kg = heaviest / 1.1;
  const auto f = said(d, "block_mass");
  EXPECT_NEAR(f.at("share").get<double>(), 1.1, 1e-6);
  EXPECT_EQ(f.at("weight"), 0);
  d.brief.blocks.mass_max_kg = heaviest / 0.9;
  EXPECT_EQ(said(d, "block_mass").at("weight"), 1);
  d.brief.blocks.mass_max_kg = heaviest / 0.5;
  EXPECT_EQ(said(d, "block_mass").at("weight"), 3);
}

// Of a limit from below the share is limit over value.
TEST(FindingsBlocks, TheBlockNearestToALimitOfTheCell) {
  Dossier d = sample::small_dossier();
  std::vector<BlockPrint>& blocks = d.print->blocks;
  for (BlockPrint& block : blocks) block.printable = false;
  const auto hold = [](BlockPrint& block, double value, double limit, bool at_least) {
    block.printable = true;
    PrintCheck check;
    check.name = "layer height";
    check.value = value;
    check.limit = limit;
    check.unit = "m";
    check.at_least = at_least;
    block.checks = {check};
  };
  hold(blocks[0], 0.010, 0.020, false);  // half
  hold(blocks[3], 0.010, 0.009, true);   // nine tenths
  hold(blocks[5], 0.014, 0.020, false);  // seven tenths
  auto f = said(d, "printing");
  expect_says(f, blocks[3].id + " is nearest to a limit: layer height");
  EXPECT_NEAR(f.at("share").get<double>(), 0.9, 1e-12);
  EXPECT_EQ(f.at("weight"), 1);
  hold(blocks[5], 0.021, 0.020, false);
  f = said(d, "printing");
  expect_says(f, blocks[5].id + " is nearest");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsWords, FiguresInTheUnitsPeopleUse) {
  EXPECT_EQ(measure(1234, "N m"), "1.23 kN m");
  EXPECT_EQ(measure(1234, "N"), "1.2 kN");
  EXPECT_EQ(measure(45e3, "Pa"), "45.0 kPa");
  EXPECT_EQ(measure(1.234e6, "Pa"), "1.23 MPa");
  EXPECT_EQ(measure(0.0032, "m"), "3.2 mm");
  EXPECT_EQ(measure(3.2, "m"), "3.20 m");
  EXPECT_EQ(measure(0.5235987756, "rad"), "30.0 degrees");
  EXPECT_EQ(measure(12.4, "kg"), "12 kg");
}

}  // namespace
}  // namespace skewback::lodge
