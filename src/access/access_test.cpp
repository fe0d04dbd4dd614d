#include "access/access.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "access/back_height.hpp"
#include "access/parts.hpp"
#include "access/sample_bridge.hpp"
#include "assembly/sample_arch.hpp"

namespace skewback {
namespace {

using sample::level_across;
using sample::slices;
using sample::straight_brief;

std::vector<AccessFinding> all(const AccessReport& report, const std::string& what) {
  std::vector<AccessFinding> found;
  for (const AccessFinding& f : report.findings)
    if (f.what == what) found.push_back(f);
  return found;
}

std::string words(const AccessReport& report) {
  std::string text;
  for (const AccessFinding& f : report.findings)
    if (!f.complies)
      text += f.what + " at " + std::to_string(f.along_m) + " of " + f.line + ": " +
              std::to_string(f.found) + " against " + std::to_string(f.limit) + "; " + f.remedy +
              "\n";
  return text;
}

// 1:12 up 0.6 m over 7.2 m, 1.6 m level, and down again: within ADA 2010, 405.2, 405.6, 405.7.
AccessReport gentle_bridge(double width) {
  const Assembly assembly =
      slices(level_across({0, 1.6, 8.8, 10.4, 17.6, 19.2}, {0, 0, 0.6, 0.6, 0, 0}), width / 2);
  return judge_access(straight_brief(0, 19.2, 9.6, width / 2), assembly);
}

TEST(Access, AGentleBridgeWithLandingsComplies) {
  const AccessReport report = gentle_bridge(1.5);
  EXPECT_TRUE(report.complies) << words(report);
  EXPECT_NEAR(report.gradient_max, 1.0 / 12, 1e-9);
  ASSERT_EQ(report.lines.size(), 2U);
  EXPECT_EQ(report.lines[0].name, "west to meeting");
  EXPECT_EQ(report.lines[1].name, "east to meeting");
  EXPECT_NEAR(report.lines[1].length_m, 9.6, 1e-9);
  ASSERT_EQ(all(report, "ramp run").size(), 2U);
  EXPECT_NEAR(all(report, "ramp run")[1].found, 0.6, 1e-9);
  ASSERT_EQ(all(report, "landing at the top").size(), 1U);
  EXPECT_NEAR(all(report, "landing at the top")[0].found, 1.6, 1e-6);
}

TEST(Access, ANarrowOneSaysByHowMuch) {
  const AccessReport report = gentle_bridge(1.1);
  EXPECT_FALSE(report.complies);
  ASSERT_EQ(all(report, "width").size(), 2U);
  EXPECT_NEAR(all(report, "width")[0].found, 1.1, 1e-9);
  EXPECT_NE(all(report, "width")[0].remedy.find("0.10 m"), std::string::npos);
}

// A parabola of 15 m and 0.6 m: end slope 4 f / L = 16 %; over 0.6 m 4 f (L - 0.6) / L2.
TEST(Access, AFlatParabolaIsTooSteepAtItsEnds) {
  const AccessReport report =
      judge_access(straight_brief(0, 15, 7.5, 1), slices(sample::parabola(15, 0.6, 0.3), 1));
  EXPECT_NEAR(report.gradient_max, 4 * 0.6 * 14.4 / 225, 1e-9);
  EXPECT_FALSE(report.complies);
  const AccessFinding& first = report.findings.front();
  EXPECT_EQ(first.what, "gradient");
  EXPECT_NEAR(first.along_m, 0, 1e-9);
  // 0.6 m at 1:12 is 7.2 m of run
  EXPECT_NE(first.remedy.find("needs 7.2 m of run; 7.5 m is there"), std::string::npos)
      << first.remedy;
}

// 0.9 m at 1:12 in one go: over 760 mm (ADA 2010, 405.6); 2 runs, 10.8 m and a landing of 1.5 m.
TEST(Access, AHighRunWantsALanding) {
  const AccessReport report =
      judge_access(straight_brief(0, 25.6, 12.8, 1),
                   slices(level_across({0, 1.2, 12, 13.6, 24.4, 25.6}, {0, 0, 0.9, 0.9, 0, 0}), 1));
  const auto runs = all(report, "ramp run");
  ASSERT_EQ(runs.size(), 2U) << words(report);
  EXPECT_FALSE(runs[0].complies);
  EXPECT_NEAR(runs[0].found, 0.9, 1e-9);
  EXPECT_NE(runs[0].remedy.find("2 runs with 1 landing of 1.50 m between, 12.3 m in all"),
            std::string::npos)
      << runs[0].remedy;
}

// ADA 2010, 303.2: 6.4 mm upright is a step.
TEST(Access, BlocksThatStandProudAreSteps) {
  for (const double jump : {0.005, 0.010}) {
    const AccessReport report = judge_access(
        straight_brief(0, 8, 4, 1), slices(level_across({0, 2, 2, 8}, {0, 0, jump, jump}), 1));
    const auto found = all(report, "step");
    ASSERT_EQ(found.size(), 2U);
    const AccessFinding& west = found[0].line == "west to meeting" ? found[0] : found[1];
    EXPECT_EQ(west.complies, jump < 0.0064);
    if (jump > 0.0064) {
      EXPECT_NEAR(west.found, jump, 1e-9);
      EXPECT_NEAR(west.along_m, 2, 0.03);
    }
  }
}

// A slope that goes on over a joint is no step, however steep.
TEST(Access, ASlopeOverAJointIsNoStep) {
  const AccessReport report = judge_access(
      straight_brief(0, 8, 4, 1), slices(level_across({0, 2, 4, 6, 8}, {0, 1, 1.5, 1, 0}), 1));
  for (const AccessFinding& f : all(report, "step")) EXPECT_TRUE(f.complies) << f.remedy;
}

TEST(Access, CrossFallIsMeasuredOverTheWidth) {
  // 60 mm over 2 m: 3 %, over 1:48 (ADA 2010, 405.3)
  const Assembly assembly = slices({{0, 4, 8}, {0.03, 0.03, 0.03}, {-0.03, -0.03, -0.03}}, 1);
  Brief brief = straight_brief(0, 8, 4, 1);
  const AccessReport bare = judge_access(brief, assembly);
  ASSERT_EQ(all(bare, "cross fall").size(), 2U);
  EXPECT_NEAR(all(bare, "cross fall")[0].found, 0.03, 1e-9);
  EXPECT_FALSE(all(bare, "cross fall")[0].complies);
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 600;
  EXPECT_TRUE(all(judge_access(brief, assembly), "cross fall").empty()) << "frames level the deck";
}

/// Tops 2 m wide, and a shelf on them along one edge.
Assembly with_shelf() {
  Assembly assembly = slices(level_across({0, 4, 8}, {0, 0, 0}), 1);
  Block shelf;
  shelf.id = "shelf";
  shelf.solid = box({0, 0.85, 0.0}, {8, 1, 0.3});
  assembly.blocks.push_back(shelf);
  return assembly;
}

// A shelf 0.15 m wide and 0.3 m high along one edge of 2 m: 1.85 m are clear, and it is no cross
// fall.
TEST(Access, AnUpstandTakesFromTheWidth) {
  const Assembly assembly = with_shelf();
  const AccessReport report = judge_access(straight_brief(0, 8, 4, 1), assembly);
  ASSERT_EQ(all(report, "width").size(), 2U);
  EXPECT_NEAR(all(report, "width")[0].found, 1.85, 1e-4);
  EXPECT_NEAR(all(report, "cross fall")[0].found, 0, 1e-9);
}

// Wide enough for those who walk, not for the 1.9 m that are to be laid: held to these.
TEST(Access, AWalkwayThatDoesNotGoBetweenTheParapetsIsHeldToItsOwnWidth) {
  const Assembly assembly = with_shelf();
  Brief brief = straight_brief(0, 8, 4, 1);
  brief.walkway.width_m = 1.9;
  const AccessFinding width = all(judge_access(brief, assembly), "width")[0];
  EXPECT_FALSE(width.complies);
  EXPECT_NEAR(width.found, 1.85, 1e-4);
  EXPECT_EQ(width.limit, 1.9);
  EXPECT_NE(width.source.find("walkway.width"), std::string::npos);
}

TEST(Access, RailsAreJudgedAsDesigned) {
  const Assembly assembly = slices(level_across({0, 4, 8}, {0, 0.3, 0}), 1);
  Brief brief = straight_brief(0, 8, 4, 1);
  brief.access.handrail_height_m = 0;
  brief.access.parapet_height_m = 1.0;
  brief.access.parapet_stated = brief.access.handrail_stated = true;
  const AccessReport report = judge_access(brief, assembly);
  ASSERT_EQ(all(report, "handrail height").size(), 1U);
  EXPECT_FALSE(all(report, "handrail height")[0].complies);
  EXPECT_FALSE(all(report, "parapet height")[0].complies);
  EXPECT_EQ(all(report, "parapet height")[0].remedy, "raise it by 0.10 m");
}

TEST(Access, RailsThatNobodyStatedDoNotComply) {
  const Assembly assembly = slices(level_across({0, 4, 8}, {0, 0.3, 0}), 1);
  Brief brief = straight_brief(0, 8, 4, 1);
  brief.access.parapet_height_m = brief.access.parapet_height_min_m;
  brief.access.handrail_height_m = 0.9;
  for (const bool stated : {false, true}) {
    brief.access.parapet_stated = brief.access.handrail_stated = stated;
    const AccessReport report = judge_access(brief, assembly);
    EXPECT_EQ(all(report, "handrail height")[0].complies, stated);
    EXPECT_EQ(all(report, "parapet height")[0].complies, stated);
  }
}

TEST(Access, ADrawnStairIsJudgedAsOne) {
  const Assembly assembly = slices(level_across({0, 4, 8}, {0, 0, 0}), 1);
  Brief brief = straight_brief(0, 8, 4, 1);
  brief.walkway.width_m = 1.4;
  brief.walkway.surface = {{{0, 0, 0.2},
                            {1, 0, 0.2},
                            {1.002, 0, 0.37},
                            {1.29, 0, 0.37},
                            {1.292, 0, 0.54},
                            {1.54, 0, 0.54},
                            {1.542, 0, 0.71},
                            {8, 0, 0.71}}};
  const AccessReport report = judge_access(brief, assembly);
  ASSERT_EQ(all(report, "stair riser").size(), 1U);
  EXPECT_NEAR(all(report, "stair riser")[0].found, 0.17, 1e-9);
  EXPECT_TRUE(all(report, "stair riser")[0].complies);
  ASSERT_EQ(all(report, "stair going").size(), 1U);
  EXPECT_NEAR(all(report, "stair going")[0].found, 0.25, 1e-9);  // 1.542 - 1.292
  EXPECT_FALSE(all(report, "stair going")[0].complies) << "280 mm (ADA 2010, 504.2)";
  EXPECT_FALSE(report.complies) << "and there are steps";
}

// A deck over a drawn surface needs its own height between that and the blocks.
TEST(Access, BlocksThatStandInTheDeckDoNotComply) {
  const Assembly assembly = slices(level_across({0, 4, 8}, {0, 0.3, 0}), 1);
  Brief brief = straight_brief(0, 8, 4, 1);
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 500;
  const double deck = deck_thickness_m(brief);
  ASSERT_GT(deck, 0.1);
  for (const double over : {-0.05, 0.05, deck + 0.01}) {
    brief.walkway.surface = {{{0, 0, 0.3 + over}, {8, 0, 0.3 + over}}};
    const AccessReport report = judge_access(brief, assembly);
    const auto rooms = all(report, "room for the deck");
    ASSERT_FALSE(rooms.empty());
    for (const AccessFinding& room : rooms) {
      EXPECT_NEAR(room.found, over, 1e-6);
      EXPECT_NEAR(room.limit, deck, 1e-12);
      EXPECT_EQ(room.complies, over > deck);
    }
    EXPECT_FALSE(report.complies && over < deck);
  }
  brief.walkway.surface = {};
  EXPECT_TRUE(all(judge_access(brief, assembly), "room for the deck").empty());
}

TEST(Access, WithoutBlocksNothingComplies) {
  const AccessReport report = judge_access(straight_brief(0, 8, 4, 1), Assembly{});
  EXPECT_FALSE(report.complies);
}

// Seen from above, the top of a voussoir is the chord between its corners on the outer circle.
TEST(BackHeight, IsTheOuterChordOfAVoussoir) {
  const sample::Arch arch;
  const access::BackHeight back(sample::arch_assembly(arch));
  const double outer = arch.radius + arch.thickness / 2;
  const auto top = back.at({0, 0.2});
  ASSERT_TRUE(top);
  EXPECT_NEAR(top->z, outer * std::sin(3 * kPi / 7), 1e-9);
  EXPECT_NEAR(top->slope.norm(), 0, 1e-9);
  EXPECT_EQ(top->block, 3);
  // between 2 pi / 7 and 3 pi / 7 the chord falls at the angle of its middle, 5 pi / 14
  const auto next = back.at({-outer * std::cos(5 * kPi / 14), 0});
  ASSERT_TRUE(next);
  EXPECT_NEAR(next->slope.x(), 1 / std::tan(5 * kPi / 14), 1e-9);
  EXPECT_FALSE(back.at({0, 0.6})) << "beside the arch";
}

TEST(BackHeight, DoesNotTakeTheFaceOfALeaningJointForATop) {
  sample::Arch arch;
  Assembly assembly = sample::arch_assembly(arch);
  // lift the key away: what is seen where it was are the joint faces of its neighbours
  assembly.blocks.erase(assembly.blocks.begin() + 3);
  for (Joint& joint : assembly.joints) {
    if (joint.a == 3) joint.a = -1;
    if (joint.b == 3) joint.b = -1;
    if (joint.a > 3) --joint.a;
    if (joint.b > 3) --joint.b;
  }
  const access::BackHeight back(assembly);
  const double inner = arch.radius - arch.thickness / 2;
  const double corner = inner * std::cos(3 * kPi / 7);  // the joint leans over from here outwards
  EXPECT_FALSE(back.at({-(corner + 0.02), 0}));
}

// Two boxes 10 mm apart, the floor of a hollow seen 0.2 m down between them.
TEST(BackHeight, DoesNotTakeTheFloorSeenThroughAJointForATop) {
  Assembly assembly;
  Block a, b, floor;
  a.solid = box({0, 0, 0}, {1, 1, 0.4});
  b.solid = box({1.01, 0, 0}, {2, 1, 0.4});
  floor.solid = box({0.9, 0, 0}, {1.1, 1, 0.2});
  assembly.blocks = {a, b, floor};
  EXPECT_TRUE(access::BackHeight(assembly).at({1.005, 0.5})) << "without a pad nothing is a joint";
  Joint joint;
  joint.a = 0;
  joint.b = 1;
  joint.frame = frame_on({{1.005, 0.5, 0.2}, Vec3::UnitX()});
  joint.pad = Pad{0.01, 1e9, 1e9};
  assembly.joints = {joint};
  const access::BackHeight back(assembly);
  EXPECT_FALSE(back.at({1.005, 0.5}));
  EXPECT_NEAR(back.at({0.995, 0.5})->z, 0.4, 1e-12);
}

Brief carried_brief() {
  Brief brief = straight_brief(0, 9.6, 4.8, 1);
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 600;
  return brief;
}

// By hand: boards 0.04 * 1.4, three bearers 0.12 * 0.06, at 450 kg/m3.
TEST(Parts, APanelWeighsItsBoardsAndBearers) {
  Sticks light;
  light.bearers = 3;
  light.board_m = 0.04;
  light.bearer_width_m = 0.06;
  light.bearer_depth_m = 0.12;
  EXPECT_NEAR(access::deck_kg_per_m2(light, 1.4), 450 * (0.04 + 3 * 0.12 * 0.06 / 1.4), 1e-12);
  const AccessReport report =
      judge_access(carried_brief(), slices(level_across({0, 4.8, 9.6}, {0, 0, 0}), 1));
  const auto panel = std::ranges::find(report.parts, PartKind::kPanel, &WalkPart::kind);
  ASSERT_NE(panel, report.parts.end());
  // 4.8 m less half a landing of 1.5 m: 4.05 m in four bays
  EXPECT_NEAR(panel->length_m, 4.05 / 4, 1e-9);
  ASSERT_TRUE(report.sticks);
  const Sticks& s = *report.sticks;
  EXPECT_NEAR(panel->weight_kg,
              4.05 / 4 * 450 * (s.board_m * 1.4 + s.bearers * s.bearer_depth_m * s.bearer_width_m),
              1e-9);
}

TEST(Parts, CoverTheWalkOnce) {
  const AccessReport report =
      judge_access(carried_brief(), slices(level_across({0, 4.8, 9.6}, {0, 0, 0}), 1));
  double plan_m2 = 0, sum = 0;
  int order = 0;
  for (const WalkPart& part : report.parts) {
    EXPECT_EQ(part.order, ++order);
    EXPECT_FALSE(part.blocks.empty()) << part.id;
    sum += part.weight_kg;
    if (part.kind == PartKind::kPanel) plan_m2 += part.length_m * part.width_m;
    if (part.kind == PartKind::kLanding)
      plan_m2 += part.weight_kg / access::deck_kg_per_m2(*report.sticks, 1.4);
  }
  EXPECT_NEAR(plan_m2, 9.6 * 1.4, 1e-6);
  EXPECT_NEAR(sum, report.parts_kg, 1e-9);
  EXPECT_NEAR(report.brief_kg, 600 * 9.6 * 1.4 / 9.80665, 0.02 * report.brief_kg);
}

TEST(Parts, AreLaidFromBothSidesInTurn) {
  const AccessReport report =
      judge_access(carried_brief(), slices(level_across({0, 4.8, 9.6}, {0, 0, 0}), 1));
  double west = 0, east = 0, heaviest = 0;
  for (const WalkPart& part : report.parts) {
    if (part.kind == PartKind::kLanding) continue;
    (part.line == "west to meeting" ? west : east) += part.weight_kg;
    heaviest = std::max(heaviest, part.weight_kg);
    EXPECT_LE(std::abs(west - east), report.one_sided_kg + 1e-9);
  }
  EXPECT_NEAR(west, east, 1e-9);
  EXPECT_LE(report.one_sided_kg, heaviest + 1e-9) << "two equal legs: one part ahead at most";
}

TEST(Parts, StandOnTheBlocksUnderTheirPosts) {
  const AccessReport report =
      judge_access(carried_brief(), slices(level_across({0, 2, 4.8, 9.6}, {0, 0, 0, 0}), 1));
  for (const WalkPart& part : report.parts) {
    if (part.kind != PartKind::kFrame || part.line != "west to meeting") continue;
    ASSERT_EQ(part.blocks.size(), 1U);
    EXPECT_EQ(part.blocks[0], part.from_m < 2 ? "s1" : "s2") << part.from_m;
  }
}

TEST(Parts, AreStairsWhereTheBackIsSteep) {
  // slope 0.43 in bays of 1.0125 m: three risers of 145 mm, going 337.5 mm, 2R + G 628 mm
  const AccessReport report =
      judge_access(carried_brief(), slices(level_across({0, 4.8, 9.6}, {0, 0.43 * 4.8, 0}), 1));
  std::map<PartKind, int> kinds;
  for (const WalkPart& part : report.parts) ++kinds[part.kind];
  EXPECT_EQ(kinds[PartKind::kPanel], 0);
  EXPECT_EQ(kinds[PartKind::kStairFlight], 8);
}

}  // namespace
}  // namespace skewback
