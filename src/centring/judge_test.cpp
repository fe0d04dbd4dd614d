// judge_centring on a small centring made by hand.

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "centring/judge_parts.hpp"
#include "centring/judge_timber.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

using sample::Case;
using sample::find;
using sample::LevelCentring;
using sample::says;

SeatLoads with_people(const SeatLoads& weight, double each_n) {
  SeatLoads out = weight;
  out.stage += ", 1.5 people everywhere";
  out.with_people = true;
  for (Vec3& f : out.force) f.z() += each_n;
  return out;
}

TEST(Judge, FeetCarryAllThatIsThere) {
  Case on({});
  on.judge();
  // ribs: two of 2.4 m along, three of 1 m across, all 0.3 m deep
  const double own = on.brief.centring.density * kGravity * on.brief.centring.sheet_thickness_m *
                     0.3 * (2 * 2.4 + 3 * 1.0);
  const double blocks = 2000 * kGravity * 2.4 * 1 * 0.3;
  double sum = 0;
  for (const FootFinding& foot : on.centring.foot_findings) sum += foot.load_max_n;
  EXPECT_NEAR(on.centring.load_max_n, blocks, 1e-6 * blocks);
  // each foot at its own worst stage, so the sum may pass the load of one stage
  EXPECT_GE(sum, blocks + own - 1e-6 * blocks);
  on.loads = {on.loads.back()};
  on.centring = sample::level_centring(on.with);
  on.judge();
  sum = 0;
  for (const FootFinding& foot : on.centring.foot_findings) sum += foot.load_max_n;
  EXPECT_NEAR(sum, blocks + own, 1e-6 * blocks);
  EXPECT_NEAR(on.centring.rib_findings[0].load_n, blocks / 2, 1e-6 * blocks);
}

TEST(Judge, EveryKindIsThere) {
  Case on({});
  on.judge();
  for (const char* name : {"bending", "shear", "stability sideways", "bearing under a seat",
                           "rib on a post's head", "post", "wedge under a post", "deflection",
                           "travel down", "travel up", "feet slide", "sideways"}) {
    const CentringCheck* check = find(on.centring, name);
    ASSERT_NE(check, nullptr) << name;
    EXPECT_GT(check->demand, 0) << name;
    EXPECT_NEAR(check->utilisation, check->demand / check->resistance, 1e-12) << name;
    EXPECT_FALSE(check->source.empty() || check->place.empty() || check->stage.empty()) << name;
  }
  EXPECT_FALSE(on.centring.rib_findings[0].governs.empty());
}

TEST(Judge, SlotsHalveTheDepth) {
  Case plain({}), slotted({});
  plain.centring.ribs[0].crossings = plain.centring.ribs[1].crossings = {};
  plain.judge();
  slotted.judge();
  // the moment is greatest over the middle foot, where a rib crosses
  const double whole = 0.3, left = 0.15 - 0.5e-3;
  EXPECT_NEAR(find(slotted.centring, "bending")->demand / find(plain.centring, "bending")->demand,
              whole * whole / (left * left), 4e-3);  // ribs across hand over their weight
  EXPECT_NE(find(slotted.centring, "bending")->place.find("slot"), std::string::npos);
}

TEST(Judge, PeopleCountOnce) {
  Case alone({}), with({});
  alone.loads = {alone.loads.back()};
  alone.brief.centring.horizontal_share = with.brief.centring.horizontal_share = 0;
  with.brief.centring.working_load_pa = alone.brief.centring.working_load_pa = 0;
  with.loads = {with.loads.back(), with_people(with.loads.back(), 100)};
  alone.judge();
  with.judge();
  double more = 0;
  for (std::size_t f = 0; f < with.centring.feet.size(); ++f)
    more += with.centring.foot_findings[f].design_n - alone.centring.foot_findings[f].design_n;
  EXPECT_NEAR(more, 100.0 * with.centring.seats.size(), 0.1);
  // without its stage beside it all of it is taken as weight
  Case lost({});
  lost.loads = {with_people(lost.loads.back(), 100)};
  lost.judge();
  EXPECT_TRUE(says(lost.centring, "no stage of weight alone"));
}

TEST(Judge, FootThatWouldBePulledLifts) {
  Case on({});
  on.brief.centring.density = 1;
  on.loads.resize(1);  // a block on the first span alone
  on.brief.centring.working_load_pa = 0;
  on.judge();
  EXPECT_TRUE(says(on.centring, "lift, and the rib was judged without them there: R1-3, R2-3;"));
}

TEST(Judge, RibThatTips) {
  LevelCentring with;
  with.feet = {1.0, 1.4};
  with.braced = false;
  Case on(with);
  on.loads.resize(1);
  on.brief.centring.working_load_pa = 0;
  on.judge();
  EXPECT_TRUE(says(on.centring, "tip over their feet: R1 (first at place b1)"));
  ASSERT_NE(find(on.centring, "tipping over an end foot"), nullptr);
  EXPECT_GT(find(on.centring, "tipping over an end foot")->utilisation, 1);
}

// It balances exactly where no end foot is tipped over, whatever way of letting feet go was taken.
TEST(Judge, BalancesUnlessItTips) {
  LevelCentring with;
  with.feet = {0.5, 0.9, 1.3, 1.9};
  for (const bool braced : {false, true}) {
    with.braced = braced;
    const Centring centring = sample::level_centring(with);
    Brief brief;
    std::vector<RibBeam> beams = rib_beams(brief, centring);
    RibBeam& on = *std::ranges::find(beams, 0, &RibBeam::rib);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0, 1);
    int tipped = 0, lifted = 0;
    for (int trial = 0; trial < 400; ++trial) {
      std::vector<BeamLoad> loads;
      for (const std::size_t i : on.seat_at) {
        if (share(random) < 0.6) continue;
        const double n = std::pow(10, 4 * share(random));
        loads.push_back({i, {n * (share(random) - 0.5), -n}, 0.15});
      }
      for (std::size_t i = 0; i < on.own_n.size(); ++i) loads.push_back({i, {0, -on.own_n[i]}, 0});
      const BeamState state = on.beam->solve(loads);
      Judged out;
      out.of_rib.resize(centring.ribs.size());
      check_tipping(brief, centring, on, loads, {}, out);
      const auto worst = out.worst.all();
      const double used = worst.empty() ? 0 : worst[0].utilisation;
      if (std::abs(used - 1) < 1e-6) continue;
      EXPECT_EQ(state.balances, used < 1) << "trial " << trial << ", used " << used;
      tipped += state.balances ? 0 : 1;
      if (!state.balances) continue;
      double up = 0, down = 0, moment = 0, size = 0;
      for (const BeamLoad& load : loads) {
        down -= load.force.y();
        const double arm = on.beam->shape().axis[load.at].x();
        moment += arm * load.force.y() - load.above_m * load.force.x();
        size += load.force.norm();
      }
      for (std::size_t k = 0; k < state.reaction.size(); ++k) {
        const BeamSupport& support = on.beam->supports()[k];
        EXPECT_GE(state.reaction[k].y(), -1e-6 * size);
        up += state.reaction[k].y();
        moment += on.beam->shape().axis[support.at].x() * state.reaction[k].y() +
                  support.below_m * state.reaction[k].x();
        lifted += state.reaction[k].y() == 0 ? 1 : 0;
      }
      EXPECT_NEAR(up, down, 1e-6 * size);
      EXPECT_NEAR(moment, 0, 1e-6 * size);
    }
    EXPECT_GT(tipped, 10);
    EXPECT_GT(lifted, 10);
  }
}

TEST(Judge, RibWithoutSupport) {
  Case on({});
  std::erase_if(on.centring.feet, [](const CentringFoot& foot) { return foot.rib == "R2"; });
  on.centring.ribs[1].feet.clear();
  on.judge();
  // R2 and the ribs across lean on each other: none of them is carried
  const CentringCheck* check = find(on.centring, "supports of a rib");
  ASSERT_NE(check, nullptr);
  EXPECT_GT(check->utilisation, 1);
}

TEST(Judge, RibWithoutFeetLiesOnOthers) {
  LevelCentring with;
  with.ribs = 3;
  Case on(with);
  std::erase_if(on.centring.feet, [](const CentringFoot& foot) { return foot.rib == "R2"; });
  on.centring.ribs[1].feet.clear();
  on.loads = {on.loads.back()};
  on.judge();
  EXPECT_EQ(find(on.centring, "supports of a rib"), nullptr);
  const double blocks = 2000 * kGravity * 2.4 * 1 * 0.3;
  double sum = 0;
  for (const FootFinding& foot : on.centring.foot_findings) sum += foot.load_max_n;
  EXPECT_GT(sum, blocks);
  EXPECT_LT(sum, 1.01 * blocks + 400);  // own weight of about 300 N
}

TEST(Judge, WithoutBracesPostsHoldByTheirWidth) {
  LevelCentring with;
  with.braced = false;
  Case on(with);
  on.judge();
  EXPECT_EQ(find(on.centring, "sideways"), nullptr);
  const CentringCheck* check = find(on.centring, "sideways, no braces");
  ASSERT_NE(check, nullptr);
  // posts 0.7 m tall, 0.1 m wide, heads as wide as the sheet across: the share is below 0.1/0.7
  EXPECT_NEAR(check->resistance / (check->demand / on.brief.centring.horizontal_share),
              (0.1 + on.brief.centring.sheet_thickness_m) / 2 / 0.7 / 2, 1e-9);
}

TEST(Judge, SlopingSeatsPushAlong) {
  Case on({});
  for (SeatLoads& load : on.loads) {
    for (Vec3& f : load.force) f.x() = 0.2 * f.z();  // all one way: nothing holds it but braces
  }
  on.judge();
  const CentringCheck* check = find(on.centring, "sideways");
  ASSERT_NE(check, nullptr);
  // working load has no slope; the rest pushes a fifth of its weight
  const double weight = 1.35 * 2000 * kGravity * 2.4 * 0.3, work = 1.5 * 1.5e3 * 2.4;
  EXPECT_NEAR(check->demand, 0.025 * (weight + work) + 0.2 * weight, 1);
  EXPECT_NE(check->place.find("along them"), std::string::npos);
}

// Source: statics. A push along the ribs goes to the one braced post of each: the brace carries
// the push over the cosine of its slope.
TEST(Judge, BracesHoldTheirRib) {
  Case on({});
  on.loads = {on.loads.back()};
  for (Vec3& f : on.loads[0].force) f.x() = 0.2 * f.z();
  on.judge();
  const CentringCheck* check = find(on.centring, "brace along a rib");
  ASSERT_NE(check, nullptr);
  const double push = 1.35 * 0.2 * 2000 * kGravity * 2.4 * 0.3 / 2;  // one of two ribs
  const double slope = 0.7 / 1.1;  // from the foot of one post to the head of the next
  EXPECT_NEAR(check->demand, push * std::hypot(1, slope), 1e-6 * push);
  EXPECT_NEAR(check->resistance, strut_n(on.brief, on.centring.sticks[6], std::hypot(0.7, 1.1)),
              1e-6);
}

TEST(Judge, CamberIsDeflectionAndSettlement) {
  Case on({});
  on.loads = {on.loads.back()};
  on.judge();
  const RibFinding& rib = on.centring.rib_findings[0];
  EXPECT_GT(rib.deflection_m, 0);
  EXPECT_GT(rib.camber_m, on.brief.centring.settlement_m);
  EXPECT_LE(rib.camber_m, on.brief.centring.settlement_m + rib.deflection_m + 1e-12);
  EXPECT_EQ(on.centring.deflection_max_m, rib.deflection_m);
}

SheetPart plate(const Rib& rib, double x, double side) {
  SheetPart out;
  out.id = "S";
  out.rib = rib.id;
  out.kind = "splice";
  out.place = rib.place;
  out.place.origin = rib.place.to_world(Vec2(x, -0.15)) + side * 0.0177 * rib.place.z;
  out.outline.outer = {{-0.2, -0.12}, {0.2, -0.12}, {0.2, 0.12}, {-0.2, 0.12}};
  for (const double px : {-0.15, -0.05, 0.05, 0.15}) {
    for (const double py : {-0.08, 0.08}) {
      Polygon hole;
      for (int k = 0; k < 24; ++k) {
        const double turn = -2 * kPi * k / 24;
        hole.emplace_back(px + 0.0055 * std::cos(turn), py + 0.0055 * std::sin(turn));
      }
      out.outline.holes.push_back(hole);
    }
  }
  return out;
}

// Source: closed form. The group's bolts are at (+-0.05, +-0.08) about a middle 0.1 m from the
// joint: F = (M + 0.1 V) r / (4 r^2) + V/4, r = 0.0943.
TEST(Judge, Splices) {
  Case on({});
  Rib& rib = on.centring.ribs[0];
  rib.splices = {1.5};
  on.judge();
  EXPECT_TRUE(says(on.centring, "has no pair of plates"));
  EXPECT_EQ(find(on.centring, "splice bolts"), nullptr);

  on.centring = sample::level_centring(on.with);
  on.centring.ribs[0].splices = {1.5};
  for (const double side : {-1.0, 1.0})
    on.centring.parts.push_back(plate(on.centring.ribs[0], 1.5, side));
  on.loads = {on.loads.back()};
  on.judge();
  const CentringCheck* bolts = find(on.centring, "splice bolts");
  const CentringCheck* plates = find(on.centring, "splice plates");
  ASSERT_NE(bolts, nullptr);
  ASSERT_NE(plates, nullptr);
  const double hole = bolts->resistance * 1.3 / on.brief.centring.k_mod / 2;
  EXPECT_NEAR(hole / bolt_in_three_n(0.0177, 685, 0.010, 400e6), 1, 0.01);  // 24-sided holes

  std::vector<RibBeam> beams = rib_beams(on.brief, on.centring);
  auto beam = std::ranges::find(beams, 0, &RibBeam::rib);
  const auto cases = seat_cases(on.brief, on.assembly, on.loads, on.centring);
  std::vector<BeamLoad> loads;
  for (std::size_t k = 0; k < beam->seats.size(); ++k)
    loads.push_back({beam->seat_at[k], {0, cases.all[1].force[beam->seats[k]].z()}, 0});
  for (std::size_t i = 0; i < beam->own_n.size(); ++i)
    loads.push_back({i, {0, -1.35 * beam->own_n[i]}, 0});
  const BeamState state = beam->beam->solve(loads);
  const BeamCut& cut = state.cuts[beam->splice_at[0]][0];
  const double r = std::hypot(0.05, 0.08);
  const double expected =
      (std::abs(cut.moment_nm) + 0.1 * std::abs(cut.shear_n)) / (4 * r) + std::abs(cut.shear_n) / 4;
  EXPECT_NEAR(bolts->demand / expected, 1, 0.02);  // the ribs across lie on other points
  // a pair of plates 0.24 m high, less two holes of 11 mm at 0.08 m from their middle
  const double inertia = std::pow(0.24, 3) / 12 - 2 * 0.011 * (0.011 * 0.011 / 12 + 0.08 * 0.08);
  EXPECT_NEAR(plates->demand / (std::abs(cut.moment_nm) * 0.12 / (2 * 0.0177 * inertia)), 1, 0.01);
}

TEST(Judge, NothingToCarry) {
  Case on({});
  on.loads.clear();
  on.judge();
  EXPECT_EQ(on.centring.load_max_n, 0);
  EXPECT_EQ(find(on.centring, "bending"), nullptr);
  on.loads = {{"place b1", false, {}}};
  on.judge();
  EXPECT_TRUE(says(on.centring, "do not fit the seats"));
}

TEST(Judge, SameTwice) {
  Case a({}), b({});
  a.judge();
  b.judge();
  ASSERT_EQ(a.centring.checks.size(), b.centring.checks.size());
  for (std::size_t i = 0; i < a.centring.checks.size(); ++i) {
    EXPECT_EQ(a.centring.checks[i].name, b.centring.checks[i].name);
    EXPECT_EQ(a.centring.checks[i].demand, b.centring.checks[i].demand);
  }
  EXPECT_EQ(a.centring.remarks, b.centring.remarks);
}

}  // namespace
}  // namespace skewback
