#include "motion/motion.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"

namespace skewback {
namespace {

TEST(Motion, AnArchComesToRest) {
  sample::Arch shape;
  const Assembly arch = sample::arch_assembly(shape);
  const Motion m = let_go(arch, arch.cases[0]);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_LT(m.energy.error, 0.01);
}

TEST(Motion, AThinArchMovesOff) {
  sample::Arch shape;
  shape.thickness = 0.25;
  shape.voussoirs = 20;
  const Assembly arch = sample::arch_assembly(shape);
  const Motion m = let_go(arch, arch.cases[0]);
  EXPECT_EQ(m.ending, Ending::kMovingOff) << m.reason;
}

}  // namespace
}  // namespace skewback
