#include "centring/fixings.hpp"

#include <gtest/gtest.h>

#include "centring/bolt.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

using sample::Case;
using sample::LevelCentring;

const Fixing* row(const Fixings& fixings, const std::string& what, const std::string& where,
                  const std::string& size = "") {
  const auto it = std::ranges::find_if(fixings.rows, [&](const Fixing& f) {
    return f.what == what && f.where == where && (size.empty() || f.size == size);
  });
  return it == fixings.rows.end() ? nullptr : &*it;
}

bool misses(const Fixings& fixings, const std::string& words) {
  return std::ranges::any_of(
      fixings.missing, [&](const std::string& m) { return m.find(words) != std::string::npos; });
}

// By hand, nut heights of ISO 4032 from memory. M10 through three sheets of 17.7 mm: 53.1 + 2 x 3 +
// 8.4 + 2 x 1.5 = 70.5, so 80. M12 through 38 + 100: 138 + 2 x 4 + 10.8 + 3.5 = 160.3, so 180. M16
// through 50 + 100: 150 + 2 x 5 + 14.8 + 4 = 178.8, so 180. M20 through 400: 400 + 12 + 18 + 5 =
// 435, so 440.
TEST(Bolt, LongEnoughForWashersNutAndTwoTurns) {
  EXPECT_EQ(bolt_through(0.010, 3 * 0.0177).name(), "M10 x 80");
  EXPECT_EQ(bolt_through(0.012, 0.138).name(), "M12 x 180");
  EXPECT_EQ(bolt_through(0.016, 0.150).name(), "M16 x 180");
  EXPECT_EQ(bolt_through(0.020, 0.400).name(), "M20 x 440");
  EXPECT_NEAR(bolt_through(0.012, 0.1).washer_across_m, 0.036, 1e-12);
  EXPECT_NEAR(bolt_through(0.012, 0.1).washer_m, 0.004, 1e-12);
}

// 2.5 x 25 = 62.5 mm: nails of 65, screws of 70; a quarter of 17.7 mm is 4.4: screws of 4.
TEST(Fixings, NailsAndScrewsByWhatTheyFix) {
  EXPECT_NEAR(nail_for(0.025).long_m, 0.065, 1e-12);
  EXPECT_NEAR(nail_for(0.025).thick_m, 0.0028, 1e-12);
  EXPECT_NEAR(screw_for(0.025, 0.0177).long_m, 0.070, 1e-12);
  EXPECT_NEAR(screw_for(0.025, 0.0177).thick_m, 0.004, 1e-12);
  EXPECT_NEAR(screw_for(0.025, 0.009).thick_m, 0.0035, 1e-12);
}

void add_plates(Centring& centring, const std::string& joint) {
  for (const char* side : {"+", "-"}) {
    SheetPart plate;
    plate.id = joint + side;
    plate.rib = "R1";
    plate.kind = "splice";
    plate.outline.outer = {{0, 0}, {0.4, 0}, {0.4, 0.2}, {0, 0.2}};
    for (const double x : {0.1, 0.3})
      for (const double y : {0.05, 0.15}) {
        Polygon hole;
        for (int i = 0; i < 24; ++i)
          hole.push_back(Vec2(x, y) +
                         0.0055 * Vec2(std::cos(-2 * kPi * i / 24), std::sin(-2 * kPi * i / 24)));
        plate.outline.holes.push_back(hole);
      }
    centring.parts.push_back(plate);
  }
}

// Two joints of a rib: four M10 each, 8. Five braces of 50 x 100 on posts of 100: ten M12, 150 + 8
// + 10.8 + 3.5 = 172.3, so 180 long. 18 nuts in all, twice as many washers.
TEST(Fixings, BoltsOfSplicesAndBraces) {
  Case on{LevelCentring{}};
  add_plates(on.centring, "R1ab");
  add_plates(on.centring, "R1bc");
  on.centring.ribs[0].splices = {0.6, 1.8};
  on.centring.brace_bolt_m = 0.012;
  const Fixings fixings = fixings_of(on.brief, on.centring);
  const Fixing* splice = row(fixings, "bolt", "splice of a rib");
  ASSERT_NE(splice, nullptr);
  EXPECT_EQ(splice->size, "M10 x 80");
  EXPECT_EQ(splice->number, 8);
  EXPECT_EQ(splice->at, (std::vector<std::string>{"R1ab", "R1bc"}));
  const Fixing* brace = row(fixings, "bolt", "end of a brace");
  ASSERT_NE(brace, nullptr);
  EXPECT_EQ(brace->size, "M12 x 180");
  EXPECT_EQ(brace->number, 10);
  ASSERT_NE(row(fixings, "nut", "bolts", "M10"), nullptr);
  EXPECT_EQ(row(fixings, "nut", "bolts", "M10")->number, 8);
  EXPECT_EQ(row(fixings, "nut", "bolts", "M12")->number, 10);
  EXPECT_EQ(row(fixings, "washer", "bolts", "M10, 30 across, 3 thick at least")->number, 16);
  EXPECT_EQ(row(fixings, "washer", "bolts", "M12, 36 across, 4 thick at least")->number, 20);
}

TEST(Fixings, WhatWasNotChosenOrDrawnIsSaid) {
  Case on{LevelCentring{}};
  on.centring.ribs[0].splices = {0.6};
  const Fixings fixings = fixings_of(on.brief, on.centring);
  EXPECT_TRUE(misses(fixings, "Ends of braces: 10, no bolt was chosen"));
  EXPECT_TRUE(misses(fixings, "1 of 1 have no plates"));
  EXPECT_TRUE(misses(fixings, "Heads of posts: 6,"));
  EXPECT_TRUE(misses(fixings, "6 feet stand on the ground as it is"));
  EXPECT_TRUE(misses(fixings, "not judged under loads"));
  EXPECT_EQ(row(fixings, "bolt", "end of a brace"), nullptr);
  EXPECT_EQ(row(fixings, "strap", "rib to post"), nullptr);
  const Fixing* wedges = row(fixings, "folding wedges, pairs", "under a post or rib");
  ASSERT_NE(wedges, nullptr);
  EXPECT_EQ(wedges->number, 6);  // three feet under each of two ribs
  on.brief.centring.feet = "jacks";
  on.brief.centring.jack_capacity_n = 20e3;
  const Fixings bought = fixings_of(on.brief, on.centring);
  ASSERT_NE(row(bought, "jack", "under a post"), nullptr);
  EXPECT_EQ(row(bought, "jack", "under a post")->number, 6);
}

// Ribs at y 0.25 and 0.75: one board over both, one over the first alone, one beside all of them.
// Two crossed boards of 25 mm with their packing: two nails from each.
TEST(Fixings, LaggingsAndPackedBraces) {
  LevelCentring with;
  with.braced = false;
  Case on{with};
  const auto board = [&](const char* id, double from_y, double to_y) {
    on.centring.sticks.push_back(
        {id, "lagging", {0.3, from_y, 0.0125}, {0.3, to_y, 0.0125}, 0.1, 0.025, 0, Vec3::Zero()});
  };
  board("L1", 0.2, 0.8);
  board("L2", 0.2, 0.3);
  board("L3", 0.3, 0.7);
  auto& sticks = on.centring.sticks;
  sticks.push_back({"a/b", "brace", {0, 0, 0}, {1, 0, 1}, 0.025, 0.1, 0.112, Vec3::Zero()});
  sticks.push_back({"b/a", "brace", {1, 0, 0}, {0, 0, 1}, 0.025, 0.1, 0.112, Vec3::Zero()});
  // of another pair, through the packing of the first
  sticks.push_back({"c/d", "brace", {0.5, -1, 0}, {0.5, 1, 1}, 0.025, 0.1, 0.112, Vec3::Zero()});
  sticks.push_back(
      {"axb", "packing", {0.5, -0.05, 0.5}, {0.5, 0.05, 0.5}, 0.1, 0.1, 0, Vec3::Zero()});
  const Fixings fixings = fixings_of(on.brief, on.centring);
  const Fixing* screws = row(fixings, "screw", "lagging on a rib");
  ASSERT_NE(screws, nullptr);
  EXPECT_EQ(screws->number, 2 + 2);
  EXPECT_EQ(screws->size, "4 x 70");
  EXPECT_TRUE(misses(fixings, "lie on no rib: L3."));
  const Fixing* nails = row(fixings, "nail", "packing of crossed braces");
  ASSERT_NE(nails, nullptr);
  EXPECT_EQ(nails->number, 4);
  EXPECT_TRUE(misses(fixings, "c/d and axb"));
  EXPECT_EQ(nails->size, "2.8 x 65");
}

// One foot held down for 10 kN, factor 2: 5 kN in design. A nail 4.0 x 40 in half a sheet of 17.7
// mm (EN 1995-1-1, from memory): f_h 0.11 x 685 x 4^-0.3 = 49.7 MPa, 0.4 x 49.7 x 8.85 x 4 = 704 N,
// x 0.8 / 1.3 = 433 N; 5000 / (2 x 433) = 5.8, so 6 in each end. An end is 60 + 5 x 28 + 15 = 215
// mm: 430 at the head; at the foot 215 and 20 of travel up, so 240. Nails: 2 x 2 x 6 and 2 x 6.
TEST(Fixings, StrapsOfFeetThatAreTiedDown) {
  Case on{LevelCentring{}};
  on.brief.centring.foot_hold_factor = 2;
  on.centring.feet[1].held_down = on.centring.feet[1].held = true;
  for (const CentringFoot& foot : on.centring.feet)
    on.centring.foot_findings.push_back({foot.id, 1000, 2000, 0.5, 0, 0});
  on.centring.foot_findings[1].hold_up_n = 10e3;
  on.centring.foot_findings[1].hold_n = 700;
  const Fixings fixings = fixings_of(on.brief, on.centring);
  const Fixing* head = row(fixings, "strap", "rib to post");
  ASSERT_NE(head, nullptr);
  EXPECT_EQ(head->size, "40 x 1.5 x 430, 6 nails an end");
  EXPECT_EQ(head->number, 2);
  EXPECT_NEAR(head->force_n, 2500, 1e-9);
  const Fixing* foot = row(fixings, "strap", "post to foot");
  ASSERT_NE(foot, nullptr);
  EXPECT_EQ(foot->size, "40 x 1.5 x 240, 6 nails an end");
  ASSERT_NE(row(fixings, "nail", "straps"), nullptr);
  EXPECT_EQ(row(fixings, "nail", "straps")->number, 36);
  const Fixing* down = row(fixings, "hold", "foot, down");
  ASSERT_NE(down, nullptr);
  EXPECT_EQ(down->number, 1);
  EXPECT_NEAR(down->force_n, 10e3, 1e-9);
  EXPECT_NEAR(row(fixings, "hold", "foot, sideways")->force_n, 700, 1e-9);
  EXPECT_TRUE(misses(fixings, "lower ends of 2 straps"));
  EXPECT_TRUE(misses(fixings, "41.2 mm outside the rib's"));  // (100 - 17.7) / 2
}

// A brace along and one across on two faces of a post of 100 mm, boards 25 by 100 mm. Where they
// pass each other at the corner, 50 to 75 mm out, the first has its top at most 22.5 + 52.2 mm over
// its bolt (slope 0.3), the second its lower edge at least 58.3 - 30 mm under its own (0.6): clear
// where the second bolt is 103 mm higher.
TEST(Fixings, BracesInEachOthersWayAreNamed) {
  Case on{LevelCentring{}};
  const Stick post = on.centring.sticks[0];
  ASSERT_NEAR(post.width_m, 0.1, 1e-12);
  std::erase_if(on.centring.sticks, [](const Stick& s) { return s.kind == "brace"; });
  const Vec3 at = post.from + Vec3(0, 0, 0.5);
  auto& sticks = on.centring.sticks;
  sticks.push_back(
      {"along", "brace", at, at + Vec3(1, 0, 0.3), 0.025, 0.1, 0.112, Vec3(0, 0.0625, 0)});
  EXPECT_FALSE(misses(fixings_of(on.brief, on.centring), "in each other's way"));
  for (const double higher_m : {0.0, 0.05, 0.099, 0.107, 0.2}) {
    const Vec3 from = at + Vec3(0, 0, higher_m);
    sticks.push_back(
        {"across", "brace", from, from + Vec3(0, 0.5, 0.3), 0.025, 0.1, 0.112, Vec3(0.0625, 0, 0)});
    EXPECT_EQ(misses(fixings_of(on.brief, on.centring), "way: along and across."), higher_m < 0.103)
        << higher_m;
    sticks.pop_back();
  }
  // on the other face of the same post and bay: its bolt is in the way of the first's
  sticks.push_back(
      {"beside", "brace", at, at + Vec3(-1, 0, 0.3), 0.025, 0.1, 0.112, Vec3(0, -0.0625, 0)});
  EXPECT_TRUE(misses(fixings_of(on.brief, on.centring), "way: along and beside."));
  sticks.pop_back();
  sticks.push_back({"P9", "post", at + Vec3(0.5, 0.06, -1), at + Vec3(0.5, 0.06, 1), 0.1, 0.1});
  EXPECT_TRUE(misses(fixings_of(on.brief, on.centring), "way: along and P9."));
}

}  // namespace
}  // namespace skewback
