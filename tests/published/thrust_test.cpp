// Least and greatest thrust of arches, and what friction does, against published and independently
// computed values.

#include <gtest/gtest.h>

#include "blocks.hpp"
#include "ring.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

double weight_of(const Assembly& assembly) {
  double weight = 0;
  for (const Block& block : assembly.blocks) weight += block.fixed ? 0 : mass_kg(block) * kGravity;
  return weight;
}

/// Horizontal thrust at the right springing over the whole weight, least and greatest.
std::pair<double, double> thrust_of(const Ring& ring) {
  const Assembly arch = make_arch(ring);
  const auto range = thrust_range(arch, arch.cases[0], 0, {{0, -Vec3::UnitX()}});
  if (!range) return {-1, -1};
  return {range->least / weight_of(arch), range->greatest / weight_of(arch)};
}

// Source: computed independently (another linear program): H/W of a semicircle and of a segment of
// half angle 60 degrees, true wedge weight, no sliding; 200 exact sectors stand for the continuum.
TEST(PublishedThrust, LeastAndGreatest) {
  struct Row {
    double embrace_deg, thickness, least, greatest;
  };
  for (const Row& row : {Row{180, 0.15, 0.17587, 0.22698}, Row{180, 0.20, 0.15404, 0.25455},
                         Row{120, 0.05, 0.35390, 0.44155}, Row{120, 0.10, 0.30284, 0.50760}}) {
    Ring ring;
    ring.voussoirs = 200;
    ring.thickness = row.thickness;
    ring.embrace = row.embrace_deg * kPi / 180;
    const auto [least, greatest] = thrust_of(ring);
    EXPECT_NEAR(least, row.least, 1e-4) << row.embrace_deg << ", t/R " << row.thickness;
    EXPECT_NEAR(greatest, row.greatest, 1e-4) << row.embrace_deg << ", t/R " << row.thickness;
  }
}

// Source: computed independently: at t/R 0.25 the greatest thrust of a semicircle needs friction
// 0.554, so with 0.5 it is lower, and with 0.6 it is not.
TEST(PublishedThrust, GreatestThrustNeedsFriction) {
  Ring ring;
  ring.voussoirs = 100;
  ring.thickness = 0.25;
  const double free = thrust_of(ring).second;
  ring.friction = 0.6;
  EXPECT_NEAR(thrust_of(ring).second, free, 1e-6);
  ring.friction = 0.5;
  EXPECT_LT(thrust_of(ring).second, free * (1 - 1e-3));
}

// Source: computed independently (another linear program): least t/R of segmental arches, true
// weight, and where the intrados hinge is then, from the crown; 1 %. 120 voussoirs: a crown joint.
TEST(PublishedThrust, LeastThicknessOfSegments) {
  struct Row {
    double half_deg, least, hinge_deg;
  };
  for (const Row& row :
       {Row{45, 0.007487, 30.52}, Row{60, 0.022847, 39.47}, Row{75, 0.053688, 47.49},
        Row{80, 0.068650, 49.96}, Row{100, 0.160735, 58.43}, Row{110, 0.232295, 61.63}}) {
    Ring ring;
    ring.voussoirs = 120;
    ring.embrace = 2 * row.half_deg * kPi / 180;
    double falls = row.least / 2, stands = row.least * 2;
    while (stands - falls > 1e-4 * stands) {
      ring.thickness = (falls + stands) / 2;
      const Assembly arch = make_arch(ring);
      const Verdict verdict = limit_load(arch, arch.cases[0]).verdict;
      ASSERT_NE(verdict, Verdict::kUndecided) << row.half_deg;
      (verdict == Verdict::kStands ? stands : falls) = ring.thickness;
    }
    EXPECT_NEAR(stands / row.least, 1, 0.01) << row.half_deg;
    ring.thickness = stands;
    const Assembly arch = make_arch(ring);
    const CaseProof proof = limit_load(arch, arch.cases[0]);
    const auto resultants = joint_resultants(arch, std::get<Forces>(proof.evidence));
    const double joint = closest_to_intrados(arch, resultants, ring.voussoirs, ring.thickness);
    const double hinge_deg = row.half_deg * (1 - 2 * joint / ring.voussoirs);
    EXPECT_NEAR(hinge_deg / row.hinge_deg, 1, 0.01) << row.half_deg;
  }
}

// Source: Cocchetti and Rizzi 2020, table 3, weight on the centreline: below friction 0.309215 no
// thickness stands, at it t/R 0.200637. With true weight and finite voussoirs about the same: the
// least friction of an arch thick enough not to turn lies within 1 % of it.
TEST(PublishedThrust, LeastFrictionOfAThickSemicircle) {
  Ring ring;
  ring.voussoirs = 101;
  ring.thickness = 0.205;
  const Assembly arch = make_arch(ring);
  const auto least = least_friction(arch, arch.cases[0], 0, {}, 1e-5);
  ASSERT_TRUE(least.has_value());
  EXPECT_NEAR(*least, 0.309215, 0.0031);
}

// Closed form: a block b wide and h high pushed by lambda times its weight: min(mu, b/h).
TEST(PublishedThrust, BlockPushedOnAPlane) {
  for (const double mu : {0.3, 0.6}) {
    Assembly assembly;
    assembly.blocks = {ground(), rectangle("block", 0, 0.4, 0, 1)};
    assembly.joints = {bed_joint(0, 1, 0, 0.4, 0, mu)};
    EXPECT_NEAR(limit_load(assembly, pushed(kGravity)).load_factor.value(), std::min(mu, 0.4),
                1e-6);
  }
}

// Closed form: pushed at 45 degrees to its edges a flat block slips at mu; an inscribed four-sided
// pyramid of friction would say mu / sqrt 2, one drawn round it mu sqrt 2.
TEST(PublishedThrust, TrueConeWhicheverWayItSlips) {
  Assembly assembly;
  assembly.blocks = {ground(), rectangle("block", -0.5, 0.5, 0, 0.1)};
  assembly.joints = {bed_joint(0, 1, -0.5, 0.5, 0, 0.7)};
  for (const double turn : {0.0, 0.3, kPi / 4, 1.1}) {
    LoadCase load = dead();
    load.live_acceleration = kGravity * Vec3(std::cos(turn), std::sin(turn), 0);
    EXPECT_NEAR(limit_load(assembly, load).load_factor.value(), 0.7, 1e-6) << turn;
  }
}

// Closed form: a rectangle of strength s under N carries it off its middle by (b - N / (s h)) / 2:
// the block of pressure. Cells approach that from below.
TEST(PublishedThrust, FiniteStrengthIsTheBlockOfPressure) {
  Assembly assembly;
  assembly.blocks = {ground(), rectangle("block", -0.2, 0.2, 0, 1)};
  assembly.joints = {bed_joint(0, 1, -0.2, 0.2, 0, 5)};
  const double N = mass_kg(assembly.blocks[1]) * kGravity, strength = 4 * N / 0.4;
  StandOptions options;
  options.joint_strength_pa = strength;
  const double reach = (0.4 - N / strength) / 2;  // thrust moves out by factor x 0.5 m
  const double factor = limit_load(assembly, pushed(kGravity), options).load_factor.value();
  EXPECT_LE(factor, reach / 0.5 * (1 + 1e-9));
  EXPECT_GE(factor, reach / 0.5 * 0.97);
  EXPECT_NEAR(limit_load(assembly, pushed(kGravity)).load_factor.value(), 0.4, 1e-6);
}

}  // namespace
}  // namespace skewback
