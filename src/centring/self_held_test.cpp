// What stands on the course below without a seat. Closed form: a stack without tension stands where
// the weight above every joint passes through the joint, and slides nowhere where no bed is steeper
// than the angle of friction (Coulomb 1773).
#include <gtest/gtest.h>

#include "centring/sample_centring.hpp"

namespace skewback {
namespace {

/// Does the weight of voussoirs j to c pass between the edges of the joint under j, for every j?
bool stack_stands(const sample::Arch& arch, const Assembly& assembly, int c) {
  for (int j = 0; j <= c; ++j) {
    double mass = 0, moment = 0;
    for (int i = j; i <= c; ++i) {
      const Block& block = assembly.blocks[static_cast<std::size_t>(i)];
      mass += block.mass.volume;
      moment += block.mass.volume * block.mass.centroid.x();
    }
    const double angle = kPi * j / arch.voussoirs;
    const double inner = -(arch.radius - arch.thickness / 2) * std::cos(angle);
    if (moment / mass > inner) return false;
  }
  return true;
}

struct Expected {
  int friction = 0, weight = 0;  // courses of one springing, from the bottom, that hold so
};
Expected by_hand(const sample::Arch& arch) {
  const Assembly assembly = sample::arch_assembly(arch);
  Expected e;
  for (int c = 0; c < arch.voussoirs / 2; ++c) {
    const bool slides = kPi * c / arch.voussoirs >= std::atan(arch.friction / 1.25);
    if (!slides && e.friction == c) ++e.friction;
    if (!slides && e.weight == c && stack_stands(arch, assembly, c)) ++e.weight;
  }
  return e;
}

void expect_by_hand(const sample::Arch& arch) {
  const Expected e = by_hand(arch);
  const auto held = self_held(sample::brief_for(arch), sample::arch_assembly(arch));
  const int stands = std::min(e.friction, e.weight);
  ASSERT_EQ(held.size(), 2u * static_cast<std::size_t>(stands + 1));
  for (int i = 0; i <= stands; ++i) {
    const SelfHeld& h = held[static_cast<std::size_t>(i)];
    EXPECT_EQ(h.block, "v" + std::to_string(i + 1));
    EXPECT_NEAR(h.slope_rad, kPi * i / arch.voussoirs, 1e-9);
    EXPECT_EQ(h.by_friction, i < e.friction) << i;
    EXPECT_EQ(h.by_weight, i < e.weight) << i;
    const double chord =
        2 * (arch.radius - arch.thickness / 2) * std::sin(kPi / 2 / arch.voussoirs);
    // faces of the springers that lean a little are no soffit
    EXPECT_LE(h.timber_saved_m2, i < stands ? chord * arch.width + 1e-9 : 0.0);
  }
}

sample::Arch ring(double thickness, double friction) {
  sample::Arch arch;
  arch.voussoirs = 31;
  arch.thickness = thickness;
  arch.friction = friction;
  return arch;
}

TEST(SelfHeld, ThickRingSlidesFirst) {
  const sample::Arch arch =
      ring(1.5, 0.45);  // its fifth bed, 23.2 degrees, lies between both angles
  const Expected e = by_hand(arch);
  ASSERT_LT(e.friction, arch.voussoirs / 2 - 1);
  ASSERT_EQ(e.friction, e.weight);
  expect_by_hand(arch);
}

TEST(SelfHeld, ThinRingTipsFirst) {
  const sample::Arch arch = ring(0.3, 0.9);
  const Expected e = by_hand(arch);
  ASSERT_GT(e.friction, e.weight);
  ASSERT_GT(e.weight, 1);
  expect_by_hand(arch);
}

TEST(SelfHeld, LegsOfATripodAreEachJudged) {
  sample::Tripod tripod;
  tripod.courses = 9;
  const auto held = self_held(sample::brief_for(tripod), sample::tripod_assembly(tripod));
  ASSERT_EQ(held.size() % 3, 0u);
  const std::size_t each = held.size() / 3;
  ASSERT_GT(each, 1u);
  for (std::size_t i = 0; i < each; ++i) {
    EXPECT_EQ(held[i].block, "A" + std::to_string(i + 1));
    EXPECT_EQ(held[i].by_weight, held[i + each].by_weight);
    EXPECT_EQ(held[i].by_weight, i + 1 < each);
  }
}

}  // namespace
}  // namespace skewback
