#include "ground/shoes.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"

namespace skewback {
namespace {

// EN 1993-1-8 Table 3.4, from memory: M20 8.8 through the thread, 0.6 x 800 x 245 / 1.25 = 94.1 kN.
TEST(Shoes, BoltShear) { EXPECT_NEAR(bolt_shear(245e-6, 800e6, 1.25) / 1e3, 94.08, 1e-9); }

// A cantilever of 50 mm under 4.7 MPa: m = 4.7 x 50^2 / 2 = 5875 N mm per mm; elastic modulus t^2/6
// at 235 MPa gives t = 12.25 mm.
TEST(Shoes, PlateBends) {
  EXPECT_NEAR(plate_thickness(0.05, 4.7e6, 235e6) * 1e3, std::sqrt(6 * 5875.0 / 235), 1e-9);
}

TEST(Shoes, BoltsForWhatFrictionLeaves) {
  Brief brief;
  brief.required.footing_tolerance_m = 0.010;
  const Shoe easy = size_shoe(brief, "west", 0.5, {2, 0.4}, {{"dead", 1.35, 100e3, 5e3, 1e6}});
  EXPECT_EQ(easy.shear_left_n, 0);  // 6.75 < 20
  EXPECT_EQ(easy.bolts, 4);
  EXPECT_NEAR(easy.plate_along_m, 2.1, 1e-12);
  EXPECT_NEAR(easy.levelling_m, 0.020, 1e-12);
  EXPECT_NEAR(easy.pressure_pa, 1.35e6, 1e-6);
  // 1.35 x 400 - 20 = 520 kN: four M27 (0.6 x 800 x 459 / 1.25 = 176) do, four M20 (94) give 376
  const Shoe hard = size_shoe(brief, "west", 0.5, {2, 0.4},
                              {{"dead", 1.35, 100e3, 5e3, 1e6}, {"full", 1.35, 100e3, 400e3, 4e6}});
  EXPECT_NEAR(hard.shear_left_n, 520e3, 1e-6);
  EXPECT_EQ(hard.bolt, "M24");  // 4 x 0.6 x 800 x 353 / 1.25 = 542 kN
  EXPECT_EQ(hard.bolts, 4);
  EXPECT_EQ(hard.governing, "full");
  // a combination has its factors on: 560 - 20 = 540 kN, the same four M24
  const Shoe windy = size_shoe(brief, "west", 0.5, {2, 0.4},
                               {{"full", 1.35, 100e3, 400e3, 4e6}, {"wind", 1, 100e3, 560e3, 4e6}});
  EXPECT_NEAR(windy.shear_left_n, 540e3, 1e-6);
  EXPECT_EQ(windy.governing, "wind");
}

// A semicircle springs from level beds: no slope, and the vertical reaction is the normal force.
TEST(Shoes, OfABarrel) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const CaseProof proof = prove(assembly, assembly.cases[0]);
  ASSERT_TRUE(proof.pads && proof.pads->found);
  const auto shoes =
      size_shoes(sample::barrel_brief(arch.radius, arch.width), assembly, {proof}, {}, {}, {});
  ASSERT_EQ(shoes.size(), 2u);
  double weight = 0;
  for (const Block& block : assembly.blocks) weight += block.fixed ? 0 : mass_kg(block) * 9.81;
  for (const Shoe& shoe : shoes) {
    EXPECT_NEAR(shoe.slope_deg, 0, 1e-6);
    EXPECT_NEAR(shoe.normal_n, weight / 2, 1e-6 * weight);
    EXPECT_NEAR(shoe.plate_along_m, arch.width + 0.1, 1e-9);
    EXPECT_NEAR(shoe.plate_across_m, arch.thickness + 0.1, 1e-9);
  }
}

}  // namespace
}  // namespace skewback
