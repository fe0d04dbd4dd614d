// Every check of a small level centring, worked by hand: statics of beams, EN 1990 (gamma_G 1.35,
// gamma_Q 1.5) and EN 1995-1-1, from memory. Defaults of the brief: k_mod 0.8, gamma_M 1.2;
// f_m 33, f_v 3.5, in the sheet's plane 15, posts 21, across the grain 2.5 MPa; E 7.5 GPa.

#include <gtest/gtest.h>

#include <cmath>
#include <tuple>

#include "centring/jack.hpp"
#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

using sample::Case;
using sample::find;
using sample::LevelCentring;

constexpr double kSheet = 0.0177, kDeep = 0.3;
constexpr double kBlocks = 2000 * kGravity * 2.4 * 1 * 0.3;  // N, all of them
constexpr double kOwn = 685 * kGravity * kSheet * kDeep;     // N per m of rib

/// Two ribs on two feet, no ribs across, all blocks there, weight alone.
Case two_feet() {
  Case on = sample::bare_case({0.2, 2.2});
  on.loads = {on.loads.back()};
  return on;
}

// (8.6 a to f) worked apart in Python for C24, t1 38 mm along the grain, t2 100 mm across it,
// M12 4.6: f_h,1 25.256, f_h,2 16.507 MPa, M_y 76,745 N mm: 11517, 19809, 7196, 5397, 8243, 6974 N.
// 25 mm and M10: 3594 N; 50 mm and M20: 10842 N.
TEST(JudgeByHand, BoltThroughBoardAndPost) {
  EXPECT_NEAR(bolt_in_two_n(0.038, 0.1, 350, 0.012, 400e6), 5397, 1);
  EXPECT_NEAR(bolt_in_two_n(0.025, 0.1, 350, 0.010, 400e6), 3594, 1);
  EXPECT_NEAR(bolt_in_two_n(0.050, 0.1, 350, 0.020, 400e6), 10842, 1);
  // thick pieces: the bolt yields twice; a thin board: it is crushed, f_h,1 t d
  EXPECT_NEAR(bolt_in_two_n(1, 1, 350, 0.012, 400e6), 6974, 1);
  EXPECT_NEAR(bolt_in_two_n(0.001, 1, 350, 0.012, 400e6), 25.256 * 12, 1);
}

// Boards of 50 mm at sin a = 1.1 / 1.304 to the posts, k_mod 0.8, gamma_M 1.3: M10 3102 N, M12
// 3833 N, M16 5447 N, M20 too thick for a board of 100 mm. To the edge of the post (2 + 2 sin a) d
// = 36.9, 44.2, 59.0 mm: posts of 100 mm take M12, of 120 mm M16.
TEST(JudgeByHand, TheLeastBoltThatHoldsTheEndsOfBraces) {
  for (const auto& [post_m, force_n, bolt, carries_n] : {std::tuple(0.1, 3000.0, "M10", 3102.0),
                                                         {0.1, 3500.0, "M12", 3833.0},
                                                         {0.1, 5000.0, "M12", 3833.0},
                                                         {0.12, 5000.0, "M16", 5447.0},
                                                         {0.2, 7000.0, "M16", 5447.0}}) {
    Case on{LevelCentring{}};
    on.brief.centring.post_m = post_m;
    Judged judged;
    const auto words = check_brace_ends(on.brief, on.centring, force_n, judged);
    ASSERT_EQ(words.size(), 1U);
    EXPECT_NE(words[0].find(bolt), std::string::npos) << words[0];
    EXPECT_EQ(words[0].find("does not do") != std::string::npos, force_n > carries_n);
    EXPECT_NEAR(judged.worst.all().at(0).resistance, carries_n, 1);
    EXPECT_NEAR(judged.asks.brace_ends.used, force_n / carries_n, 1e-3);
    EXPECT_EQ("M" + std::to_string(std::lround(1e3 * judged.brace_bolt_m)), bolt);
  }
}

// 7 d, at least 80 mm, to the end of the board; an M10 asks for 36.9 mm to the edge of its post.
TEST(JudgeByHand, BoltsOfBracesHaveTheirDistances) {
  Case on{LevelCentring{}};
  for (Stick& stick : on.centring.sticks) stick.beyond_m = 0.08;
  Judged short_end, thin_post;
  const auto words = check_brace_ends(on.brief, on.centring, 3500, short_end);
  EXPECT_NE(words.at(0).find("M10"), std::string::npos) << words[0];
  EXPECT_GT(short_end.worst.all().at(0).utilisation, 1);
  on.brief.centring.post_m = 0.07;
  EXPECT_TRUE(check_brace_ends(on.brief, on.centring, 500, thin_post).empty());
  EXPECT_EQ(thin_post.worst.all().at(0).name, "bolt in a post");
  EXPECT_NEAR(thin_post.worst.all().at(0).demand, 0.0369, 1e-4);
  EXPECT_NEAR(thin_post.worst.all().at(0).resistance, 0.035, 1e-12);
}

// Boards of 2 m that cross at 0.8 m: alone it buckles over 2 m; packed to the other, over 1.2 m.
TEST(JudgeByHand, OnlyPackedBracesHoldEachOther) {
  Case on{LevelCentring{}};
  const Stick one{"a", "brace", {0, 0, 0}, {0, 1.2, 1.6}, 0.025, 0.1, 0.112, {0.0625, 0, 0}};
  const Stick two{"b", "brace", {0, 0.96, 0}, {0, 0, 1.28}, 0.025, 0.1, 0.112, {-0.0625, 0, 0}};
  on.centring.sticks = {one, two};
  EXPECT_NEAR(brace_n(on.brief, on.centring, one), strut_n(on.brief, one, 2), 1e-9);
  const Vec3 at = one.from + 0.4 * (one.to - one.from);
  on.centring.sticks.push_back(
      {"axb", "packing", at - Vec3(0.05, 0, 0), at + Vec3(0.05, 0, 0), 0.1, 0.1, 0, Vec3::Zero()});
  EXPECT_NEAR(brace_n(on.brief, on.centring, one), strut_n(on.brief, one, 1.2), 1e-9);
}

double design_sum(const Case& on) {
  double sum = 0;
  for (const FootFinding& foot : on.centring.foot_findings) sum += foot.design_n;
  return sum;
}

void expect_check(const Centring& centring, const std::string& name, double demand,
                  double resistance) {
  const CentringCheck* check = find(centring, name);
  ASSERT_NE(check, nullptr) << name;
  EXPECT_NEAR(check->demand / demand, 1, 1e-3) << name;
  EXPECT_NEAR(check->resistance / resistance, 1, 1e-6) << name;
}

// Eight seats of a rib, P each, at 0.15, 0.45 ... 2.25 m; feet at 0.2 and 2.2 m. In the middle
// 4 P x 1.0 - P (1.05 + 0.75 + 0.45 + 0.15) = 1.6 P and w (1.2 x 1.0 - 1.2 x 0.6) = 0.48 w; beside
// a foot 3 P and w x 1.0. A third of 33 MPa less: 0.8 / 1.2.
TEST(JudgeByHand, RibOnTwoFeet) {
  Case on = two_feet();
  on.judge();
  const double p = kBlocks / 16, moment = 1.35 * (1.6 * p + 0.48 * kOwn);
  const double stress = 6 * moment / (kSheet * kDeep * kDeep);
  expect_check(on.centring, "bending", stress, 22e6);
  expect_check(on.centring, "shear", 1.5 * 1.35 * (3 * p + kOwn) / (kSheet * kDeep), 3.5e6 / 1.5);
  expect_check(on.centring, "bearing under a seat", 1.35 * p, 10e6 * 0.1 * kSheet);
  // (6.32), nothing holds it sideways over its 2.4 m; E_0.05 5 GPa, lambda_rel 4.4
  const double critical = 0.78 * kSheet * kSheet * 5e9 / (kDeep * 2.4);
  const double share = stress / (22e6 * critical / 33e6);
  expect_check(on.centring, "stability sideways", share * share, 1);
}

TEST(JudgeByHand, LaggingsPressTheGrainAcross) {
  Case on = two_feet();
  on.brief.centring.seats = "laggings";
  on.judge();
  expect_check(on.centring, "bearing under a seat", 1.35 * kBlocks / 16,
               2.5e6 / 1.5 * 0.1 * kSheet);
}

// Half of all on each of two feet a rib. Posts 0.7 m tall and 0.1 m square: lambda 24.25,
// lambda_rel 0.500 with E_0.05 5 GPa, k 0.645, k_c 0.950.
TEST(JudgeByHand, WhatIsUnderARib) {
  Case on = two_feet();
  on.judge();
  const double foot = 1.35 * (kBlocks + 2 * 2.4 * kOwn) / 4;
  const double relative = 0.7 / (0.1 / std::sqrt(12)) / kPi * std::sqrt(21e6 / 5e9);
  const double k = 0.5 * (1 + 0.2 * (relative - 0.3) + relative * relative);
  const double factor = 1 / (k + std::sqrt(k * k - relative * relative));
  EXPECT_NEAR(factor, 0.950, 5e-4);
  expect_check(on.centring, "post", foot, factor * 14e6 * 0.01);
  expect_check(on.centring, "rib on a post's head", foot, 10e6 * kSheet * 0.1);
  expect_check(on.centring, "wedge under a post", foot, 2.5e6 / 1.5 * 0.01);
  on.brief.centring.feet = "jacks";
  on.judge();
  const double bore = jack_for(on.brief, on.centring).thread.outer_m + 0.002;
  expect_check(on.centring, "post on its jack", foot, 14e6 * (0.01 - kPi / 4 * bore * bore));
}

// A board that falls 0.5 m in 1.2 m (cosine 12/13) from 0.15 m under a post's head to another's
// foot, each post 0.7 m: lever 12/13 x 0.15. A second on the other side adds its own; one across
// adds nothing.
TEST(JudgeByHand, BracesBendThePostTheyEndOn) {
  Case on = two_feet();
  const Stick post = on.centring.sticks[0];
  const Vec3 head(0, 0, 0.55);
  auto& sticks = on.centring.sticks;
  const auto board = [&](const Vec3& way) {
    sticks.push_back({"B", "brace", post.from + head, post.from + head + way, 0.025, 0.1});
  };
  const auto lever = [&] { return brace_lever_m(on.centring, post, Vec3::UnitX()); };
  EXPECT_EQ(lever(), 0);
  board({1.2, 0, -0.5});
  EXPECT_NEAR(lever(), 12.0 / 13 * 0.15, 1e-12);
  board({0, 1.2, -0.5});
  EXPECT_NEAR(lever(), 12.0 / 13 * 0.15, 1e-12);
  board({-1.2, 0, -0.5});
  EXPECT_NEAR(lever(), 2 * 12.0 / 13 * 0.15, 1e-12);
  sticks.push_back(
      {"low", "brace", post.from + Vec3(0, 0, 0.3), post.from + Vec3(0.4, 0, 0.6), 0.025, 0.1});
  EXPECT_NEAR(lever(), 2 * 12.0 / 13 * 0.15, 1e-12) << "the upper ends bend it more";

  // 2 kN down it and 150 Nm: W 0.1^3 / 6, strength along the grain 14 MPa in design; the board
  // across holds it 0.55 m up
  Judged judged;
  judged.of_foot.resize(on.centring.feet.size());
  check_bent_post(on.brief, on.centring, 0, 2000, 150, "a stage", judged);
  const double buckles = 2000 / strut_n(on.brief, post, 0.55);
  ASSERT_EQ(judged.worst.all().size(), 1U);
  EXPECT_NEAR(judged.worst.all()[0].utilisation, buckles + 150 / (1e-3 / 6 * 14e6), 1e-9);
}

TEST(JudgeByHand, APostIsFreeInTheWorseOfTwoDirections) {
  Case on = two_feet();
  const auto brace_all = [&](const Vec3& way) {
    for (const CentringFoot& foot : on.centring.feet) {
      const Vec3 middle = (foot.at + foot.head) / 2;
      on.centring.sticks.push_back({"B", "brace", middle - way, middle, 0.05, 0.1});
    }
  };
  on.judge();
  const double free = find(on.centring, "post")->resistance;
  brace_all({0.5, 0, 0.2});
  on.judge();
  EXPECT_EQ(find(on.centring, "post")->resistance, free) << "free across the ribs";
  brace_all({0, 0.5, 0.2});
  on.judge();
  EXPECT_GT(find(on.centring, "post")->resistance, free);
  EXPECT_NE(find(on.centring, "post")->place.find("free over 0.35 m"), std::string::npos);
}

TEST(JudgeByHand, FactorsAreOnBlocksAndRibsAlike) {
  Case on = two_feet();
  on.judge();
  const double all = kBlocks + 2 * 2.4 * kOwn;
  EXPECT_NEAR(design_sum(on), 1.35 * all, 1e-6 * all);
  on.brief.centring.working_load_pa = 1000;
  on.judge();
  EXPECT_NEAR(design_sum(on), 1.35 * all + 1.5 * 1000 * 2.4, 1e-6 * all);
  // people without their stage of weight alone: all of it as weight
  on.loads[0].with_people = true;
  on.judge();
  EXPECT_NEAR(design_sum(on), 1.35 * all, 1e-6 * all);
}

TEST(JudgeByHand, FeetMustGoDownByWhatSpringsBackAndSettles) {
  Case on = two_feet();
  on.brief.required.footing_tolerance_m = 0.015;
  on.judge();
  const double sinks = on.centring.rib_findings[0].deflection_m;
  EXPECT_GT(sinks, 1e-4);
  expect_check(on.centring, "deflection", sinks, 0.003);
  expect_check(on.centring, "travel down", sinks + 0.003, 0.04);
  expect_check(on.centring, "travel up", 0.015, 0.02);
  // the bridge follows by 2 mm; or the order of work goes down by 30 mm, a whole step
  judge_centring(on.brief, on.assembly, on.loads, on.centring, {0.002, 0});
  expect_check(on.centring, "travel down", sinks + 0.005, 0.04);
  judge_centring(on.brief, on.assembly, on.loads, on.centring, {0.002, 0.03});
  expect_check(on.centring, "travel down", 0.03, 0.04);
}

// Ribs across are 0.2 m deep: slots meet in the middle of what both have, 0.1 m under the top.
TEST(JudgeByHand, ASlotTakesHalfOfWhatBothRibsHave) {
  Case on({});
  for (Rib& rib : on.centring.ribs) {
    if (rib.is_cross) rib.bottom = {{0, -0.2}, {1, -0.2}};
  }
  for (const RibBeam& beam : rib_beams(on.brief, on.centring)) {
    const bool across = on.centring.ribs[static_cast<std::size_t>(beam.rib)].is_cross;
    ASSERT_FALSE(beam.crossing_left_m.empty());
    for (const double left : beam.crossing_left_m)
      EXPECT_NEAR(left, (across ? 0.1 : 0.2) - 0.5e-3, 1e-12);
  }
}

// A rib that rises at 3 : 4: what a slot leaves, square to it, is 0.8 of that upright.
TEST(JudgeByHand, ASlotInASteepRibLeavesLess) {
  Case on({});
  for (Rib& rib : on.centring.ribs) {
    if (rib.is_cross) continue;
    for (Polygon* line : {&rib.top, &rib.bottom})
      for (Vec2& p : *line) p.y() += 0.75 * p.x();
  }
  for (Rib& rib : on.centring.ribs)
    if (rib.is_cross) rib.top.clear();  // not found: half is left
  for (const RibBeam& beam : rib_beams(on.brief, on.centring)) {
    if (on.centring.ribs[static_cast<std::size_t>(beam.rib)].is_cross) continue;
    ASSERT_FALSE(beam.crossing_left_m.empty());
    for (const double left : beam.crossing_left_m)
      EXPECT_NEAR(left, 0.8 * (kDeep / 2 - 0.5e-3), 1e-9);
  }
}

// Braces stand at 0.7 : 0.5 m across the ribs, three of them, and at 0.7 : 1.1 m along, two.
TEST(JudgeByHand, BracesPressOnTheirPosts) {
  Case bare({}), braced({});
  for (Case* on : {&bare, &braced}) {
    on->loads = {on->loads.back()};
    on->brief.centring.working_load_pa = 0;
  }
  bare.brief.centring.horizontal_share = 0;
  bare.judge();
  braced.judge();
  const double sideways = 0.025 * 1.35 * kBlocks;
  for (std::size_t f = 0; f < bare.centring.feet.size(); ++f)
    EXPECT_NEAR(braced.centring.foot_findings[f].design_n - bare.centring.foot_findings[f].design_n,
                sideways / 3 * 0.7 / 0.5, 1e-6 * sideways);
  expect_check(braced.centring, "feet slide", sideways, 0.3 * 1.35 * kBlocks / 2);
}

// One rib pushes by H on its top, 0.3 m over its feet, towards its first foot, and its brace (0.7
// on 2.2 m) holds the last: N = W/2 - 0.3/2.2 H there, and the brace presses with 0.7/2.2 H.
TEST(JudgeByHand, ARibPressesOnThePostThatItsBraceHolds) {
  LevelCentring with;
  with.feet = {0.1, 2.3};
  with.crossings = {};
  Case on(with);
  on.loads = {on.loads.back()};
  on.brief.centring.working_load_pa = on.brief.centring.horizontal_share = 0;
  for (std::size_t s = 0; s < on.centring.seats.size(); ++s) {
    if (on.centring.seats[s].rib == "R1") on.loads[0].force[s].x() = 0.2 * on.loads[0].force[s].z();
  }
  on.judge();
  const double half = (kBlocks / 2 + 2.4 * kOwn) / 2, push = 0.2 * kBlocks / 2;
  EXPECT_NEAR(on.centring.foot_findings[1].design_n, 1.35 * (half + 0.4 / 2.2 * push), 1e-6 * half);
}

/// What a rib is found to bear in a state given by hand.
struct ByHand {
  Case on{LevelCentring{}};
  std::vector<RibBeam> beams = rib_beams(on.brief, on.centring);
  const RibBeam& rib = *std::ranges::find(beams, 0, &RibBeam::rib);
  SeatCase from{"by hand", true, std::vector<Vec3>(on.centring.seats.size(), Vec3::Zero()), 1};
  BeamState state;
  explicit ByHand(const BeamCut& everywhere) {
    state.balances = true;
    state.cuts.assign(rib.beam->shape().axis.size() - 1, {everywhere, everywhere});
  }
  [[nodiscard]] double demand(const std::string& name) const {
    Judged out;
    out.of_rib.resize(on.centring.ribs.size());
    check_rib(on.brief, on.centring, {rib, from, state, {}}, out);
    const auto& all = out.worst.all();
    const auto it = std::ranges::find(all, name, &CentringCheck::name);
    return it == all.end() ? 0 : it->demand;
  }
};

// Longest between ribs across: 1.1 m. lambda 215, lambda_rel 4.44: k_c 0.0486.
TEST(JudgeByHand, OnlyASqueezedRibBuckles) {
  const double n = 1000, left = kDeep / 2 - 0.5e-3;
  const double relative = 1.1 * std::sqrt(12) / kSheet / kPi * std::sqrt(21e6 / 5e9);
  const double k = 0.5 * (1 + 0.2 * (relative - 0.3) + relative * relative);
  const double carries = 14e6 / (k + std::sqrt(k * k - relative * relative));
  const ByHand squeezed({0, 0, -n}), pulled({0, 0, n});
  EXPECT_NEAR(squeezed.demand("stability sideways"), n / (kSheet * kDeep) / carries, 1e-9);
  EXPECT_EQ(pulled.demand("stability sideways"), 0);
  // in a slot from above, N runs (h - left) / 2 over the middle of what is left
  const double net = kSheet * left, stress = n / net + 6 * n * (kDeep - left) / 2 / (net * left);
  for (const ByHand* state : {&squeezed, &pulled})
    EXPECT_NEAR(state->demand("bending"), stress, 1e-9 * stress);
}

// Sagging M beside a push N over the middle of what a slot from above leaves: both bend it alike.
// A pull takes from it, and so does a push on a rib across, which is slotted from below.
TEST(JudgeByHand, WhatASlotLeavesIsBentByTheForceAlong) {
  const double n = 1000, m = 100, left = kDeep / 2 - 0.5e-3, net = kSheet * left;
  const double arm = (kDeep - left) / 2, along = n / net;
  const ByHand pushed({m, 0, -n}), pulled({m, 0, n});
  ByHand across({m, 0, -n});
  across.on.centring.ribs[0].is_cross = true;
  const auto bent = [&](double by) { return 6 * by / (net * left); };
  EXPECT_NEAR(pushed.demand("bending"), along + bent(m + n * arm), 1);
  const double whole = n / (kSheet * kDeep) + 6 * m / (kSheet * kDeep * kDeep);
  EXPECT_NEAR(pulled.demand("bending"), std::max(whole, along + bent(std::abs(m - n * arm))), 1);
  EXPECT_NEAR(across.demand("bending"), pulled.demand("bending"), 1);
}

// F at 0.75 m, between ribs across at 0.1 and 1.2 m: F x 0.65 x 0.45 / 1.1.
TEST(JudgeByHand, APushSquareToARibBendsItsSheetFlat) {
  ByHand across({});
  const double push = 100;
  for (std::size_t s = 0; s < across.from.force.size(); ++s) {
    const Seat& seat = across.on.centring.seats[s];
    if (seat.rib == "R1" && std::abs(seat.along_m - 0.75) < 1e-9)
      across.from.force[s] = {0, push, 0};
  }
  const double stress = 6 * push * 0.65 * 0.45 / 1.1 / (kDeep * kSheet * kSheet);
  EXPECT_NEAR(across.demand("bending sideways"), stress, 1e-6 * stress);
}

}  // namespace
}  // namespace skewback
