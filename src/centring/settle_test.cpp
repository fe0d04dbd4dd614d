// A design that grows where checks fail.

#include <gtest/gtest.h>

#include <algorithm>

#include "centring/judge_parts.hpp"
#include "centring/sample_centring.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

using sample::find;

struct Barrel {
  Brief brief;
  Assembly assembly;
  Barrel() {
    const sample::Arch arch = sample::wide_arch();
    brief = sample::brief_for(arch);
    assembly = sample::arch_assembly(arch);
    brief.centring.rib_depth_m = 0.4;
  }
  [[nodiscard]] Centring made(const CentringDesign& design = {}) const {
    Result<Centring> out = make_centring(brief, assembly, {}, design);
    EXPECT_TRUE(out.ok());
    return out ? std::move(out).value() : Centring{};
  }
  /// Weight times `factor` on all seats.
  [[nodiscard]] std::vector<SeatLoads> loads(double factor) const {
    SeatLoads all = sample::weights(assembly, made(), static_cast<int>(assembly.blocks.size()));
    for (Vec3& force : all.force) force = {0, 0, factor * force.norm()};
    return {all};
  }
  [[nodiscard]] Centring settled(const std::vector<SeatLoads>& loads) const {
    Result<Centring> out = settle_centring(brief, assembly, loads);
    EXPECT_TRUE(out.ok());
    return out ? std::move(out).value() : Centring{};
  }
};

void expect_same_feet_and_seats(const Centring& a, const Centring& b) {
  ASSERT_EQ(a.feet.size(), b.feet.size());
  for (std::size_t i = 0; i < a.feet.size(); ++i) {
    EXPECT_EQ(a.feet[i].id, b.feet[i].id);
    EXPECT_EQ(a.feet[i].at, b.feet[i].at) << a.feet[i].id;
  }
  ASSERT_EQ(a.seats.size(), b.seats.size());
  for (std::size_t i = 0; i < a.seats.size(); ++i)
    EXPECT_EQ(a.seats[i].prop.point, b.seats[i].prop.point);
}

std::ptrdiff_t across(const Centring& centring) {
  return std::ranges::count(centring.ribs, true, &Rib::is_cross);
}

/// Second crossing of a bay of 0.6 m or more with no splice in or near it; 0: none.
std::size_t bay_off_splices(const Rib& rib) {
  for (std::size_t k = 1; k < rib.crossings.size(); ++k) {
    const double from = rib.crossings[k - 1], to = rib.crossings[k];
    if (to - from > 0.6 &&
        std::ranges::none_of(rib.splices, [&](double x) { return x > from - 0.1 && x < to + 0.1; }))
      return k;
  }
  return 0;
}

TEST(Settle, ARibAcrossWhereItIsAskedFor) {
  const Barrel barrel;
  const Centring before = barrel.made();
  const Rib& rib = sample::rib_of(before, "R2");
  const std::size_t k = bay_off_splices(rib);
  ASSERT_GT(k, 0u);
  const double from = rib.crossings[k - 1], to = rib.crossings[k];
  // the second asks for what the first has brought already
  const Centring after = barrel.made({{{"R2", from, to}, {"R1", from, to}}, {}, 0, {}, {}});
  EXPECT_EQ(across(after), across(before) + 1);
  const Rib& now = sample::rib_of(after, "R2");
  ASSERT_EQ(now.crossings.size(), rib.crossings.size() + 1);
  EXPECT_GE(now.crossings[k] - from, 0.25);
  EXPECT_GE(to - now.crossings[k], 0.25);
  for (const Seat& seat : after.seats) {
    if (seat.rib != "R2") continue;
    EXPECT_GT(std::abs(seat.along_m - now.crossings[k]), 0.04);
  }
  expect_same_feet_and_seats(before, after);
  ASSERT_FALSE(rib.splices.empty());
  EXPECT_EQ(now.splices, rib.splices);
  const double splice = rib.splices.front();
  const auto at_splice = barrel.made({{{"R2", splice - 0.17, splice + 0.17}}, {}, 0, {}, {}});
  EXPECT_EQ(across(at_splice), across(before)) << "its plates would be in the way";
  // no place that keeps a quarter of a metre from others
  const Centring full = barrel.made({{{"R2", from, from + 0.2}}, {}, 0, {}, {}});
  EXPECT_EQ(across(full), across(before));
}

TEST(Settle, BracedBaysBoardsAndHeldFeetOfADesign) {
  const Barrel barrel;
  const auto braces = [](const Centring& centring) {
    return std::ranges::count(centring.sticks, std::string("brace"), &Stick::kind);
  };
  const Centring before = barrel.made();
  const Centring after = barrel.made({{}, {"R1"}, 1, {"R1-1"}, {"R2-2"}, 1});
  const auto hole_m = [](const Centring& centring) {
    const auto plate = std::ranges::find(centring.parts, std::string("splice"), &SheetPart::kind);
    const Polygon& hole = plate->outline.holes.front();
    return (hole[12] - hole[0]).norm();  // of 24 corners
  };
  EXPECT_NEAR(hole_m(before), 0.011, 1e-9);
  EXPECT_NEAR(hole_m(after), 0.013, 1e-9) << "12 mm and 1 mm of play";
  EXPECT_EQ(braces(after), braces(before) + 2);
  for (const Stick& stick : after.sticks) {
    if (stick.kind != "brace") continue;
    EXPECT_EQ(stick.width_m, 0.038);
  }
  for (const Stick& stick : before.sticks) {
    if (stick.kind != "brace") continue;
    EXPECT_EQ(stick.width_m, 0.025);
  }
  for (const CentringFoot& foot : after.feet) {
    EXPECT_EQ(foot.held, foot.id == "R1-1");
    EXPECT_EQ(foot.held_down, foot.id == "R2-2");
  }
}

TEST(Settle, NothingIsAddedWhereNothingFails) {
  Barrel barrel;
  barrel.brief.centring.horizontal_share = 0.01;
  const Centring before = barrel.made(), after = barrel.settled(barrel.loads(0.3));
  for (const CentringCheck& check : after.checks) EXPECT_LE(check.utilisation, 1) << check.name;
  EXPECT_EQ(across(after), across(before));
  EXPECT_EQ(after.sticks.size(), before.sticks.size());
  EXPECT_FALSE(sample::says(after, "More than the spacings"));
}

TEST(Settle, RibsAcrossUntilNoneTurnsOver) {
  Barrel barrel;
  barrel.brief.centring.cross_spacing_m = 3;
  const std::vector<SeatLoads> loads = barrel.loads(0.8);
  Centring before = barrel.made();
  judge_centring(barrel.brief, barrel.assembly, loads, before);
  ASSERT_GT(find(before, "stability sideways")->utilisation, 1);
  const Centring after = barrel.settled(loads);
  EXPECT_LE(find(after, "stability sideways")->utilisation, 1);
  EXPECT_GT(across(after), across(before));
  EXPECT_TRUE(sample::says(after, std::to_string(across(after) - across(before)) + " ribs across"));
  expect_same_feet_and_seats(before, after);
}

TEST(Settle, WhereNoMoreRibsAcrossFitItSaysSo) {
  Barrel barrel;
  const Centring after = barrel.settled(barrel.loads(4));
  EXPECT_GT(find(after, "stability sideways")->utilisation, 1);
  EXPECT_TRUE(sample::says(after, "no room for another rib across"));
}

TEST(Settle, FeetAreHeldOnlyByWhatTheBriefGives) {
  Barrel barrel;
  barrel.brief.centring.horizontal_share = 0.4;
  const std::vector<SeatLoads> loads = barrel.loads(0.3);
  const Centring loose = barrel.settled(loads);
  EXPECT_GT(find(loose, "feet slide")->utilisation, 1);
  EXPECT_TRUE(std::ranges::none_of(loose.feet, &CentringFoot::held));
  EXPECT_TRUE(sample::says(loose, "would do"));
  const CentringCheck& slides = *find(loose, "feet slide");
  const double beyond = slides.demand - slides.resistance;
  barrel.brief.centring.foot_hold_n = 2 * beyond / 2.5;  // three feet at a factor of 2
  const Centring held = barrel.settled(loads);
  EXPECT_LE(find(held, "feet slide")->utilisation, 1);
  EXPECT_EQ(std::ranges::count(held.feet, true, &CentringFoot::held), 3);
}

TEST(Settle, SameTwice) {
  Barrel barrel;
  barrel.brief.centring.cross_spacing_m = 3;
  const std::vector<SeatLoads> loads = barrel.loads(1);
  const Centring a = barrel.settled(loads), b = barrel.settled(loads);
  ASSERT_EQ(a.ribs.size(), b.ribs.size());
  for (std::size_t r = 0; r < a.ribs.size(); ++r)
    EXPECT_EQ(a.ribs[r].crossings, b.ribs[r].crossings);
  EXPECT_EQ(a.remarks, b.remarks);
}

// Pushed sideways by a fifth of its load the hardest brace asks for more than the thickest bolt
// that has room in its posts: more braces share the push.
TEST(Settle, MoreBracesWhereTheirBoltsDoNotHold) {
  Barrel barrel;
  barrel.brief.centring.horizontal_share = 0.2;
  barrel.brief.centring.foot_hold_n = 50e3;
  const std::vector<SeatLoads> loads = barrel.loads(1);
  const auto bolts = [](const Centring& centring) {
    const auto check = std::ranges::find(centring.checks, "end of a brace", &CentringCheck::name);
    return check == centring.checks.end() ? 0 : check->utilisation;
  };
  Centring before = barrel.made();
  judge_centring(barrel.brief, barrel.assembly, loads, before);
  const Centring after = barrel.settled(loads);
  const auto pairs = [](const Centring& centring) {
    return std::ranges::count(centring.sticks, std::string("packing"), &Stick::kind);
  };
  EXPECT_GT(bolts(before), 1);
  EXPECT_GT(pairs(after), pairs(before));
  EXPECT_LT(bolts(after), bolts(before));
}

}  // namespace
}  // namespace skewback
