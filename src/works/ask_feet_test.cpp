#include "works/ask_feet.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>

#include "assembly/sample_tripod.hpp"
#include "works/ask_sample.hpp"
#include "works/ask_ties.hpp"

namespace skewback {
namespace {

using sample::Arch;
using sample::arch_brief;
using sample::arch_dossier;

constexpr double kTan30 = 0.57735026918962576;
const Arch kArch{.voussoirs = 15, .thickness = 0.6};

Question without_tie(const std::string& case_id = "dead") {
  Question question;
  question.case_id = case_id;
  question.without_ties = {"west-east"};
  return question;
}

Answer asked(const std::shared_ptr<const Dossier>& dossier, const Question& question,
             bool quick = false) {
  Result<Answer> answer = Asker(dossier).answer(question, quick);
  EXPECT_TRUE(answer.ok());
  return answer.ok() ? std::move(answer).value() : Answer{};
}
std::string all_words(const Answer& answer) {
  std::string text;
  for (const std::string& line : answer.words) text += line + "\n";
  return text;
}
bool says(const Answer& answer, const std::string& what) {
  return all_words(answer).find(what) != std::string::npos;
}

/// By hand: the thrust, and what stands on the soil, of the west foot.
struct ByHand {
  double thrust = 0, vertical = 0;
};
ByHand west(const Dossier& dossier, double width_m, double length_m, double depth_m) {
  ByHand out;
  for (const ContactForce& contact : dossier.proofs[0].pads->forces.contacts) {
    if (contact.joint != 0) continue;  // between the west ground block and the first voussoir
    out.thrust += contact.force.x();
    out.vertical += contact.force.z();
  }
  out.thrust = std::abs(out.thrust);
  out.vertical = std::abs(out.vertical) + width_m * length_m * depth_m * 24e3;
  return out;
}

// Inner edge of the footing: as far as the bed of the springing reaches, half the thickness.
Brief with_footing(double outer_m, double beyond_m, double depth_m) {
  Brief brief = arch_brief(kArch);
  brief.ground.footing_width_m = outer_m;
  brief.ground.footing_length_m = beyond_m;
  brief.ground.footing_depth_m = depth_m;
  return brief;
}

TEST(AskFeet, AHeavyFootingHoldsTheThrustByItself) {
  const auto dossier = arch_dossier(kArch, with_footing(3, 1, 1));
  const Answer answer = asked(dossier, without_tie());
  EXPECT_EQ(answer.proof.verdict, Verdict::kStands) << all_words(answer);
  const ByHand foot = west(*dossier, 3 + kArch.thickness / 2, 3, 1);
  char text[64];
  std::snprintf(text, sizeof text, "resists %.1f kN (%.0f %% used)", foot.vertical * kTan30 / 1e3,
                100 * foot.thrust / (foot.vertical * kTan30));
  EXPECT_TRUE(says(answer, text)) << text << "\n" << all_words(answer);
  EXPECT_TRUE(says(answer, "the footings hold by themselves")) << all_words(answer);
}

TEST(AskFeet, TheTieHeldTheThrust) {
  const auto dossier = arch_dossier(kArch, with_footing(3, 1, 1));
  const ByHand foot = west(*dossier, 1, 1, 1);
  char text[64];
  std::snprintf(text, sizeof text, "it pulled: west-east %.1f kN", foot.thrust / 1e3);
  EXPECT_TRUE(says(asked(dossier, without_tie(), true), text)) << text;
}

struct OnABase {
  std::shared_ptr<const Dossier> dossier;
  double resists_n = 0;
};
/// The arch on footings of its own whose base resists so much: of the least thrust, and of that on
/// feet that stay.
OnABase on_a_base(const std::function<double(double least_n, double still_n)>& resists) {
  const auto stiff = arch_dossier(kArch, with_footing(0.3, 0, 0.1));
  const ByHand still = west(*stiff, 0.3 + kArch.thickness / 2, kArch.width, 0.1);
  const auto range =
      thrust_range(stiff->cut->assembly, stiff->cut->assembly.cases[0], 0, {{0, Vec3::UnitX()}});
  if (!range) throw std::runtime_error("no range of thrusts");
  Brief brief = with_footing(0.3, 0, 0.1);
  OnABase out;
  out.resists_n = resists(range->least, still.thrust);
  brief.soil.phi_cv_rad = brief.soil.phi_rad = std::atan(out.resists_n / still.vertical);
  out.dossier = arch_dossier(kArch, brief);
  return out;
}

// The thrust falls as the feet go apart, from that of feet that stay to the least; a base that
// resists something in between stops them there.
TEST(AskFeet, FeetSlideUntilTheThrustIsWhatTheBaseResists) {
  const auto [dossier, between] =
      on_a_base([](double least, double still) { return least + 0.6 * (still - least); });
  const Answer answer = asked(dossier, without_tie());
  EXPECT_EQ(answer.proof.verdict, Verdict::kUndecided);
  EXPECT_TRUE(says(answer, "come to rest")) << all_words(answer);
  const ByHand bare = [&] {
    ByHand out;
    for (const ContactForce& contact : answer.proof.pads->forces.contacts)
      if (contact.joint == 0) out.thrust += contact.force.x();
    out.thrust = std::abs(out.thrust);
    return out;
  }();
  EXPECT_NEAR(bare.thrust, between, 0.011 * between);
  const double out_m = (answer.proof.pads->moves[kArch.voussoirs].v).norm();
  EXPECT_GT(out_m, 1e-5);
  EXPECT_LT(out_m, 0.01);
}

TEST(AskFeet, FeetThatResistLessThanTheLeastThrustGiveWay) {
  const auto dossier = on_a_base([](double least, double) { return 0.9 * least; }).dossier;
  const Answer answer = asked(dossier, without_tie());
  EXPECT_EQ(answer.proof.verdict, Verdict::kUndecided);
  EXPECT_TRUE(says(answer, "it gives way: footing")) << all_words(answer);
  EXPECT_TRUE(says(answer, "no mechanism of the blocks")) << all_words(answer);
  ASSERT_TRUE(answer.governing);
  EXPECT_EQ(answer.governing->what, "footing");
  EXPECT_GT(answer.governing->share, 1);
  EXPECT_TRUE(says(answer, "Over its limit")) << all_words(answer);
}

TEST(AskFeet, SoilThatIsNotKnownIsSaid) {
  Brief brief = with_footing(3, 1, 1);
  brief.soil.kind = SoilKind::kUnknown;
  const auto dossier = arch_dossier(kArch, brief);
  const Answer answer = asked(dossier, without_tie());
  EXPECT_EQ(answer.proof.verdict, Verdict::kUndecided);
  EXPECT_TRUE(says(answer, "does not say what the soil is")) << all_words(answer);
  const ByHand foot = west(*dossier, 3 + kArch.thickness / 2, 3, 1);
  char text[64];
  std::snprintf(text, sizeof text, "a friction of %.2f", foot.thrust / foot.vertical);
  EXPECT_TRUE(says(answer, text)) << text << "\n" << all_words(answer);
}

// With the tie the soil has next to nothing to hold; a crowd raises what it pulls by what it adds
// to the thrust.
TEST(AskFeet, TiesTakeWhatTheyCanAndTheSoilTheRest) {
  const auto dossier = arch_dossier(kArch, with_footing(3, 1, 1));
  const AskedBridge bridge = asked_bridge(dossier);
  const AskedBlocks blocks = blocks_of(bridge, {});
  const Forces& forces = dossier->proofs[0].pads->forces;
  const ByHand foot = west(*dossier, 3 + kArch.thickness / 2, 3, 1);
  for (const BareFoot& held : bare_feet(bridge, blocks, forces, bridge.ties))
    EXPECT_LT(held.push_n.norm(), 0.01 * foot.thrust) << held.id;
  const std::vector<BareFoot> bare = bare_feet(bridge, blocks, forces, {});
  ASSERT_EQ(bare.size(), 2u);
  EXPECT_NEAR(bare[0].push_n.x(), -foot.thrust, 1e-3);  // the west foot is pushed west
  EXPECT_NEAR(bare[1].push_n.x(), foot.thrust, 1e-3);
  EXPECT_NEAR(bare[0].vertical_n, foot.vertical, 1e-3);
  EXPECT_NEAR(bare[0].resists_n, foot.vertical * kTan30, 1e-3);
}

// Three feet that push outwards with H, 120 degrees apart, on two ties of three. Both ties pull t;
// what is left to the soil has the least sum of squares, 2 ((H - t cos 30)^2 + (t sin 30)^2) +
// (H - 2 t cos 30)^2, at t = 0.4 sqrt(3) H: 0.529 H at the feet that lost their tie, 0.2 H at the
// third.
TEST(AskFeet, TheTiesLeftAreCountedOn) {
  sample::Tripod tripod;
  Assembly assembly = sample::tripod_assembly(tripod);
  Brief brief;
  for (int arm = 0; arm < 3; ++arm) {
    const Vec2 e = sample::tripod_bearing(arm), along(-e.y(), e.x());
    const Vec2 foot = (tripod.core + tripod.radius) * e;
    brief.plan.supports.push_back(sample::springing(std::string(1, static_cast<char>('a' + arm)),
                                                    foot - along / 2, foot + along / 2));
    brief.plan.outline.push_back(foot);
    Tie tie{"tie-" + std::to_string(arm), arm, (arm + 1) % 3};
    tie.rods = 1;
    brief.ground.ties.push_back(tie);
  }
  brief.soil.kind = SoilKind::kDrained;
  brief.soil.phi_rad = kPi / 6;
  const auto dossier = sample::dossier_of(brief, std::move(assembly));
  ASSERT_TRUE(dossier->proofs[0].pads && dossier->proofs[0].pads->found);
  const AskedBridge bridge = asked_bridge(dossier);
  const AskedBlocks blocks = blocks_of(bridge, {});
  const Forces& forces = dossier->proofs[0].pads->forces;
  const double H = bare_feet(bridge, blocks, forces, {})[0].push_n.norm();
  const TiesOut out = take_ties_out(bridge, blocks, forces, {"tie-0"});
  ASSERT_EQ(out.bare.size(), 3u);
  EXPECT_NEAR(out.pulled_n[0], H / std::sqrt(3), 1e-3 * H);
  EXPECT_NEAR(out.bare[0].push_n.norm(), std::sqrt(0.28) * H, 2e-3 * H);
  EXPECT_NEAR(out.bare[1].push_n.norm(), std::sqrt(0.28) * H, 2e-3 * H);
  EXPECT_NEAR(out.bare[2].push_n.norm(), 0.2 * H, 2e-3 * H);
}

// More weight on one side of the arch than on the other turns a foot about the vertical: the sum of
// the forces of its joint, level across it, times their distance from its middle.
TEST(AskFeet, ALoadOffTheMiddleTurnsTheFeet) {
  const auto dossier = arch_dossier(kArch, with_footing(3, 1, 1));
  Question question = without_tie();
  question.persons.push_back({{-1, 0.4}, 20e3});
  const Answer answer = asked(dossier, question, true);
  double turning = 0;
  for (const ContactForce& contact : answer.proof.pads->forces.contacts)
    if (contact.joint == 0)
      turning +=
          contact.point.y() * contact.force.x() - (contact.point.x() + 3) * contact.force.y();
  ASSERT_GT(std::abs(turning), 100);
  const AskedBridge bridge = asked_bridge(dossier);
  const auto feet = bare_feet(bridge, blocks_of(bridge, {}), answer.proof.pads->forces, {});
  EXPECT_NEAR(std::abs(feet[0].turning_nm), std::abs(turning), 1e-3 * std::abs(turning));
}

// A narrow deep base on soil of great friction: the thrust at its top, 2 m up, throws the load far
// off it.
TEST(AskFeet, ANarrowDeepFootingTips) {
  Brief brief = with_footing(0.3, 0, 2);
  brief.soil.phi_rad = brief.soil.phi_cv_rad = 1.3;
  const auto dossier = arch_dossier(kArch, brief);
  const ByHand foot = west(*dossier, 0.3 + kArch.thickness / 2, kArch.width, 2);
  // beyond a third of a base of 0.6 m, though the thrust came in at the inner edge of its bed
  ASSERT_GT(2 * foot.thrust / foot.vertical, 0.6 / 3 + 0.3);
  const AskedBridge bridge = asked_bridge(dossier);
  for (const BareFoot& bare :
       bare_feet(bridge, blocks_of(bridge, {}), dossier->proofs[0].pads->forces, {}))
    EXPECT_TRUE(bare.beyond_third) << bare.id;
  const Answer answer = asked(dossier, without_tie());
  EXPECT_EQ(answer.proof.verdict, Verdict::kUndecided);
  EXPECT_TRUE(says(answer, "tips: its load passes beyond a third")) << all_words(answer);
}

// The footings that the works found, not those that the brief would begin with.
TEST(AskFeet, TheFootingsAreThoseOfTheWorks) {
  auto dossier = std::make_shared<Dossier>(*arch_dossier(kArch, with_footing(3, 1, 1)));
  dossier->ground.emplace();
  dossier->ground->laid = dossier->brief.ground.ties;
  dossier->ground->footings.resize(2);
  for (FootingReport& footing : dossier->ground->footings) footing.size = {4, 0.5, 4.5, 1};
  const AskedBridge bridge = asked_bridge(dossier);
  const auto feet = bare_feet(bridge, blocks_of(bridge, {}), dossier->proofs[0].pads->forces, {});
  EXPECT_NEAR(feet[0].vertical_n, west(*dossier, 5, 4, 1).vertical, 1e-3);
}

// Where a foot comes to rest is where the pads' own state has it.
TEST(AskFeet, TheStateIsThatOfFeetWhereTheyWent) {
  const auto dossier =
      on_a_base([](double least, double still) { return least + 0.4 * (still - least); }).dossier;
  const AskedBridge bridge = asked_bridge(dossier);
  const AskedBlocks blocks = blocks_of(bridge, {});
  const PadModel model(blocks.assembly, dossier->stand_options);
  const GivingWay way = give_way(bridge, blocks, model, dossier->cut->assembly.cases[0], {},
                                 *dossier->proofs[0].pads, {});
  ASSERT_TRUE(way.rests) << way.reason;
  ASSERT_EQ(way.moves.size(), 2u);
  for (std::size_t k = 0; k < 2; ++k) {
    EXPECT_LT((way.moves[k].shift - way.feet[k].moved).norm(), 1e-12);
    const auto& move = way.state.moves[static_cast<std::size_t>(way.moves[k].block)];
    EXPECT_LT((move.v - way.feet[k].moved).norm(), 1e-12);
  }
  EXPECT_NEAR(way.most_m, way.feet[0].moved.norm(), 0.2 * way.most_m);
}

}  // namespace
}  // namespace skewback
