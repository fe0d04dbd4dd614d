// What is said of feet without their ties, of figures made up by hand.
#include "works/ask_ties.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

BareFoot foot(const std::string& id, double push_n, double resists_n) {
  BareFoot out;
  out.id = id;
  out.vertical_n = 100e3;
  out.push_n = {push_n, 0};
  out.resists_n = resists_n;
  out.bears = 0.5;
  return out;
}

Brief with_soil() {
  Brief brief;
  brief.soil.kind = SoilKind::kDrained;
  return brief;
}

TiesOut of_feet(const std::vector<BareFoot>& bare) {
  TiesOut out;
  out.ids = {"west-east"};
  out.pulled_n = {40e3};
  out.bare = out.tied = bare;
  for (BareFoot& held : out.tied) {
    held.push_n = Vec2::Zero();
    held.beyond_third = false;
    held.bears = 0.4;
  }
  return out;
}

std::string undecided(const TiesOut& out) {
  CaseProof proof;
  proof.verdict = Verdict::kStands;
  join_ground(with_soil(), out, proof);
  EXPECT_EQ(proof.verdict, Verdict::kUndecided);
  return proof.reason;
}
void expect_in(const std::string& text, const std::string& what) {
  EXPECT_NE(text.find(what), std::string::npos) << text;
}

TEST(AskTies, FeetThatHoldLeaveTheVerdict) {
  CaseProof proof;
  proof.verdict = Verdict::kStands;
  join_ground(with_soil(), of_feet({foot("west", 40e3, 57e3), foot("east", 40e3, 57e3)}), proof);
  EXPECT_EQ(proof.verdict, Verdict::kStands);
}

TEST(AskTies, TheFootThatSlidesMostIsNamed) {
  expect_in(
      undecided(of_feet({foot("a", 60e3, 57e3), foot("b", 90e3, 57e3), foot("c", 70e3, 57e3)})),
      "Without the tie west-east footing b slides.");
}

TEST(AskTies, AFootThatDoesNotSlideMayTipOrSink) {
  BareFoot tips = foot("west", 10e3, 57e3);
  tips.beyond_third = true;
  expect_in(undecided(of_feet({tips})), "footing west tips: its load passes beyond a third");
  BareFoot sinks = foot("east", 10e3, 57e3);
  sinks.bears = 1.2;
  expect_in(undecided(of_feet({foot("west", 10e3, 57e3), sinks})),
            "footing east sinks: the soil does not bear its load.");
}

TEST(AskTies, WhatAFootHasToDoAndDidBefore) {
  BareFoot bad = foot("west", 30e3, 57e3);
  bad.beyond_third = true;
  bad.bears = 1.2;
  bad.turning_nm = 7e3;
  TiesOut out = of_feet({bad, foot("east", 20e3, 57e3)});
  out.bare[1].turning_nm = out.tied[1].turning_nm =
      3e3;  // under a twentieth of its load by a metre
  std::vector<std::string> words = words_of(with_soil(), out);
  ASSERT_EQ(words.size(), 4u);
  expect_in(words[0], "it pulled: west-east 40.0 kN");
  expect_in(words[1], "Footing west pushes the soil sideways with 30.0 kN (0.0 kN with every tie)");
  expect_in(words[1], "its base resists 57.0 kN.");
  expect_in(words[1], "beyond a third of the base: it tips.");
  expect_in(words[1], "asked for 120 % of what it bears (40 % with every tie).");
  expect_in(words[1], "A turning moment of 7.0 kN m");
  EXPECT_EQ(words[2].find("turning"), std::string::npos) << words[2];
  EXPECT_EQ(words[2].find("bears"), std::string::npos) << words[2];
  out.tied[0].beyond_third = true;
  expect_in(words_of(with_soil(), out)[1], "beyond a third of the base, as with every tie.");
}

}  // namespace
}  // namespace skewback
