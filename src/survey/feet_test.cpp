#include "survey/feet.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "survey/marks.hpp"

namespace skewback {
namespace {

/// One rib along x with feet at those places, one block over each seat; z of seats 1 m.
struct OnOneRib {
  Centring centring;
  Assembly assembly;
  std::vector<Rigid> laid;

  OnOneRib(std::vector<double> feet, double down_m = 0.04, double up_m = 0.02) {
    Rib rib;
    rib.id = "R1";
    rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
    rib.feet = feet;
    rib.top = {{feet.front() - 1, 1}, {feet.back() + 1, 1}};
    rib.bottom = {{feet.front() - 1, 0.7}, {feet.back() + 1, 0.7}};
    centring.ribs.push_back(rib);
    for (std::size_t f = 0; f < feet.size(); ++f) {
      centring.feet.push_back({"R1-" + std::to_string(f + 1),
                               "R1",
                               -1,
                               {feet[f], 0, 0},
                               {feet[f], 0, 0.7},
                               down_m,
                               up_m});
    }
  }
  void seat(double x, const Rigid& X, const Vec3& normal = Vec3::UnitZ()) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size() + 1);
    block.solid = box({x - 0.1, -0.2, 1}, {x + 0.1, 0.2, 1.3});
    block.density = 2000;
    assembly.blocks.push_back(block);
    measure(assembly);
    Seat s;
    s.prop = {static_cast<int>(assembly.blocks.size()) - 1, {x, 0, 1}, normal, 0.3};
    s.rib = "R1";
    s.along_m = x;
    centring.seats.push_back(s);
    laid.push_back(X);
  }
  [[nodiscard]] FeetSet set(double trim = 0.03, const PointFile* measured = nullptr) const {
    PackingRequest packing;
    packing.trim_m = trim;
    return set_feet(centring, assembly, laid, measured, packing, Brief{}.centring.settlement_m);
  }
};
Rigid up(double m) { return {Mat3::Identity(), {0, 0, m}}; }

// By hand: seats half-way in want 4 and 8 mm, so that a straight rib wants 2 and 10 at its feet.
TEST(SetFeet, StraightRibThroughItsSeats) {
  OnOneRib on({0, 2});
  on.seat(0.5, up(0.004));
  on.seat(1.5, up(0.008));
  const FeetSet set = on.set();
  ASSERT_EQ(set.feet.size(), 2u);
  EXPECT_EQ(set.feet[1].foot, "R1-2");
  EXPECT_NEAR(set.feet[0].raise_m, 0.002, 1e-12);
  EXPECT_NEAR(set.feet[1].raise_m, 0.010, 1e-12);
  EXPECT_NEAR(set.feet[1].by_wedge_m, 0.010, 1e-12);
  EXPECT_EQ(set.feet[1].pack_m, 0);
  EXPECT_TRUE(set.gaps.empty());
  EXPECT_NEAR(set.gap_max_m, 0, 1e-12);
}

// By hand: rises 0, 3, 0 at equal distances leave the mean, 1 mm, and 2 mm open in the middle.
TEST(SetFeet, WhatAStraightRibCannotFollowStaysOpen) {
  OnOneRib on({0, 2});
  on.seat(0, up(0));
  on.seat(1, up(0.003));
  on.seat(2, up(0));
  const FeetSet set = on.set();
  EXPECT_NEAR(set.feet[0].raise_m, 0.001, 1e-12);
  EXPECT_NEAR(set.feet[1].raise_m, 0.001, 1e-12);
  ASSERT_EQ(set.gaps.size(), 3u);
  EXPECT_EQ(set.gaps[0].block, "b2");
  EXPECT_NEAR(set.gaps[0].gap_m, 0.002, 1e-12);
  EXPECT_NEAR(set.gaps[1].gap_m, -0.001, 1e-12);
  EXPECT_NEAR(set.gap_max_m, 0.002, 1e-12);
}

TEST(SetFeet, WedgeThenTrimOrPack) {
  OnOneRib low({0, 2}, 0.005, 0.02);
  low.seat(0, up(-0.014));
  low.seat(2, up(0.026));
  const FeetSet set = low.set();
  EXPECT_NEAR(set.feet[0].by_wedge_m, -0.005, 1e-12);
  EXPECT_NEAR(set.feet[0].trim_m, 0.009, 1e-12);
  EXPECT_TRUE(set.feet[0].within);
  EXPECT_NEAR(set.feet[1].by_wedge_m, 0.020, 1e-12);
  EXPECT_NEAR(set.feet[1].pack_m, 0.006, 1e-12);
  EXPECT_EQ(set.feet[1].trim_m, 0);
  EXPECT_FALSE(low.set(0.008).feet[0].within);
  ASSERT_EQ(set.remarks.size(), 1u);  // no travel is left at R1-1 to strike with
  EXPECT_NE(set.remarks[0].find("R1-1 keeps 0.0 mm of its 5.0 mm"), std::string::npos)
      << set.remarks[0];
}

// By hand: a soffit that climbs at 45 degrees and goes 10 mm forward lies 10 mm lower over the
// same spot.
TEST(SetFeet, SlopingSoffitMovedLevel) {
  OnOneRib on({0, 2});
  const Vec3 climbing = Vec3(-1, 0, 1).normalized();
  const Rigid forward{Mat3::Identity(), {0.010, 0, 0}};
  on.seat(0.5, forward, climbing);
  on.seat(1.5, forward, climbing);
  const FeetSet set = on.set();
  EXPECT_NEAR(set.feet[0].raise_m, -0.010, 1e-12);
  EXPECT_NEAR(set.feet[1].raise_m, -0.010, 1e-12);
}

// A block turned about the seat itself stays as high there.
TEST(SetFeet, TurnAboutTheSeatChangesNothing) {
  OnOneRib on({0, 2});
  const Mat3 R = Eigen::AngleAxisd(0.01, Vec3::UnitY()).toRotationMatrix();
  const Vec3 at(0.5, 0, 1);
  on.seat(0.5, {R, at - R * at});
  on.seat(1.5, up(0));
  EXPECT_NEAR(on.set().feet[0].raise_m, 0, 1e-12);
}

// Three feet, seats only in the first bay: the third goes on straight, within the weight of a kink.
TEST(SetFeet, FootThatNoSeatTellsOfFollowsStraight) {
  OnOneRib on({0, 1, 2});
  on.seat(0.25, up(0.001));
  on.seat(0.75, up(0.003));
  const FeetSet set = on.set();
  EXPECT_NEAR(set.feet[0].raise_m, 0.0, 1e-9);
  EXPECT_NEAR(set.feet[1].raise_m, 0.004, 1e-9);
  EXPECT_NEAR(set.feet[2].raise_m, 0.008, 1e-9);
}

TEST(SetFeet, CrossRibsAreLeftOutAndSaidToBe) {
  OnOneRib on({0, 2});
  on.seat(0.5, up(0.004));
  on.seat(1.5, up(0.004));
  Rib cross = on.centring.ribs[0];
  cross.id = "C1";
  cross.is_cross = true;
  cross.feet.clear();
  on.centring.ribs.push_back(cross);
  on.seat(1.0, up(0.050));
  on.centring.seats.back().rib = "C1";
  const FeetSet set = on.set();
  EXPECT_NEAR(set.feet[0].raise_m, 0.004, 1e-12);
  ASSERT_EQ(set.remarks.size(), 1u);
  EXPECT_NE(set.remarks[0].find("1 seats lie on"), std::string::npos) << set.remarks[0];
}

// A foot that stands 6 mm low to begin with is raised by these too.
TEST(SetFeet, MeasuredFeetAreSetFromWhereTheyStand) {
  OnOneRib on({0, 2});
  on.seat(0.5, up(0.004));
  on.seat(1.5, up(0.004));
  PointFile file;
  int marks = 0;
  for (const Mark& mark : setting_out(Brief{}, on.assembly, &on.centring)) {
    if (mark.kind != MarkKind::kFoot || mark.of != "R1-1") continue;
    file.points.push_back({mark.name, mark.designed + Vec3(0.009, -0.012, -0.006), 0.002, 1});
    ++marks;
  }
  ASSERT_GT(marks, 0);
  const FeetSet set = on.set(0.03, &file);
  EXPECT_NEAR(set.feet[0].raise_m, 0.004, 1e-12);
  EXPECT_NEAR(set.feet[0].by_wedge_m, 0.010, 1e-12);
  EXPECT_NEAR(set.feet[1].by_wedge_m, 0.004, 1e-12);
  EXPECT_NEAR(set.feet[0].to_move_m(), 0.010, 1e-12);
  EXPECT_NEAR(set.feet[0].aside_m, 0.015, 1e-12);
  EXPECT_EQ(set.feet[1].aside_m, 0);
  EXPECT_TRUE(set.remarks.empty());
}

// Blocks as drawn, one foot low: nothing is to lie otherwise, and yet that foot is to be set.
TEST(SetFeet, AMeasuredFootIsSetThoughTheBridgeIsAsDrawn) {
  OnOneRib on({0, 2});
  on.seat(0.5, up(0));
  on.seat(1.5, up(0));
  PointFile file;
  for (const Mark& mark : setting_out(Brief{}, on.assembly, &on.centring)) {
    if (mark.kind != MarkKind::kFoot) continue;
    const double z = mark.of == "R1-1" ? -0.012 : -0.0004;  // the other: within 0.5 mm
    file.points.push_back({mark.name, mark.designed + Vec3(0, 0, z), 0.002, 1});
  }
  const FeetSet set = on.set(0.03, &file);
  EXPECT_EQ(set.feet[0].raise_m, 0);
  EXPECT_NEAR(set.feet[0].by_wedge_m, 0.012, 1e-12);
  EXPECT_TRUE(is_set(set.feet[0]));
  EXPECT_FALSE(is_set(set.feet[1]));
  EXPECT_FALSE(post_changes(set.feet[0]));
}

// The ground 3 mm low under a head that is 8 mm high: the head is what the rib lies on.
TEST(SetFeet, TheMarkOnTheHeadTellsItsHeight) {
  OnOneRib on({0, 2});
  on.seat(0.5, up(0));
  on.seat(1.5, up(0));
  PointFile file;
  for (const Mark& mark : setting_out(Brief{}, on.assembly, &on.centring)) {
    if (mark.of != "R1-1") continue;
    const double z = mark.name == "R1-1 2" ? 0.008 : -0.003;
    file.points.push_back({mark.name, mark.designed + Vec3(0, 0, z), 0.002, 1});
  }
  EXPECT_NEAR(on.set(0.03, &file).feet[0].by_wedge_m, -0.008, 1e-12);
}

}  // namespace
}  // namespace skewback
