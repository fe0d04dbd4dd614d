// Ribs and cross ribs go home in each other's slots: sampled in space, thickness and all.
#include <gtest/gtest.h>

#include <Eigen/Geometry>

#include "centring/sample_centring.hpp"

namespace skewback {
namespace {

struct Meeting {
  const Rib* rib;
  const Rib* cross;
  Vec2 at;  // in plan
  double sine;
};

std::vector<Meeting> meetings(const Centring& centring) {
  std::vector<Meeting> out;
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross) continue;
    for (const double x : rib.crossings) {
      const Vec3 p = rib.place.to_world(Vec2(x, 0));
      for (const Rib& cross : centring.ribs) {
        if (!cross.is_cross || std::abs(cross.place.to_local(p).z()) > 1e-9) continue;
        const double along = cross.place.to_local(p).x();
        if (along < 0 || along > cross.top.back().x()) continue;
        out.push_back({&rib, &cross, p.head<2>(), std::abs(rib.place.x.cross(cross.place.x).z())});
      }
    }
  }
  return out;
}

bool in_any(const Centring& centring, const Rib& rib, double t, const Vec3& p) {
  return std::ranges::any_of(centring.parts, [&](const SheetPart& part) {
    return part.rib == rib.id && part.kind != "splice" && sample::inside(part, t, p);
  });
}

/// No point in both; along the crossing's own axis none in neither but for the play of a slot's
/// end.
void expect_goes_home(const Centring& centring, double t) {
  const auto all = meetings(centring);
  EXPECT_GE(all.size(), 8u);
  for (const Meeting& m : all) {
    const Vec3 mid(m.at.x(), m.at.y(), 0);
    const double xr = m.rib->place.to_local(mid).x(), xc = m.cross->place.to_local(mid).x();
    const double low = sample::at(m.rib->bottom, xr) + 1e-3;
    const double high = std::min(sample::at(m.rib->top, xr), sample::at(m.cross->top, xc)) - 1e-3;
    int both = 0, neither = 0, samples = 0;
    for (double z = low; z < high; z += 0.0021) {
      const Vec3 axis(m.at.x(), m.at.y(), z);
      if (!in_any(centring, *m.rib, t, axis) && !in_any(centring, *m.cross, t, axis)) ++neither;
      const auto look = [&](double along_rib, double along_cross) {
        const Vec3 p = axis + along_rib * m.rib->place.x + along_cross * m.cross->place.x;
        ++samples;
        if (in_any(centring, *m.rib, t, p) && in_any(centring, *m.cross, t, p)) ++both;
      };
      for (int i = -3; i <= 3; ++i) {
        for (int k = -3; k <= 3; ++k) look(i * t / 4, k * t / 4);
      }
      // the corners of what both sheets fill: farthest apart where they cross at a slant
      const double a = 0.499 * t / m.sine;
      for (const double u : {-a, a}) {
        for (const double v : {-a, a}) look(u, v);
      }
    }
    EXPECT_EQ(both, 0) << m.rib->id << " x " << m.cross->id;
    EXPECT_LE(neither, 1) << m.rib->id << " x " << m.cross->id;
    EXPECT_GT(samples, 2000);
  }
}

TEST(Slots, OfABarrelGoHomeUnderTheRouter) {
  sample::Arch arch = sample::wide_arch();
  arch.width = 1.1;
  const Brief brief = sample::brief_for(arch);
  const Result<Centring> made = make_centring(brief, sample::arch_assembly(arch));
  ASSERT_TRUE(made.ok());
  expect_goes_home(*made, brief.centring.sheet_thickness_m);
}

TEST(Slots, OfLegsOverWaterGoHome) {
  sample::Tripod tripod;
  tripod.courses = 7;
  Brief brief = sample::brief_for(tripod);
  brief.centring.no_feet = {{{-0.6, -3}, {0.4, -3}, {0.4, 3}, {-0.6, 3}}};
  const Result<Centring> made = make_centring(brief, sample::tripod_assembly(tripod));
  ASSERT_TRUE(made.ok());
  expect_goes_home(*made, brief.centring.sheet_thickness_m);
}

/// A barrel that gets wider from one springing to the other: its ribs fan.
TEST(Slots, OfRibsThatCrossAtASlantGoHome) {
  const sample::Arch arch = sample::wide_arch();
  Brief brief = sample::brief_for(arch);
  brief.centring.cutter = "laser";
  brief.centring.clearance_m = 1e-5;
  Assembly assembly = sample::arch_assembly(arch);
  for (Block& block : assembly.blocks) {
    for (Vec3& v : block.solid.vertices) v.y() *= 1 + 0.15 * v.x();
  }
  measure(assembly);
  const Result<Centring> made = make_centring(brief, assembly);
  ASSERT_TRUE(made.ok());
  double slant = 0;
  for (const Meeting& m : meetings(*made)) slant = std::max(slant, std::acos(m.sine));
  EXPECT_GT(slant, 0.1);
  expect_goes_home(*made, brief.centring.sheet_thickness_m);
}

TEST(Slots, OnlyARouterNeedsReliefAtInnerCorners) {
  sample::Arch arch = sample::wide_arch();
  Brief brief = sample::brief_for(arch);
  const Assembly assembly = sample::arch_assembly(arch);
  const Result<Centring> routed = make_centring(brief, assembly);
  brief.centring.cutter = "laser";
  const Result<Centring> burnt = make_centring(brief, assembly);
  ASSERT_TRUE(routed.ok() && burnt.ok());
  std::size_t crossings = 0;
  for (const Rib& rib : routed->ribs) crossings += rib.crossings.size();
  // By hand: a polygon of 16 sides on the bit's circle, a corner of it in the slot's corner and its
  // middle on the bisector. Walls cut a quarter of it off each: four of its triangles less the one
  // under the chord, r^2 (2 sin 22.5 deg - 1/2).
  const double r = brief.centring.tool_m / 2;
  const double past_a_wall = r * r * (2 * std::sin(kPi / 8) - 0.5);
  const double taken = 4 * past_a_wall * static_cast<double>(crossings);  // two corners, two walls
  EXPECT_GT(crossings, 50u);
  EXPECT_NEAR(burnt->plywood_m2 - routed->plywood_m2, taken, 1e-3 * taken);
}

}  // namespace
}  // namespace skewback
