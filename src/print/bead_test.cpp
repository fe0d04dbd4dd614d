#include "print/bead.hpp"

#include <gtest/gtest.h>

#include "base/constants.hpp"

namespace skewback {
namespace {

// A bead of half rounds: a rectangle (w - h) x h and a circle of diameter h.
TEST(Bead, SectionIsARectangleAndACircle) {
  for (const double h : {0.004, 0.010, 0.0153}) {
    for (const double w : {0.0153, 0.02, 0.06}) {
      EXPECT_NEAR(bead_section_m2(w, h), (w - h) * h + kPi * h * h / 4, 1e-15) << w << " x " << h;
    }
  }
}

TEST(Bead, ShareAndWidthAreInverse) {
  EXPECT_NEAR(bead_share_m(bead_width_m(0.045, 0.012), 0.012), 0.045, 1e-15);
  Pose pose;
  pose.share_m = 0.045F;
  pose.height_m = 0.012F;
  EXPECT_NEAR(bead_width_m(0.045, 0.012), width_m(pose), 1e-8);
  EXPECT_NEAR(bead_section_m2(width_m(pose), 0.012), section_m2(pose), 1e-10);
}

// Mix 5 L/min with 4 % of accelerator: 5.2 L/min leave the nozzle, 0.2 of them accelerator; what
// is laid in a minute was 5 L of mix.
TEST(Bead, AcceleratorIsDosedOnTopOfTheMix) {
  PrintRequest print;
  print.flow_m3_s = 5e-3 / 60;
  print.accelerator = 0.04;
  EXPECT_NEAR(nozzle_flow_m3_s(print) * 6e4, 5.2, 1e-12);
  EXPECT_NEAR(accelerator_flow_m3_s(print) * 6e4, 0.2, 1e-12);
  EXPECT_NEAR(mix_volume_m3(print, 5.2e-3), 5e-3, 1e-15);
  // 45 mm of wall, 10 mm high, at 5.2 L/min: 86.667e-6 / 450e-6
  EXPECT_NEAR(bead_speed_m_s(print, 0.045, 0.010), 0.192593, 1e-6);
  EXPECT_NEAR(share_at_speed_m(print, 0.192593, 0.010), 0.045, 1e-6);
}

}  // namespace
}  // namespace skewback
