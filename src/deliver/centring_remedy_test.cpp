#include "deliver/centring_remedy.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback::deliver {
namespace {

using testing::HasSubstr;

CentringCheck used(const std::string& name, double utilisation) {
  CentringCheck check;
  check.name = name;
  check.utilisation = utilisation;
  return check;
}

// M / (t h^2 / 6): 1.44 times the stress is 1.2 times the depth; V / (t h): 1.44 times it.
TEST(CentringRemedy, FollowsTheFormulaOfTheCheck) {
  CentringRequest ask;
  ask.rib_depth_m = 0.3;
  ask.sheet_thickness_m = 0.018;
  ask.foot_spacing_m = 1.5;
  EXPECT_THAT(centring_remedy(ask, used("bending", 1.44)),
              testing::AllOf(HasSubstr("ribs 360 mm deep"), HasSubstr("sheets of 26 mm"),
                             HasSubstr("no more than 1.25 m apart")));
  EXPECT_THAT(centring_remedy(ask, used("shear", 1.44)),
              testing::AllOf(HasSubstr("ribs 440 mm deep"), HasSubstr("no more than 1.00 m")));
  ask.foot_hold_up_n = 2500;
  EXPECT_THAT(centring_remedy(ask, used("foot pulled up", 1.46)), HasSubstr("3.7 kN each"));
  CentringCheck slides = used("feet slide", 1.5);
  slides.demand = 3000;
  slides.resistance = 2000;
  ask.foot_hold_factor = 2;
  EXPECT_THAT(centring_remedy(ask, slides), HasSubstr("2.0 kN more in all"));
  EXPECT_EQ(centring_remedy(ask, used("shear", 0.99)), "");
  EXPECT_EQ(centring_remedy(ask, used("rib that balances", 2)), "");
}

// What fails as a row goes down fails by the size of the step before all else.
TEST(CentringRemedy, ASmallerStepWhereTheStageIsALowering) {
  CentringRequest ask;
  ask.strike_step_m = 2e-3;
  CentringCheck lowered = used("stability sideways", 4.8), placed = lowered;
  lowered.stage = "lower row 2 (step 23)";
  placed.stage = "place s3";
  EXPECT_THAT(centring_remedy(ask, lowered),
              testing::AllOf(testing::StartsWith("first of all a smaller step"),
                             HasSubstr("now 2.0 mm"), HasSubstr("sheets of")));
  EXPECT_THAT(centring_remedy(ask, placed), testing::Not(HasSubstr("smaller step")));
  ask.strike_step_m = 1e-4;
  EXPECT_THAT(centring_remedy(ask, lowered), testing::Not(HasSubstr("smaller step")));
  EXPECT_THAT(centring_remedy(ask, used("travel down", 1.05)), HasSubstr("centring.travel"));
}

}  // namespace
}  // namespace skewback::deliver
