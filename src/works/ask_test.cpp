#include "works/ask.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <numeric>
#include <thread>

#include "base/constants.hpp"
#include "works/ask_sample.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

using sample::Arch;
using sample::arch_dossier;
using sample::column_dossier;

Answer asked(const Asker& asker, const Question& question, bool quick = false) {
  Result<Answer> answer = asker.answer(question, quick);
  EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : describe(answer.faults().front()));
  return answer.ok() ? std::move(answer).value() : Answer{};
}

bool says(const Answer& answer, const std::string& text) {
  return std::ranges::any_of(
      answer.words, [&](const std::string& line) { return line.find(text) != std::string::npos; });
}
std::string all_words(const Answer& answer) {
  std::string text;
  for (const std::string& line : answer.words) text += line + "\n";
  return text;
}

/// What the ground gives to everything that is not fixed.
Vec3 reaction(const Assembly& assembly, const Forces& forces) {
  Vec3 sum = Vec3::Zero();
  for (const ContactForce& contact : forces.contacts) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(contact.joint)];
    if (assembly.blocks[static_cast<std::size_t>(joint.a)].fixed) sum += contact.force;
    if (assembly.blocks[static_cast<std::size_t>(joint.b)].fixed) sum -= contact.force;
  }
  return sum;
}
double weight(const Assembly& assembly) {
  double sum = 0;
  for (const Block& block : assembly.blocks)
    if (!block.fixed) sum += mass_kg(block) * 9.81;
  return sum;
}
/// Level, across the first joint, which is that of a ground block.
double thrust(const Forces& forces) {
  double x = 0;
  for (const ContactForce& contact : forces.contacts)
    if (contact.joint == 0) x += contact.force.x();
  return std::abs(x);
}

TEST(Ask, APersonsWeightIsInTheReactions) {
  const Asker asker(arch_dossier({}));
  Question question;
  question.persons.push_back({{0.4, 0.1}, 800});
  for (const bool quick : {false, true}) {
    const Answer answer = asked(asker, question, quick);
    EXPECT_EQ(answer.proof.verdict, Verdict::kStands);
    ASSERT_TRUE(answer.proof.pads && answer.proof.pads->found);
    const Vec3 sum = reaction(answer.assembly, answer.proof.pads->forces);
    EXPECT_NEAR(sum.z(), weight(answer.assembly) + 800, 1e-4);
    EXPECT_NEAR(sum.head<2>().norm(), 0, 1e-4);
  }
}

// A crowd weighs its pressure times the walking surface under it: all of a disc inside it, and what
// a strip cuts out of a disc that is wider than the strip.
TEST(Ask, ACrowdWeighsWhatStandsOnTheWalkingSurface) {
  const Arch arch{.width = 2};
  const Asker asker(arch_dossier(arch));
  Question question;
  question.crowds.push_back({{0.3, 0}, 0.8, 4000});
  const auto load = [](const Answer& answer) {
    double sum = 0;
    for (const LiveForce& live : answer.load.live) sum -= live.force.z();
    return sum;
  };
  EXPECT_NEAR(load(asked(asker, question, true)), 4000 * kPi * 0.64, 1e-3);
  question.crowds[0] = {{0, 0}, 1.5, 1000};  // the strip |y| < 1 of a disc of radius 1.5
  const double r = 1.5, h = 1,
               kept = kPi * r * r - 2 * (r * r * std::acos(h / r) - h * std::sqrt(r * r - h * h));
  EXPECT_NEAR(load(asked(asker, question, true)), 1000 * kept, 3e-3 * 1000 * kept);
  EXPECT_TRUE(says(asked(asker, question, true), "stands on"));
}

// All that is live is multiplied, so twice as much of it bears half the factor.
TEST(Ask, TheFactorIsOnTheLiveLoadAskedFor) {
  const Asker asker(arch_dossier({.thickness = 0.4}));
  Question question;
  question.persons.push_back({{-1.5, 0}, 10e3});
  const Answer once = asked(asker, question);
  ASSERT_TRUE(once.proof.load_factor && !once.proof.at_cap);
  question.persons[0].force_n *= 2;
  const Answer twice = asked(asker, question);
  EXPECT_NEAR(*twice.proof.load_factor, *once.proof.load_factor / 2, 1e-5);

  Question full;
  full.case_id = "full";
  full.persons.push_back({{-1.5, 0}, 10e3});
  const Answer beside = asked(asker, full);
  full.live_factor = 0;  // then only the person is there
  EXPECT_NEAR(*asked(asker, full).proof.load_factor, *once.proof.load_factor, 1e-5);
  EXPECT_GT(std::abs(*beside.proof.load_factor - *once.proof.load_factor), 1e-3);
  ASSERT_TRUE(once.governing);
  EXPECT_TRUE(says(once, "Nearest its limit") || says(once, "Over its limit"));
}

// A combination carries its factors already.
TEST(Ask, ACombinationIsHeldToOne) {
  auto dossier = std::make_shared<Dossier>(*arch_dossier({.thickness = 0.4}));
  Question question;
  question.case_id = "full";
  EXPECT_TRUE(says(asked(Asker(dossier), question), "; 1.35 times is asked for"));
  dossier->notes[1].kind = CaseKind::kCombination;
  EXPECT_TRUE(says(asked(Asker(dossier), question), "; 1 times is asked for"));
}

TEST(Ask, WhatWasNotAskedForHasNotChanged) {
  const Answer answer = asked(Asker(arch_dossier({})), {});
  EXPECT_TRUE(says(answer, "Against the case dead as it is: the pads bear as before"))
      << all_words(answer);
}

TEST(Ask, WithoutTheBlockBelowTheOneAboveFalls) {
  const Asker asker(column_dossier(0, 0.6));
  Question question;
  question.without_blocks = {"low"};
  const Answer answer = asked(asker, question);
  EXPECT_EQ(answer.proof.verdict, Verdict::kFalls);
  ASSERT_TRUE(std::holds_alternative<Mechanism>(answer.proof.evidence));
  EXPECT_GT(std::get<Mechanism>(answer.proof.evidence).work, 0);
  EXPECT_EQ(answer.block_of, (std::vector<int>{0, 2}));
  EXPECT_TRUE(answer.assembly.joints.empty());
  EXPECT_TRUE(says(answer, "It falls: 1 of its 1 blocks move: one loose block: high"))
      << all_words(answer);
  EXPECT_TRUE(says(answer, "falls, before stands")) << all_words(answer);
}

TEST(Ask, WithoutTheBlockAboveTheOneBelowStands) {
  const Asker asker(column_dossier(0, 0.6));
  Question question;
  question.without_blocks = {"high"};
  question.persons.push_back({{0.2, 0.2}, 700});  // stood on what is taken away
  const Answer answer = asked(asker, question);
  EXPECT_EQ(answer.proof.verdict, Verdict::kStands);
  EXPECT_NEAR(reaction(answer.assembly, answer.proof.pads->forces).z(), 0.5 * 2000 * 9.81, 1e-5);
  EXPECT_TRUE(says(answer, "left out: 0.70 kN")) << all_words(answer);
}

// A block on a bed that leans slides where friction is less than the slope (Coulomb 1776).
TEST(Ask, FrictionUnderTheSlopeSlides) {
  const double slope = 20 * kPi / 180;
  const Asker asker(column_dossier(slope, 0.6));
  Question question;
  question.friction = std::tan(slope) - 0.01;
  const Answer slides = asked(asker, question);
  EXPECT_EQ(slides.proof.verdict, Verdict::kFalls);
  EXPECT_TRUE(says(slides, "slide")) << all_words(slides);
  EXPECT_TRUE(says(slides, "It takes a friction of 0.36")) << all_words(slides);
  for (const Joint& joint : slides.assembly.joints) EXPECT_EQ(joint.friction, *question.friction);

  question.friction = std::tan(slope) + 0.01;
  const Answer holds = asked(asker, question);
  EXPECT_EQ(holds.proof.verdict, Verdict::kStands);
  ASSERT_TRUE(holds.proof.friction_needed);
  EXPECT_NEAR(*holds.proof.friction_needed, std::tan(slope), 2e-3);
  ASSERT_TRUE(holds.governing);
  EXPECT_EQ(holds.governing->what, "friction");
  EXPECT_NEAR(holds.governing->share, 1.25 * *holds.proof.friction_needed / *question.friction,
              1e-9);
}

// An arch whose feet go apart takes its state of least thrust (Heyman 1966): the pads come to the
// least that view 1 finds, the nearer the narrower the edges on which the open joints still bear.
TEST(Ask, FeetPushedApartGiveTheLeastThrust) {
  const std::shared_ptr<const Dossier> dossier = arch_dossier({.voussoirs = 15, .thickness = 0.6});
  const Asker asker(dossier);
  Question question;
  question.pushes.push_back({.support = 0, .shift_m = {-0.01, 0, 0}});
  const Answer near = asked(asker, question);
  question.pushes[0].shift_m.x() = -0.1;
  const Answer apart = asked(asker, question);
  ASSERT_TRUE(apart.proof.pads && apart.proof.pads->found) << all_words(apart);
  const auto range = thrust_range(apart.assembly, apart.load, 0, {{0, Vec3::UnitX()}});
  ASSERT_TRUE(range);
  const double least = range->least, most = range->greatest;
  const double before = thrust(dossier->proofs[0].pads->forces);
  const double after = thrust(apart.proof.pads->forces);
  EXPECT_GT(most, 1.2 * least);
  EXPECT_GT(before, 1.05 * least);
  EXPECT_GE(after, least * (1 - 1e-6));
  EXPECT_LT(after, 1.02 * least);
  EXPECT_LT(after - least, 0.5 * (thrust(near.proof.pads->forces) - least));
  const auto half_open = std::ranges::count_if(
      apart.proof.pads->joints, [](const JointPad& pad) { return pad.closed_share < 0.5; });
  EXPECT_GE(half_open, 3);
  EXPECT_TRUE(says(apart, "opens by")) << all_words(apart);
  EXPECT_TRUE(says(apart, "lower")) << all_words(apart);
}

TEST(Ask, FeetPushedTogetherGiveMoreThrust) {
  const std::shared_ptr<const Dossier> dossier = arch_dossier({.voussoirs = 15, .thickness = 0.6});
  const Asker asker(dossier);
  Question question;
  question.pushes.push_back({.support = 1, .shift_m = {-0.003, 0, 0}});
  const Answer closer = asked(asker, question, true);
  EXPECT_GT(thrust(closer.proof.pads->forces), thrust(dossier->proofs[0].pads->forces));
  EXPECT_TRUE(says(closer, "higher")) << all_words(closer);
}

// Small movements: a turn about the vertical moves a point of the foot square to its lever.
TEST(Ask, AFootTurnsAboutTheMiddleOfItsLine) {
  const Asker asker(arch_dossier({}));
  Question question;
  question.pushes.push_back({.support = 1, .shift_m = {0.001, 0, 0.002}, .turn_rad = 0.003});
  const Answer answer = asked(asker, question, true);
  ASSERT_TRUE(answer.proof.pads->found);
  const auto foot = static_cast<std::size_t>(answer.assembly.blocks.size() - 1);
  const BlockVelocity& move = answer.proof.pads->moves[foot];
  const Vec3 end(3, 0.5, 0);
  EXPECT_LT((move.v + move.w.cross(end) - Vec3(0.001 - 0.003 * 0.5, 0, 0.002)).norm(), 1e-9);
}

TEST(Ask, QuickAndWholeAgreeAndTheOrderOfAskingDoesNotMatter) {
  const Asker asker(arch_dossier({}));
  Question here, there;
  here.persons.push_back({{-1, 0}, 9000});
  there.persons.push_back({{1.7, 0}, 4000});
  there.friction = 0.4;
  const Answer first = asked(asker, here, true);
  EXPECT_EQ(first.proof.views, std::vector<std::string>{"pads"});
  EXPECT_TRUE(says(first, "by the pads alone")) << all_words(first);
  asked(asker, there, true);
  asked(asker, here);
  const Answer again = asked(asker, here, true);
  EXPECT_EQ(first.proof.pads->peak_pa, again.proof.pads->peak_pa);
  EXPECT_EQ(first.words, again.words);
  const Answer whole = asked(asker, here);
  EXPECT_EQ(whole.proof.views, (std::vector<std::string>{"limit", "pads"}));
  EXPECT_NEAR(first.proof.pads->peak_pa, whole.proof.pads->peak_pa,
              1e-6 * whole.proof.pads->peak_pa);
}

TEST(Ask, SeveralMayAskAtOnce) {
  const Asker asker(arch_dossier({}));
  std::vector<Question> questions(8);
  std::vector<double> alone, together(questions.size());
  for (std::size_t i = 0; i < questions.size(); ++i) {
    questions[i].persons.push_back({{-2.0 + 0.5 * static_cast<double>(i), 0}, 3000});
    if (i % 2 == 1) questions[i].friction = 0.5 + 0.01 * static_cast<double>(i);
    alone.push_back(asked(asker, questions[i], true).proof.pads->peak_pa);
  }
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < questions.size(); ++i)
    threads.emplace_back([&, i] {
      const Result<Answer> answer = asker.answer(questions[i], true);
      together[i] = answer ? answer->proof.pads->peak_pa : 0;
    });
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(alone, together);
}

TEST(Ask, TheBridgeStaysAsItIs) {
  const std::shared_ptr<const Dossier> dossier = arch_dossier({});
  const std::string before = write_assembly(dossier->cut->assembly);
  const Asker asker(dossier);
  Question question;
  question.without_blocks = {"v4"};
  question.friction = 0.2;
  asked(asker, question);
  EXPECT_EQ(write_assembly(dossier->cut->assembly), before);
}

TEST(Ask, EveryFaultAtOnce) {
  const Asker asker(arch_dossier({}));
  Question q;
  q.case_id = "fulll";
  q.live_factor = -1;
  q.crowds = {{{3.5, 0}, 1, 5000}, {{0, 0}, 0, 1e9}};
  q.persons = {{{std::nan(""), 0}, 800}, {{0, 0}, std::nan("")}};
  q.pushes = {{.support = 7}, {.support = 0, .shift_m = {1, 0, 0}, .turn_rad = 1}, {.support = 0}};
  q.without_blocks = {"v4", "nosuch", "ground-west"};
  q.without_ties = {"west-north"};
  q.friction = 5;
  const Result<Answer> answer = asker.answer(q);
  ASSERT_FALSE(answer.ok());
  std::vector<std::string> keys;
  for (const Fault& fault : answer.faults()) keys.push_back(fault.key);
  EXPECT_EQ(keys,
            (std::vector<std::string>{
                "case", "live_factor", "crowds[0].at", "crowds[1].radius_m",
                "crowds[1].pressure_pa", "persons[0].at", "persons[1].force_n", "pushes[0].support",
                "pushes[1].shift_m", "pushes[1].turn_rad", "pushes[2].support", "without_blocks[1]",
                "without_blocks[2]", "without_ties[0]", "friction"}));
  EXPECT_NE(answer.faults()[2].found.find("0.50 m off the walking surface"), std::string::npos)
      << answer.faults()[2].found;
  EXPECT_NE(answer.faults()[2].expected.find("(3.000, 0.000)"), std::string::npos);
  EXPECT_NE(answer.faults()[0].expected.find("dead, full"), std::string::npos);
}

// The nearest place that a refusal names, rounded as it is, is no longer off the walk.
TEST(Ask, ThePlaceNamedCanBeAsked) {
  Result<Brief> brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/wren-leat/brief.toml");
  ASSERT_TRUE(brief.ok());
  const Result<Dossier> cut = run_works(*brief, {0, "loads", false}, {});
  ASSERT_TRUE(cut.ok());
  const Asker asker(std::make_shared<Dossier>(*cut));
  for (int i = 0; i < 24; ++i) {
    Question q;
    const double turn = i * kPi / 12;
    q.persons = {{{20 * std::cos(turn), 20 * std::sin(turn)}, 800}};
    const Result<Answer> off = asker.answer(q, true);
    ASSERT_FALSE(off.ok()) << "nobody walks 20 m from the meeting";
    double x = 0, y = 0;
    const std::string& expected = off.faults()[0].expected;
    ASSERT_EQ(std::sscanf(expected.c_str(), "a place on it; the nearest is (%lf, %lf)", &x, &y), 2)
        << expected;
    q.persons = {{{x, y}, 800}};
    EXPECT_TRUE(asker.answer(q, true).ok()) << x << ", " << y;
  }
}

TEST(Ask, NoBlocksNoAnswer) {
  EXPECT_FALSE(Asker(std::make_shared<Dossier>()).answer({}).ok());
  EXPECT_FALSE(Asker(nullptr).answer({}).ok());
  Question all;
  all.without_blocks = {"low", "high"};
  EXPECT_FALSE(Asker(column_dossier(0, 0.6)).answer(all).ok());
}

}  // namespace
}  // namespace skewback
