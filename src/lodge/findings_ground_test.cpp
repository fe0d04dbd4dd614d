// Footings, ties and their loss: the one used most is named, and what does not hold fails.
#include "deliver/sample_dossier.hpp"
#include "lodge/said.hpp"

namespace skewback::lodge {
namespace {

FootingReport footing(const std::string& id, double bearing, double sliding) {
  FootingReport out;
  out.id = id;
  out.cleared = true;
  FootingCase bears, slides;
  bears.case_id = "full";
  bears.approach = "DA1-1";
  bears.bearing_used = bearing;
  bears.sliding_used = 0.01;
  slides.case_id = "half";
  slides.approach = "DA1-2";
  slides.bearing_used = 0.02;
  slides.sliding_used = sliding;
  out.cases = {bears, slides};
  out.worst_bearing = 0;
  out.worst_sliding = 1;
  return out;
}

Dossier with_footings(const FootingReport& west, const FootingReport& east, bool passes = true) {
  Dossier d = sample::small_dossier();
  d.ground->footings = {west, east};
  d.required.push_back({"footings", std::nullopt, 1, passes, "", ""});
  return d;
}

TEST(FindingsGround, TheFootingUsedMost) {
  Dossier d = with_footings(footing("west", 0.5, 0.3), footing("east", 0.4, 0.7));
  auto f = said(d, "footings");
  expect_says(f,
              "The footing at east uses 70 % of what the ground holds against sliding (case "
              "half, DA1-2).");
  EXPECT_EQ(f.at("share"), 0.7);
  EXPECT_EQ(f.at("weight"), 3);
  EXPECT_EQ(f.at("place").at("id"), "east");
  EXPECT_EQ(f.at("place").at("at"), nlohmann::json({3, 0, 0})) << "middle of its springing line";
  d = with_footings(footing("west", 0.9, 0.3), footing("east", 0.4, 0.7));
  f = said(d, "footings");
  expect_says(f, "The footing at west uses 90 % of what the ground bears (case full, DA1-1).");
  EXPECT_EQ(f.at("weight"), 1) << "near its limit";
}

TEST(FindingsGround, AFootingThatIsNotClearedIsNamedThoughAnotherIsUsedMore) {
  FootingReport east = footing("east", 0.4, 0.3);
  east.cleared = false;
  east.reason = "its load lies beyond a third";
  const auto f = said(with_footings(footing("west", 0.9, 0.3), east, false), "footings");
  expect_says(f, "The footing at east is not cleared: its load lies beyond a third.");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_EQ(f.at("place").at("id"), "east");
}

TEST(FindingsGround, TheTieUsedMostAndOneThatDoesNotHold) {
  Dossier d = sample::small_dossier();
  d.brief.plan.supports[1].a.x() = d.brief.plan.supports[1].b.x() = 5;
  TieForce& tie = d.ground->ties[0];
  tie.thread = "M16";
  tie.governing_n = 30e3;
  tie.resistance_n = 60e3;
  TieForce other = tie;
  other.id = "other";
  other.governing_n = 15e3;
  d.ground->ties.push_back(other);
  auto f = said(d, "ties");
  EXPECT_EQ(f.at("share"), 0.5);
  expect_says(f, "A rod of tie west-east");
  EXPECT_EQ(f.at("place").at("at").at(0), 1) << "half way from -3 to 5";
  d.ground->ties[1].governing_n = 61e3;
  f = said(d, "ties");
  expect_says(f, "A rod of tie other");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsGround, FeetThatAreNotHeld) {
  Dossier d = sample::small_dossier();
  d.ground->cases.resize(3);
  for (TieState& state : d.ground->cases) state.balanced = true;
  EXPECT_TRUE(said(d, "feet_held").is_null());
  d.ground->cases[1].case_id = "half";
  d.ground->cases[2].case_id = "full";
  d.ground->cases[1].balanced = d.ground->cases[2].balanced = false;
  d.ground->cases[1].reason = "west is not held along";
  const auto f = said(d, "feet_held");
  expect_says(f, "The feet are not held in 2 cases. First half: west is not held along.");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsGround, LossOfATieOrOfARod) {
  Dossier d = sample::small_dossier();
  LossState whole, rod;
  whole.tie = rod.tie = "west-east";
  rod.rod = 1;
  whole.held = rod.held = true;
  d.ground->losses = {whole, rod};
  EXPECT_EQ(said(d, "tie_loss").at("weight"), 3);
  d.ground->losses[1].held = false;
  d.ground->losses[1].cases = 4;
  d.ground->losses[1].cases_held = 3;
  auto f = said(d, "tie_loss");
  expect_says(f, "If a rod of tie west-east is lost the ties left hold the feet in 3 of 4 cases, ");
  EXPECT_EQ(f.at("weight"), 1) << "not required";
  d.brief.required.tie_loss = true;
  EXPECT_EQ(said(d, "tie_loss").at("weight"), 0);
  d.ground->losses[0].held = false;
  expect_says(said(d, "tie_loss"), "If tie west-east is lost");
}

TEST(FindingsGround, FeetThatDoNotComeToRestFail) {
  Dossier d = sample::small_dossier();
  d.spread.emplace();
  d.spread->states.resize(2);
  d.spread->spread_m = 0.0042;
  auto f = said(d, "spread");
  expect_says(f, "apart or together by up to 4.2 mm.");
  EXPECT_EQ(f.at("weight"), 3);
  d.spread->unsettled = 1;
  f = said(d, "spread");
  expect_says(f, "In 1 state they do not come to rest.");
  EXPECT_EQ(f.at("weight"), 0);
}

}  // namespace
}  // namespace skewback::lodge
