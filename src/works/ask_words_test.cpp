// Measures and words, of a proof whose figures are made up by hand.
#include "works/ask_words.hpp"

#include <gtest/gtest.h>

#include "works/ask_sample.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

/// Proof of the case "full" on the arch of seven, its pads with all figures at zero.
struct MadeUp {
  AskedBridge bridge = asked_bridge(sample::arch_dossier({}));
  Question question;
  AskedBlocks blocks = blocks_of(bridge, question);
  AskedLoad load;
  CaseProof proof, unasked;
  MadeUp() {
    question.case_id = "full";
    proof.verdict = unasked.verdict = Verdict::kStands;
    proof.pads.emplace();
    proof.pads->found = true;
    proof.pads->joints.resize(blocks.assembly.joints.size());
    proof.pads->moves.resize(blocks.assembly.blocks.size());
    unasked.pads = proof.pads;
  }
  [[nodiscard]] AskedProof asked() const {
    return {bridge, blocks, question, load, proof, false, &unasked, {}, {}};
  }
  [[nodiscard]] std::vector<Measure> measured() const { return measures(asked()); }
  [[nodiscard]] std::string words() const {
    std::string text;
    for (const std::string& line : words_of(asked(), measured())) text += line + "\n";
    return text;
  }
};
void expect_in(const std::string& text, const std::string& what) {
  EXPECT_NE(text.find(what), std::string::npos) << text;
}

TEST(AskWords, FrictionIsThatOfTheJointThatHasLeast) {
  MadeUp of;
  of.blocks.assembly.joints[2].friction = 0.5;  // the others 0.7
  of.proof.friction_needed = 0.3;
  const auto measured = of.measured();
  ASSERT_EQ(measured.size(), 1u);
  EXPECT_NEAR(measured[0].share, 0.3 * 1.25 / 0.5, 1e-12);
  expect_in(measured[0].says, "they have 0.5, and 1.25 times is asked for");
}

TEST(AskWords, TheJointPressedMost) {
  MadeUp of;
  of.proof.pads->joints[1].peak_pa = 1e6;
  of.proof.pads->joints[4].peak_pa = 3e6;
  of.proof.pads->joints[5].peak_pa = 2e6;
  const auto measured = of.measured();
  ASSERT_EQ(measured.size(), 1u);
  EXPECT_EQ(measured[0].joint, 4);
  expect_in(measured[0].says, "is pressed with 3.00 MPa at its worst point");
}

TEST(AskWords, AFactorAtItsCapIsAtLeast) {
  MadeUp of;
  of.proof.load_factor = 20;
  EXPECT_EQ(of.words().find("at least"), std::string::npos);
  of.proof.at_cap = true;
  expect_in(of.words(), "all that is live could be at least 20 times as much");
}

TEST(AskWords, WhatOpensAndWhatUsesItsFriction) {
  MadeUp of;
  PadState& pads = *of.proof.pads;
  pads.opening_joint = 3;
  pads.opening_max_m = 0.00234;
  pads.joints[3].closed_share = 0.25;
  pads.friction_joint = 5;
  pads.friction_used = 0.35;  // of 0.7
  expect_in(of.words(), "Joint v3 | v4 opens by 2.34 mm; 25 % of it stays closed.");
  expect_in(of.words(), "Joint v5 | v6 uses 50 % of its friction.");
}

TEST(AskWords, TheCrownAndTheFactorAgainstWhatTheyWere) {
  MadeUp of;
  of.unasked.load_factor = 3.5;
  of.unasked.pads->peak_pa = 1e6;
  of.proof.load_factor = 2.25;
  of.proof.pads->peak_pa = 1.5e6;
  of.proof.pads->moves[3].v = {0, 0, -0.0012};  // v4, the key
  of.proof.pads->moves[0].v = {0, 0, -0.05};
  expect_in(of.words(),
            "Against the case full as it is: peak pressure 1.50 MPa, before 1.00 MPa; the crown "
            "(v4) 1.20 mm lower; factor on the live load 2.25, before 3.5.");
}

TEST(AskWords, AboveAndBelowALimitNeverReadAlike) {
  MadeUp of;
  const double limit = joint_limit(of.bridge.brief(), of.blocks.assembly.joints[4]);
  of.proof.pads->joints[4].peak_pa = 1.001 * limit;
  expect_in(of.words(), "Over its limit (100.1 % used): joint v4 | v5 is pressed with");
  of.proof.pads->joints[4].peak_pa = 0.9998 * limit;
  expect_in(of.words(), "Nearest its limit (99.98 % used): joint v4 | v5 is pressed with");
  of.proof.pads->joints[4].peak_pa = 0;
  of.proof.load_factor = 1.3497;  // 1.35 is asked for
  ASSERT_EQ(of.bridge.brief().required.live_factor, 1.35);
  expect_in(of.words(), "could be 1.3497 times as much; 1.35 times is asked for.");
}

TEST(AskWords, NowAndBeforeReadAlikeOnlyAsBefore) {
  MadeUp of;
  of.unasked.load_factor = 3.5;
  of.proof.load_factor = 3.5005;
  of.unasked.pads->peak_pa = 0.3889e6;
  of.proof.pads->peak_pa = 0.3921e6;
  expect_in(
      of.words(),
      "peak pressure 0.392 MPa, before 0.389 MPa; the crown (v4) as high as before; factor on "
      "the live load 3.5, as before.");
}

}  // namespace
}  // namespace skewback
