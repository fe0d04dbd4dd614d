#include <gtest/gtest.h>

#include "loads/loads.hpp"

namespace skewback {
namespace {

Brief square_with_an_eye() {
  Brief brief;
  brief.plan.outline = {{-3, -3}, {3, -3}, {3, 3}, {-3, 3}};
  brief.plan.openings = {{{-1, -1}, {-1, 1}, {1, 1}, {1, -1}}};
  return brief;
}

TEST(WalkingSurface, WithoutAWalkwayIsThePlanLessItsOpenings) {
  EXPECT_NEAR(area(walking_surface(square_with_an_eye())), 36 - 4, 1e-9);  // by hand
}

TEST(WalkingSurface, StripsStopAtOpeningsAndOutline) {
  Brief brief = square_with_an_eye();
  brief.walkway.width_m = 1;
  brief.walkway.lines = {{{-4, 1.25}, {4, 1.25}}};
  // 6 m long, 1 m wide, less the quarter of a metre that reaches over the 2 m of the eye
  EXPECT_NEAR(area(walking_surface(brief)), 6 - 0.25 * 2, 1e-6);
}

}  // namespace
}  // namespace skewback
