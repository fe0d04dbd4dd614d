// The load that is asked for, on the blocks that are there.
#include "works/ask_load.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "works/ask_sample.hpp"

namespace skewback {
namespace {

using sample::arch_brief;
using sample::arch_dossier;

std::shared_ptr<Dossier> changed(const std::shared_ptr<const Dossier>& dossier) {
  return std::make_shared<Dossier>(*dossier);
}

// What is live in the case is multiplied, weight with its direction is not.
TEST(AskLoad, TheCasesOwnAccelerations) {
  const auto dossier = changed(arch_dossier({}));
  LoadCase& full = dossier->cut->assembly.cases[1];
  full.gravity = {0.5, 0, -9.8};
  full.live_acceleration = {0, 0.4, 0};
  const AskedBridge bridge = asked_bridge(dossier);
  Question question;
  question.case_id = "full";
  question.live_factor = 0.5;
  const AskedLoad load = load_of(bridge, blocks_of(bridge, question), question);
  EXPECT_EQ(load.load.gravity, Vec3(0.5, 0, -9.8));
  EXPECT_EQ(load.load.live_acceleration, Vec3(0, 0.2, 0));
  double was = 0, is = 0;
  for (const LiveForce& live : full.live) was += live.force.z();
  for (const LiveForce& live : load.load.live) is += live.force.z();
  EXPECT_NEAR(is, 0.5 * was, 1e-9 * std::abs(was));
}

// The key of seven is a wedge with a flat top 3.225 sin(3 pi / 7) up.
TEST(AskLoad, APersonStandsOnTopOfTheBlockBelow) {
  const AskedBridge bridge = asked_bridge(arch_dossier({}));
  Question question;
  question.persons.push_back({{0.4, 0.1}, 800});
  const AskedLoad load = load_of(bridge, blocks_of(bridge, question), question);
  ASSERT_EQ(load.load.live.size(), 1u);
  EXPECT_EQ(load.load.live[0].block, 3);
  EXPECT_LT((load.load.live[0].point - Vec3(0.4, 0.1, 3.225 * std::sin(3 * kPi / 7))).norm(), 1e-9);
  EXPECT_EQ(load.load.live[0].force, Vec3(0, 0, -800));
}

TEST(AskLoad, ACrowdIsSaidInKilonewtons) {
  const AskedBridge bridge = asked_bridge(arch_dossier({.width = 2}));
  Question question;
  question.crowds.push_back({{0.3, 0}, 0.8, 4000});  // pi 0.8^2 = 2.01 m2
  const AskedLoad load = load_of(bridge, blocks_of(bridge, question), question);
  ASSERT_EQ(load.words.size(), 1u);
  EXPECT_EQ(load.words[0],
            "The crowd at (0.30, 0.00) stands on 2.01 m2 of the walking surface: 8.04 kN.");
}

TEST(AskLoad, FrictionAskedForMayBeMoreThanTheJointsHave) {
  const AskedBridge bridge = asked_bridge(arch_dossier({}));
  Question question;
  question.friction = 0.9;
  for (const Joint& joint : blocks_of(bridge, question).assembly.joints)
    EXPECT_EQ(joint.friction, 0.9);
}

TEST(AskLoad, TheTiesAreThoseThatWereLaid) {
  const auto dossier = changed(arch_dossier({}));
  dossier->ground.emplace();
  dossier->ground->laid = dossier->brief.ground.ties;
  dossier->ground->laid[0].id = "laid otherwise";
  EXPECT_EQ(asked_bridge(dossier).ties.at(0).id, "laid otherwise");
}

// Friction of 0.3 is what the level push asks for; weight alone asks for none.
TEST(AskLoad, TheFrictionItTakesIsThatUnderTheLoadAskedFor) {
  const auto dossier = changed(sample::column_dossier(0, 0.6));
  LoadCase& dead = dossier->cut->assembly.cases[0];
  const double weight = 0.5 * 2000 * 9.81;
  dead.live = {{2, {0, 0, 0.6}, {0.3 * weight, 0, 0}}};
  Question question;
  question.friction = 0.2;
  const Result<Answer> answer = Asker(dossier).answer(question);
  ASSERT_TRUE(answer.ok());
  EXPECT_EQ(answer->proof.verdict, Verdict::kFalls);
  EXPECT_TRUE(std::ranges::any_of(answer->words, [](const std::string& line) {
    return line.find("It takes a friction of 0.30") != std::string::npos;
  })) << answer->words.at(1);
}

TEST(AskLoad, ByThePadsAloneTheJointPressedMostGoverns) {
  Question question;
  question.persons.push_back({{-1, 0}, 9000});
  const Result<Answer> answer = Asker(arch_dossier({})).answer(question, true);
  ASSERT_TRUE(answer.ok());
  EXPECT_GE(answer->proof.governing_joint, 0);
  EXPECT_EQ(answer->proof.governing_joint, answer->proof.pads->peak_joint);
}

TEST(AskFaults, AHoleHasAnEdgeToo) {
  Brief brief = arch_brief({.width = 2});
  brief.plan.openings = {{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}};
  const AskedBridge bridge = asked_bridge(arch_dossier({.width = 2}, brief));
  Question question;
  question.persons.push_back({{0.3, 0.1}, 800});
  const Faults faults = faults_of(bridge, question);
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_NE(faults[0].found.find("0.20 m off"), std::string::npos) << faults[0].found;
  EXPECT_NE(faults[0].expected.find("(0.500, 0.100)"), std::string::npos) << faults[0].expected;
}

TEST(AskFaults, ABlockNamedTwiceIsTakenAwayOnce) {
  const AskedBridge bridge = asked_bridge(sample::column_dossier(0, 0.6));
  Question question;
  question.without_blocks = {"high", "high"};
  EXPECT_TRUE(faults_of(bridge, question).empty());
}

TEST(AskFaults, OnlyASupportWithABlockCanBePushed) {
  const auto dossier = changed(sample::column_dossier(0, 0.6));
  dossier->brief.plan.supports.push_back(sample::springing("far", {9, -0.5}, {9, 0.5}));
  AskedBridge bridge = asked_bridge(dossier);
  bridge.ground = {0, -1};
  Question question;
  question.pushes.push_back({.support = 1, .shift_m = {0.001, 0, 0}});
  const Faults faults = faults_of(bridge, question);
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_EQ(faults[0].found, "far");
}

}  // namespace
}  // namespace skewback
