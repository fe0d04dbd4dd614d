#include "lodge/compare.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "deliver/sample_dossier.hpp"
#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using sample::small_dossier;
using ::testing::Contains;
using ::testing::Each;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Dossier whole() {
  Dossier d = small_dossier();
  d.brief.text = "[bridge]\nname = \"little-arch\"\n[form]\nrise = \"3 m\"\n";
  d.body = Body{};
  d.body->thickness_min_m = d.body->thickness_max_m = 0.45;
  d.quantities = Quantities{};
  d.quantities->lines = {{"tie rods", "kg", 20, 20, {15, 28, 40}, {}, "", ""},
                         {"footings", "m3", 2.4, 5760, {576, 691, 864}, {}, "", ""}};
  d.quantities->carbon_kg = {591, 719, 904};
  d.centring = Centring{};
  d.centring->plywood_m2 = 12;
  d.programme = Programme{};
  d.programme->order = {"v1", "v2", "v3"};
  d.programme->stages.resize(2);
  d.programme->stages[0].step = 1;
  d.programme->stages[0].what = "place";
  d.programme->stages[0].words = "v1";
  d.programme->stages[0].proof.verdict = Verdict::kStands;
  d.programme->stages[1] = d.programme->stages[0];
  d.programme->stages[1].step = 2;
  d.programme->stages[1].words = "v2";
  d.spares = Spares{};
  d.spares->with.mean_s = 20 * 86400.0;
  return d;
}

std::vector<std::string> said(const std::vector<Change>& list, const std::string& of = "") {
  std::vector<std::string> all;
  for (const Change& c : list)
    if (of.empty() || c.of == of) all.push_back(c.says);
  return all;
}

void move_block(Block& block, const Vec3& by) { block.mass.centroid += by; }

TEST(Changes, NoneBetweenTwoAlike) { EXPECT_THAT(said(changes(whole(), whole())), IsEmpty()); }

TEST(Changes, NothingUnderTheLastFigureShown) {
  Dossier now = whole();
  now.form->rise_m += 0.004;
  now.form->vertices[20].y() += 0.004;
  now.body->thickness_min_m -= 0.0004;
  now.proofs[1].load_factor = 2.504;
  now.proofs[2].load_factor = 0.8951;  // 0.90 still
  move_block(now.cut->assembly.blocks[1], {0.0009, 0, 0});
  now.cut->assembly.blocks[1].density += 0.5;  // of a block of 0.6 m3: 0.3 kg
  now.quantities->lines[0].amount = 20.04;
  now.centring->plywood_m2 = 12.04;
  now.spares->with.mean_s += 0.04 * 86400;
  now.ground->ties[0].force_n += 40;
  EXPECT_THAT(said(changes(whole(), now)), IsEmpty());
}

TEST(Changes, OfTheForm) {
  Dossier now = whole();
  now.form->rise_m = 3.07;
  now.form->thrust_max_n += 2500;
  for (std::size_t v = 0; v < now.form->vertices.size(); ++v)
    if (now.form->free_edge_of[v] == 1 && now.form->support_of[v] < 0)
      now.form->vertices[v].y() += 0.12;
  now.brief.plan.supports[1].a.x() += 0.5;
  now.brief.plan.supports[1].b.x() += 0.5;
  const auto list = changes(whole(), now);
  EXPECT_THAT(said(list, "form"), Contains("the rise is 3.07 m, 0.07 m more"));
  EXPECT_THAT(said(list, "form"), Contains("the span is 6.50 m, 0.50 m more"));
  EXPECT_THAT(said(list, "form"),
              Contains("the greatest thrust on a support is 2.5 kN, 2.5 kN more"));
  EXPECT_THAT(said(list, "form"),
              Contains("the springing line east moved, an end of it by 0.500 m"));
  EXPECT_EQ(list.front().says, "the rise is 3.07 m, 0.07 m more");
}

TEST(Changes, ThatAFreeEdgeMoved) {
  Dossier before = whole();
  before.brief.plan.free_edges = {{0, 1, {{-3, -0.5}, {3, -0.5}}}, {1, 0, {{3, 0.5}, {-3, 0.5}}}};
  Dossier now = before;
  std::size_t most = 0;
  for (std::size_t v = 0; v < now.form->vertices.size(); ++v) {
    if (now.form->free_edge_of[v] != 1 || now.form->support_of[v] >= 0) continue;
    now.form->vertices[v].y() += 0.02;
    if (std::abs(now.form->vertices[v].x()) < 1e-9) most = v;
  }
  now.form->vertices[most].y() += 0.1;
  const auto list = changes(before, now);
  ASSERT_THAT(said(list), ElementsAre("the free edge east to west lies up to 0.12 m from where it "
                                      "was"));
  EXPECT_EQ(*list[0].at, now.form->vertices[most]);
}

TEST(Changes, OfBlocks) {
  Dossier now = whole();
  auto& blocks = now.cut->assembly.blocks;
  move_block(blocks[1], {0, 0, 0.0042});
  move_block(blocks[4], {0.002, 0, 0});
  blocks[2].density *= 1.1;
  blocks[5].density *= 0.9;
  const double kg = concrete_mass_kg(blocks[2]) * 0.1 / 1.1;
  const auto list = changes(whole(), now);
  EXPECT_THAT(said(list, "blocks"),
              ElementsAre("2 blocks moved, v2 by most, 4.2 mm",
                          "v3 is heavier by " + std::to_string(std::lround(kg)) + " kg",
                          "v6 is lighter by " + std::to_string(std::lround(kg)) + " kg",
                          HasSubstr("the heaviest block, v3, is ")));
  EXPECT_EQ(list[0].kind, "block");
  EXPECT_EQ(list[0].id, "v2");
  ASSERT_TRUE(list[0].at);
  EXPECT_EQ(*list[0].at, blocks[1].mass.centroid);
}

TEST(Changes, BlocksAreTheSameByIdAndPlace) {
  Dossier now = whole();
  auto& blocks = now.cut->assembly.blocks;
  blocks[1].id = "w9";          // v2 gone, w9 new
  blocks[4].place.course += 1;  // v5 is another block now
  const auto said_so = said(changes(whole(), now), "blocks");
  EXPECT_THAT(said_so, ElementsAre("1 block is new: w9", "1 block is gone: v2",
                                   "1 block is of another course or place though called the same: "
                                   "v5"));
  const auto joints = said(changes(whole(), now), "joints");
  EXPECT_THAT(joints, ElementsAre("2 joints are new: v1 | w9, w9 | v3",
                                  "2 joints are gone: v1 | v2, v2 | v3"));
}

TEST(Changes, OfVerdictsTheWorstFirst) {
  Dossier before = whole(), now = whole();
  now.proofs[0].verdict = Verdict::kUndecided;
  now.proofs[1].verdict = Verdict::kFalls;
  now.proofs[1].load_factor = 0.61;
  now.proofs[1].reason = "four hinges";
  now.proofs[2].verdict = Verdict::kStands;
  now.proofs[2].load_factor = 1.2;
  now.notes = {{"half, west", CaseKind::kPattern, "weight, people west"}};
  EXPECT_THAT(
      said(changes(before, now), "verdicts"),
      ElementsAre(
          "half, west (weight, people west) goes from stands to falls; the load factor goes "
          "from 2.50 to 0.61: four hinges",
          "dead goes from stands to undecided",
          "half: west goes from undecided to stands; the load factor goes from 0.90 to 1.20",
          "the case to worry about first is half, west, it was half: west"));
}

TEST(Changes, OfCasesThatOneOnlyHas) {
  Dossier before = whole(), now = whole();
  now.proofs.push_back(sample::small_proof("snow", Verdict::kFalls, 0.4));
  now.proofs.push_back(sample::small_proof("worst", Verdict::kFalls, 0.2));
  now.worst_pattern = WorstPattern{};  // looked for in a whole run, not compared with none
  EXPECT_THAT(
      said(changes(before, now)),
      ElementsAre("the case to worry about first is snow, it was half: west", "snow is new: falls",
                  "the worst place for people, and what is least over all cases: worked "
                  "out only for the later of the two"));
  EXPECT_THAT(said(changes(now, before)),
              ElementsAre("the case to worry about first is half: west, it was snow",
                          "1 case is no longer tried: snow",
                          "the worst place for people, and what is least over all cases: worked "
                          "out only for the earlier of the two"));
  before.worst_pattern = WorstPattern{};
  EXPECT_THAT(said(changes(before, now)), Contains("worst is new: falls"));
}

TEST(Changes, AtTheCapIsAtLeast) {
  Dossier before = whole(), now = whole();
  before.proofs[1].load_factor = now.proofs[1].load_factor = 20;
  before.proofs[1].at_cap = true;
  EXPECT_THAT(said(changes(before, now)),
              ElementsAre("half, west: the load factor goes from at least 20.00 to 20.00"));
}

TEST(Changes, OfRequiredChecks) {
  Dossier before = whole(), now = whole();
  now.required[0].value = 1.62;
  now.required[0].passes = true;
  now.required[2].passes = false;
  now.required[2].value = 0.9;
  now.required[2].note = "step 2";
  now.required[1].value = 3.0;
  now.required[1].passes = true;
  EXPECT_THAT(
      said(changes(before, now)),
      ElementsAre(
          "stages standing fails now, it passed; goes from 1.00 to 0.90, at least 1.00 is "
          "asked (step 2)",
          "live factor passes now, it failed; goes from 0.90 to 1.62, at least 1.35 is asked"))
      << "geometric safety was checked for one of the two only";
  // a whole run's least is over one case more
  before.worst_pattern = WorstPattern{};
  EXPECT_THAT(said(changes(before, now)), Not(Contains(HasSubstr("live factor"))));
}

TEST(Changes, OfACheckWithAMost) {
  Dossier before = whole(), now = whole();
  before.required = {{"block_strength", 0.6, 1, true, "", "", true}};
  now.required = {{"block_strength", 0.9, 1, true, "", "", true}};
  EXPECT_THAT(said(changes(before, now)),
              Contains("block strength goes from 0.600 to 0.900, at most 1.00 is asked"));
}

TEST(Changes, OfWorks) {
  Dossier now = whole();
  now.quantities->lines[0].amount = 23.5;
  now.quantities->carbon_kg[1] = 724;
  now.centring->plywood_m2 = 14.2;
  now.programme->stages[1].proof.verdict = Verdict::kFalls;
  now.programme->order = {"v1", "v3", "v2"};
  now.spares->with.mean_s = 18.4 * 86400;
  now.ground->ties[0].force_n = 9100;
  now.ground->ties[0].diameter_m = 0.02;
  now.ground->ties[0].thread = "M20";
  const auto list = changes(whole(), now);
  EXPECT_THAT(
      said(list),
      ElementsAre("the rods of the tie west-east are 2 of M20, they were 2 of 16 mm",
                  "the pull in the tie west-east under the dead load is 9.1 kN, 1.1 kN more",
                  "the plywood in its parts is 14.2 m\u00b2, 2.2 m\u00b2 more",
                  "step 2, place v2, goes from stands to falls",
                  "the order of placing is another from place 2 on: v3, it was v2",
                  "the whole of the works is 18.4 days, 1.6 days less",
                  "the carbon of all that is counted is 724 kg CO\u2082e, 5 kg CO\u2082e more",
                  "tie rods: 23.5 kg, 3.5 kg more"));
}

TEST(Changes, OfWhatOneOnlyHolds) {
  Dossier now = whole();
  now.programme.reset();
  now.spares.reset();
  now.quantities.reset();
  const auto list = changes(whole(), now);
  EXPECT_THAT(said(list), ElementsAre("programme, quantities: worked out only for the earlier of "
                                      "the two"));
  EXPECT_EQ(list[0].of, "not compared");
  EXPECT_THAT(said(changes(now, whole())),
              ElementsAre("programme, quantities: worked out only for the later of the two"));
}

TEST(Changes, TheSameTwiceAndInTheOrderOfKinds) {
  Dossier now = whole();
  now.form->rise_m = 4;
  now.proofs[1].load_factor = 1.5;
  now.quantities->lines[1].amount = 3;
  now.brief.text += "x = 1\n";
  move_block(now.cut->assembly.blocks[3], {0, 0, 1});
  const auto list = changes(whole(), now);
  EXPECT_EQ(changes_json(list).dump(), changes_json(changes(whole(), now)).dump());
  std::vector<std::string> kinds;
  for (const Change& c : list)
    if (kinds.empty() || kinds.back() != c.of) kinds.push_back(c.of);
  EXPECT_THAT(kinds, ElementsAre("form", "blocks", "verdicts", "quantities", "brief"));
}

TEST(ChangesJson, HasItsPlaceAsAFinding) {
  const auto json = changes_json({{"blocks", "b moved", "block", "b", Vec3(1, 2, 3), "cut"},
                                  {"brief", "k", "key", "form.rise", {}, "drawn"}});
  EXPECT_EQ(
      json[0].dump(),
      R"({"of":"blocks","says":"b moved","place":{"kind":"block","id":"b","at":[1.0,2.0,3.0]},)"
      R"("moment":"cut"})");
  EXPECT_TRUE(json[1]["place"]["at"].is_null());
}

TEST(Paired, TwiceTheSameName) {
  const auto pairs = paired({"a", "b", "a", "c"}, {"a", "a", "a", "d"});
  ASSERT_EQ(pairs.size(), 6u);
  EXPECT_EQ(*pairs[0].before, 0u);
  EXPECT_EQ(*pairs[1].before, 2u);
  EXPECT_FALSE(pairs[2].before);
  EXPECT_FALSE(pairs[3].before);
  EXPECT_EQ(*pairs[4].before, 1u);
  EXPECT_FALSE(pairs[4].now);
  EXPECT_EQ(*pairs[5].before, 3u);
}

TEST(MoreOrLess, ByTheFigureShown) {
  EXPECT_EQ(more_or_less("x", 1, 1.004, 2, "m"), std::nullopt);
  EXPECT_EQ(more_or_less("x", 1, 1.006, 2, "m"), "x is 1.01 m, 0.01 m more");
  EXPECT_EQ(more_or_less("x", 1234, 1200, "kg"), "x is 1200 kg, 34 kg less");
  EXPECT_EQ(more_or_less("x", 0, 0.0123, "m"), "x is 0.0123 m, 0.0123 m more");
  EXPECT_EQ(more_or_less("x", std::nan(""), 1, 2, "m"), std::nullopt);
}

}  // namespace
}  // namespace skewback::lodge
