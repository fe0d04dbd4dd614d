#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "centring/sample_centring.hpp"
#include "erect/lifting_parts.hpp"
#include "erect/sample_slab.hpp"

namespace skewback {
namespace {

using testing::Contains;
using testing::HasSubstr;

constexpr double kLong = 2, kSling = 0.06, kSheet = 0.018;

// 2 m along x: its slings run along y.
Assembly one_slab() { return sample::slabs({sample::slab("a", {kLong, 0.4, 0.3})}); }

Brief on_ribs() {
  Brief brief = sample::handling_brief();
  brief.centring.sheet_thickness_m = kSheet;
  return brief;
}

Centring ribs_at(const std::vector<double>& places) {
  Centring centring;
  for (const double x : places) {
    Rib rib;
    rib.id = "R" + std::to_string(centring.ribs.size() + 1);
    rib.place = {Vec3(x, -1, 0), Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()};
    rib.top = {{0, 1.85}, {2, 1.85}};
    centring.ribs.push_back(rib);
  }
  return centring;
}

LiftPlan lifted(const Brief& brief, const Centring* centring) {
  const Assembly assembly = one_slab();
  return plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr, centring);
}

double off(const LiftPlan& plan) { return std::abs(plan.lifts[0].slings[0].x()); }

// A strip of 60 mm meets a rib of 18 mm that is less than 39 mm off its middle.
TEST(SlingSeats, AStripAsWideAsTheSling) {
  SlingLine line;
  line.back = {0.5, -0.2, 1.85};
  line.front = {0.5, 0.2, 1.85};
  const CentringRequest request = on_ribs().centring;
  for (const auto& [x, over] : {std::pair{0.538, 1}, {0.540, 0}, {0.462, 1}, {0.460, 0}})
    EXPECT_EQ(lines_over({line}, kSling, under_blocks(request, ribs_at({x}))), over) << x;
  // past its end, the rib carries nothing
  Centring far = ribs_at({0.5});
  far.ribs[0].place.origin.y() = 0.3;
  EXPECT_EQ(lines_over({line}, kSling, under_blocks(request, far)), 0);
  // ribs across lie under those along
  Centring across = ribs_at({0.5});
  across.ribs[0].is_cross = true;
  EXPECT_EQ(lines_over({line}, kSling, under_blocks(request, across)), 0);
}

TEST(SlingSeats, ASlingGoesBesideARibWhereTheBlockBearsThat) {
  const Brief brief = on_ribs();
  const LiftPlan bare = lifted(brief, nullptr);
  EXPECT_FALSE(bare.lifts[0].sling_over_seat);
  EXPECT_THAT(bare.remarks, Contains(HasSubstr("it is not checked that a seat")));
  const Centring under = ribs_at({off(bare), 0});
  const LiftPlan moved = lifted(brief, &under);
  EXPECT_EQ(moved.lifts[0].sling_over_seat, false);
  EXPECT_GE(std::abs(off(moved) - off(bare)), (kSling + kSheet) / 2 - 1e-6);
  EXPECT_LE(sample::check(moved.lifts[0], "tension, yard").utilisation, 0.25);
  EXPECT_THAT(moved.remarks, Contains(HasSubstr("No sling runs over a rib")));
  const Centring beside = ribs_at({0});
  EXPECT_DOUBLE_EQ(off(lifted(brief, &beside)), off(bare)) << "moved without need";
}

TEST(SlingSeats, WhereItDoesNotBearThatTheBlockIsNamed) {
  Brief brief = on_ribs();
  brief.material.fck_pa = 1e5;  // hardly set
  const double best = off(lifted(brief, nullptr));
  const Centring under = ribs_at({best});
  const LiftPlan plan = lifted(brief, &under);
  EXPECT_EQ(plan.lifts[0].sling_over_seat, true);
  EXPECT_DOUBLE_EQ(off(plan), best);
  EXPECT_THAT(plan.remarks,
              Contains(testing::AllOf(HasSubstr("a: a sling runs over a rib"),
                                      HasSubstr("packing pieces"), HasSubstr("inserts"))));
}

// Two under each block from side to side: whichever way the slings run, they cross one.
TEST(SlingSeats, LaggingsLieAcrossEverySling) {
  const sample::Arch arch = sample::wide_arch();
  const Assembly assembly = sample::arch_assembly(arch);
  Brief brief = sample::brief_for(arch);
  brief.material = {2400, 40e6};
  brief.lifting.wanted = true;
  brief.centring.seats = "laggings";
  const auto centring = make_centring(brief, assembly);
  ASSERT_TRUE(centring);
  const LiftPlan plan = plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr, &*centring);
  int slung = 0;
  for (const BlockLift& lift : plan.lifts) {
    if (lift.slings.empty()) continue;
    ++slung;
    const bool seated = std::ranges::any_of(
        centring->seats, [&](const Seat& seat) { return seat.prop.block == lift.block; });
    EXPECT_EQ(lift.sling_over_seat, seated) << lift.id;
  }
  EXPECT_GT(slung, 8);
  EXPECT_THAT(plan.remarks, Contains(HasSubstr("blocks (sling_over_seat in lifts.csv): a sling "
                                               "runs over a lagging")));
}

}  // namespace
}  // namespace skewback
