#include "erect/erect.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "erect/lowering.hpp"
#include "erect/order.hpp"

namespace skewback {
namespace {

Programme erect(double thickness_over_radius) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 3 * thickness_over_radius};
  const Assembly assembly = sample::arch_assembly(arch);
  return plan_erection(sample::barrel_brief(arch.radius, arch.width), assembly, nullptr);
}

double weight(const Block& block) { return mass_kg(block) * 9.81; }

std::vector<const Stage*> of(const Programme& programme, const std::string& what) {
  std::vector<const Stage*> stages;
  for (const Stage& stage : programme.stages) {
    if (stage.what == what) stages.push_back(&stage);
  }
  return stages;
}

constexpr double kWalkwayKg = 400;

/// Its second voussoirs from the ground carry half of a walkway each; nothing on the key.
Assembly with_walkway() {
  Assembly assembly = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.45});
  for (const std::size_t i : {1U, 5U}) {
    Block& block = assembly.blocks[i];
    block.carried = {{kWalkwayKg / 2, block.mass.centroid, Carried::kWalkway}};
  }
  return assembly;
}

TEST(Erect, OrderIsByCourseFromBothSpringingsAndTheKeyLast) {
  const Programme programme = erect(0.15);
  EXPECT_EQ(programme.order, (std::vector<std::string>{"v1", "v7", "v2", "v6", "v3", "v5", "v4"}));
  ASSERT_EQ(of(programme, "place").size(), 7u);
  EXPECT_EQ(programme.stages[0].blocks, (std::vector<std::string>{"v1"}));
  const auto lowered = of(programme, "lower");
  ASSERT_GE(lowered.size(), 4u);  // a round is the key and three courses
  EXPECT_EQ(lowered[0]->blocks, (std::vector<std::string>{"v4"}));
  EXPECT_EQ(lowered[1]->blocks, (std::vector<std::string>{"v3", "v5"}));
  EXPECT_EQ(lowered.size() % 4, 0u);
  const auto back = of(programme, "take down");
  ASSERT_EQ(back.size(), 6u);  // the last is lifted off the ground
  EXPECT_EQ(back.front()->blocks, (std::vector<std::string>{"v4"}));
  EXPECT_EQ(back.back()->blocks, (std::vector<std::string>{"v7"}));
}

TEST(Erect, LegByLegIsArmAfterArmAndTheKeyLast) {
  const Assembly assembly = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.45});
  std::vector<std::string> ids;
  for (const int i : order_of_placing(assembly, "leg by leg"))
    ids.push_back(assembly.blocks[static_cast<std::size_t>(i)].id);
  EXPECT_EQ(ids, (std::vector<std::string>{"v1", "v2", "v3", "v7", "v6", "v5", "v4"}));
}

// Seven straight-edged voussoirs stand from t/R 0.0957 (tests/foreign/few_voussoirs.py): 0.15
// stands at every step.
TEST(Erect, ThickArchStandsAtEveryStage) {
  const Programme programme = erect(0.15);
  for (const Stage& stage : programme.stages) {
    EXPECT_EQ(stage.proof.verdict, Verdict::kStands) << stage.step << ": " << stage.proof.reason;
    EXPECT_EQ(stage.proof.views.size(), 2u) << stage.step;
  }
  EXPECT_TRUE(programme.freed);
  EXPECT_TRUE(programme.keys_free);
  const auto cleared = of(programme, "clear");
  ASSERT_EQ(cleared.size(), 1u);
  EXPECT_EQ(cleared[0]->seat_force_max_n, 0);
  EXPECT_GT(cleared[0]->crown_drop_m, 0);
}

// So says the header: free is held by no more than half its weight. In fine steps, so that it is
// seen where the raising stops.
TEST(Erect, RaisedUntilTheKeyIsHeldByHalfItsWeight) {
  const Assembly assembly = sample::arch_assembly({.voussoirs = 7, .radius = 3, .thickness = 0.45});
  Brief brief = sample::barrel_brief(3, 1);
  brief.loads.working_people_pa = 0;
  brief.centring.strike_step_m = 2e-4;
  const Programme programme = plan_erection(brief, assembly, nullptr);
  EXPECT_TRUE(programme.keys_free);
  EXPECT_LE(programme.key_pull_n, weight(assembly.blocks[3]) / 2);
  EXPECT_GT(of(programme, "raise").size(), 3U);
}

// The same threshold from the other side: 0.09 is carried while it lies on the centring, and falls
// when the last seats go.
TEST(Erect, ThinArchFallsWhenTheCentringGoes) {
  const Programme programme = erect(0.09);
  for (const Stage* stage : of(programme, "place")) {
    EXPECT_EQ(stage->proof.verdict, Verdict::kStands) << stage->step << stage->proof.reason;
    EXPECT_GT(stage->seat_force_max_n, 0);
  }
  const auto cleared = of(programme, "clear");
  ASSERT_EQ(cleared.size(), 1u);
  const Stage& last = *cleared[0];
  EXPECT_EQ(last.proof.verdict, Verdict::kFalls) << last.proof.reason;
  // as soon as all seats have moved, though the pads still bear on them, lower
  EXPECT_EQ(of(programme, "lower").at(3)->proof.verdict, Verdict::kFalls);
  const CaseProof& seen = last.same_as < 0
                              ? last.proof
                              : programme.stages[static_cast<std::size_t>(last.same_as)].proof;
  EXPECT_TRUE(std::holds_alternative<Mechanism>(seen.evidence));
  EXPECT_FALSE(programme.freed);
}

// By hand: A stands on the ground by a pad of stiffness K and has gone down under its own weight
// before B is laid on it, by a pad K2, and on seats of stiffness k in all. B's weight is shared by
// k and by K and K2 one after the other, as if A weighed nothing.
TEST(Erect, WhatWasThereHasSettledBeforeTheNextIsLaid) {
  Assembly assembly;
  const auto add = [&](const std::string& id, double half, double low, double high) {
    Block& block = assembly.blocks.emplace_back();
    block.id = id;
    block.solid = box({-half, -0.5, low}, {half, 0.5, high});
    block.density = 1000;
    block.place = {.arm = 0, .course = static_cast<int>(assembly.blocks.size()) - 1};
  };
  add("ground", 0.5, -1, 0);
  add("A", 0.5, 0, 1);
  add("B", 1.5, 1, 2);
  assembly.blocks[0].fixed = true;
  const double K = 4e6, K2 = 1e6;
  for (const int i : {0, 1}) {
    Joint& joint = assembly.joints.emplace_back();
    joint.a = i;
    joint.b = i + 1;
    joint.frame.origin = Vec3(0, 0, i);
    joint.contact = {{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}, {}}};
    const double stiffness = i == 0 ? K : K2;
    joint.pad = Pad{0.01, stiffness, stiffness};
  }
  measure(assembly);
  Centring centring;
  for (const double x : {-1.2, 1.2}) {
    for (const double y : {-0.4, 0.4})
      centring.seats.emplace_back().prop = {2, Vec3(x, y, 1), Vec3::UnitZ(), 0.3};
  }
  Brief brief = sample::barrel_brief(3, 1);
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, assembly, &centring);
  const double k = 4 * PadOptions{}.prop_kn, both = K * K2 / (K + K2);
  EXPECT_EQ(programme.stages.at(0).seat_load_n, 0);
  EXPECT_NEAR(programme.stages.at(1).seat_load_n, weight(assembly.blocks[2]) * k / (k + both),
              1e-6 * weight(assembly.blocks[2]));
}

// For view 1 a seat that has moved down is gone; for the pads it is there, lower.
TEST(Erect, ViewOneDoesWithoutSeatsThatWereLowered) {
  const Programme programme = erect(0.15);
  const Brief brief = sample::barrel_brief(3, 1);
  const auto seats = [&](const Stage* stage, bool pads) {
    return stage_options(brief, programme, static_cast<std::size_t>(stage->step - 1), pads).props;
  };
  const auto lowered = of(programme, "lower");
  for (const Prop& prop : seats(lowered[0], false)) EXPECT_NE(prop.block, 3);  // the key
  EXPECT_EQ(seats(lowered[0], false).size(), 6 * 4U);
  EXPECT_TRUE(seats(lowered[3], false).empty());
  ASSERT_EQ(seats(lowered[0], true).size(), 7 * 4U);
  for (const Prop& prop : seats(lowered[0], true))
    EXPECT_EQ(prop.lowered_m, prop.block == 3 ? brief.centring.strike_step_m : 0);
  EXPECT_TRUE(seats(of(programme, "clear")[0], true).empty());
  EXPECT_EQ(seats(of(programme, "raise").back(), false).size(), 7 * 4U);
  EXPECT_LT(seats(of(programme, "raise").back(), true)[0].lowered_m, 0);
}

// A file of evidence serves for another stage only where view 1 sees the same.
TEST(Erect, StagesAreAlikeOnlyWhereBlocksSeatsAndWalkwayAre) {
  const Assembly assembly = with_walkway();
  Brief brief = sample::barrel_brief(3, 1);
  brief.walkway.width_m = 0.8;
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, assembly, nullptr);
  int alike = 0;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const Stage& stage = programme.stages[i];
    if (stage.same_as < 0) continue;
    ++alike;
    const auto k = static_cast<std::size_t>(stage.same_as);
    const Stage& other = programme.stages.at(k);
    ASSERT_LT(k, i);
    EXPECT_EQ(stage.state.present, other.state.present) << i;
    EXPECT_EQ(stage.state.laid, other.state.laid) << i;
    const auto mine = stage_options(brief, programme, i, false).props;
    const auto theirs = stage_options(brief, programme, k, false).props;
    ASSERT_EQ(mine.size(), theirs.size()) << i;
    for (std::size_t s = 0; s < mine.size(); ++s) EXPECT_EQ(mine[s].point, theirs[s].point) << i;
  }
  EXPECT_GT(alike, 0);
}

// While three legs rise block by block their fronts stay level; leg by leg one carries what the
// others do not have yet.
TEST(Erect, ThreeArmsRiseTogetherMoreEvenlyThanLegByLeg) {
  const sample::Tripod tripod;
  const Assembly assembly = sample::tripod_assembly(tripod);
  Brief brief = sample::tripod_brief(tripod.core + tripod.radius, tripod.width);
  brief.erect.compare = true;
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, assembly, nullptr);
  EXPECT_EQ(programme.seats.size(), 4u * 13u);
  ASSERT_EQ(programme.order.size(), 13u);
  EXPECT_EQ(programme.order[0], "A1");
  EXPECT_EQ(programme.order[1], "B1");
  EXPECT_EQ(programme.order.back(), "key");
  ASSERT_EQ(programme.orders.size(), 2u);
  EXPECT_EQ(programme.orders[0].order, "together");
  double heaviest = 0;
  for (const Block& block : assembly.blocks) {
    if (!block.fixed) heaviest = std::max(heaviest, weight(block));
  }
  // one leg is at most a block ahead
  EXPECT_LE(programme.orders[0].seat_uneven_max_n, heaviest);
  EXPECT_GT(programme.orders[1].seat_uneven_max_n, heaviest);
  for (const Stage* stage : of(programme, "place"))
    EXPECT_EQ(stage->proof.verdict, Verdict::kStands) << stage->step << stage->proof.reason;
}

TEST(Erect, HalfAnArchFallsWithoutItsSeats) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Brief brief = sample::barrel_brief(arch.radius, arch.width);
  const Programme programme = plan_erection(brief, assembly, nullptr);
  const std::size_t all_but_key = programme.order.size() - 2;
  StandOptions options = stage_options(brief, programme, all_but_key, false);
  EXPECT_EQ(limit_load(assembly, assembly.cases[0], options).verdict, Verdict::kStands);
  options.props.clear();
  EXPECT_EQ(limit_load(assembly, assembly.cases[0], options).verdict, Verdict::kFalls);
}

// Vertical equilibrium by hand: at each stage seats and ground together carry what is there, in
// both views.
TEST(Erect, SeatsAndGroundCarryWhatIsThere) {
  const Assembly assembly = with_walkway();
  Brief brief = sample::barrel_brief(3, 1);
  brief.walkway.width_m = 0.8;
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, assembly, nullptr);
  const auto upward = [&](const Forces& forces) {
    double up = 0;
    for (const PropForce& seat : forces.props) up += seat.force.z();
    for (const ContactForce& contact : forces.contacts) {
      const Joint& joint = assembly.joints[contact.joint];
      if (assembly.blocks[joint.a].fixed) up += contact.force.z();
      if (assembly.blocks[joint.b].fixed) up -= contact.force.z();
    }
    return up;
  };
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const Stage& stage = programme.stages[i];
    double there = 0, seats = 0;
    for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
      Block bare = assembly.blocks[b];
      bare.carried.clear();
      if (stage.state.present[b] && !bare.fixed) there += weight(bare);
    }
    there += 9.81 * kWalkwayKg / 4 * stage.state.laid;  // two legs, two halves each
    ASSERT_TRUE(stage.proof.pads->found) << i;
    EXPECT_NEAR(upward(stage.proof.pads->forces), there, 1e-6 * there) << "pads, stage " << i;
    for (const PropForce& seat : stage.proof.pads->forces.props) seats += seat.force.z();
    EXPECT_NEAR(seats, stage.seat_load_n, 1e-9 * there) << "stage " << i;
    if (stage.same_as >= 0) continue;
    const auto* view_one = std::get_if<Forces>(&stage.proof.evidence);
    ASSERT_NE(view_one, nullptr) << i;
    EXPECT_NEAR(upward(*view_one), there, 1e-6 * there) << "view 1, stage " << i;
  }
}

// What judge_centring is given is what the stages found: the same sums, on the same seats.
TEST(Erect, SeatLoadsAreThoseOfTheStages) {
  const Programme programme = erect(0.15);
  const auto loads = seat_loads(programme);
  ASSERT_FALSE(loads.empty());
  double most = 0;
  for (const Stage& stage : programme.stages) most = std::max(most, stage.seat_load_n);
  double found = 0;
  bool people = false;
  for (const SeatLoads& load : loads) {
    ASSERT_EQ(load.force.size(), programme.seats.size());
    double up = 0;
    for (const Vec3& f : load.force) up += f.z();
    if (!load.with_people) found = std::max(found, up);
    people = people || load.with_people;
  }
  EXPECT_NEAR(found, most, 1e-9 * most);
  EXPECT_TRUE(people);
  EXPECT_EQ(loads.front().stage, "place v1 (step 1)");
  EXPECT_TRUE(loads[1].stage.starts_with("place v1 (step 1), people")) << loads[1].stage;
}

// The step that is named when the first round frees the bridge does what is said of it.
TEST(Lowering, AStepThatFreesAtOnceIsToldASmallerOne) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 0.6};
  Assembly assembly = sample::arch_assembly(arch);
  for (Joint& joint : assembly.joints) joint.pad = Pad{0.01, 2e8, 2e8};
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.centring.travel_m = 0.03;
  brief.centring.strike_step_m = 0.01;
  const Programme coarse = plan_erection(brief, assembly, nullptr);
  ASSERT_TRUE(coarse.freed);
  ASSERT_FALSE(coarse.remarks.empty());
  const std::string& words = coarse.remarks.back();
  const auto at = words.find("strike_step at ");
  ASSERT_NE(at, std::string::npos) << words;
  brief.centring.strike_step_m = 1e-3 * std::stod(words.substr(at + 15));
  const Programme fine = plan_erection(brief, assembly, nullptr);
  EXPECT_TRUE(fine.freed);
  const double rounds = fine.lowering_m / brief.centring.strike_step_m;
  EXPECT_NEAR(rounds, std::stod(words.substr(words.find("about ") + 6)), 1.01) << words;
  EXPECT_GT(rounds, 1.5);
  for (const std::string& remark : fine.remarks)
    EXPECT_EQ(remark.find("strike_step"), std::string::npos) << remark;
}

// A straight rib on feet at 0, 1 and 3 m, the middle one highest, and a seat 0.5 m beyond the last.
// By hand: the middle goes first; halfway along the first bay a seat goes by a half of it, 2 m
// along by a half; beyond the last foot it goes up by a quarter, and down by 1.25 when that foot
// goes.
TEST(Lowering, RowByRowFromTheHighestFoot) {
  Centring centring;
  Rib& rib = centring.ribs.emplace_back();
  rib.id = "R1";
  rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  rib.top = {{-0.2, 0.9}, {1, 1.2}, {3, 0.6}, {3.6, 0.5}};
  rib.feet = {0, 1, 3};
  const double x[] = {0.5, 2, 3.5};
  for (int k = 0; k < 3; ++k) {
    Seat& seat = centring.seats.emplace_back();
    seat.rib = "R1";
    seat.along_m = x[k];
    seat.prop.block = k;
  }
  std::vector<Prop> props;
  for (const Seat& seat : centring.seats) props.push_back(seat.prop);
  const auto rows = lowering_rows({}, &centring, props);
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_THAT(rows[0].share, testing::ElementsAre(0.5, 0.5, -0.25));  // foot at 1 m
  EXPECT_THAT(rows[1].share, testing::ElementsAre(0.5, 0, 0));        // at 0 m, 0.95 high
  EXPECT_THAT(rows[2].share, testing::ElementsAre(0, 0.5, 1.25));     // at 3 m
  EXPECT_EQ(rows[0].words, "row 1 of the feet, from the crown: R1-2");
  EXPECT_EQ(rows[1].blocks, (std::vector<int>{0}));
}

// Feet that nearly face one another across the crown go together, however the rib is divided; those
// of one side never do.
TEST(Lowering, NoSideOfTheCrownGoesFirst) {
  Centring centring;
  Rib& rib = centring.ribs.emplace_back();
  rib.id = "R1";
  rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  for (int i = -20; i <= 20; ++i) rib.top.emplace_back(0.1 * i, 1 - 0.0025 * i * i);  // 1 m high
  rib.feet = {-1.9, -0.7, 0.63, 1.8};  // 0.0975, 0.8775, 0.9008, 0.19 high
  auto rows = lowering_rows({}, &centring, {});
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].words, "row 1 of the feet, from the crown: R1-2, R1-3");
  EXPECT_EQ(rows[1].words, "row 2 of the feet, from the crown: R1-1, R1-4");
  rib.feet = {0.4, 0.6, 1.8};
  rows = lowering_rows({}, &centring, {});
  EXPECT_EQ(rows.size(), 3u);
}

// Two ribs side by side, the second measured with the last digits off: feet that mirror one another
// go down in one row, on both ribs.
TEST(Lowering, FeetAsHighGoDownTogether) {
  Centring centring;
  for (const double noise : {0.0, 1e-9}) {
    Rib rib;
    rib.id = "R" + std::to_string(centring.ribs.size() + 1);
    rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
    rib.top = {{-3, 0}, {-1, 1}, {0, 1.5}, {1, 1 + noise}, {3, noise}};
    rib.feet = {-3, -1, 1, 3};
    centring.ribs.push_back(rib);
  }
  const auto rows = lowering_rows({}, &centring, {});
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].words, "row 1 of the feet, from the crown: R1-2, R1-3, R2-2, R2-3");
  EXPECT_EQ(rows[1].words, "row 2 of the feet, from the crown: R1-1, R1-4, R2-1, R2-4");
}

}  // namespace
}  // namespace skewback
