#include "deliver/elevations.hpp"

#include <gtest/gtest.h>

#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

// Springings at 0, 0.2, 0.4 and 1.0 m about two meetings 2 m apart: the spine has no springing of
// its own, so it is drawn over their mean, 0.4 m.
TEST(Elevations, TheSpineIsDrawnOverTheMeanLevelOfTheSpringings) {
  Dossier dossier;
  dossier.brief = sample::small_brief();
  dossier.brief.plan.supports = {{"a", {-3, -1}, {-3, -2}, 0},
                                 {"b", {3, -2}, {3, -1}, 0.2},
                                 {"c", {3, 1}, {3, 2}, 0.4},
                                 {"d", {-3, 2}, {-3, 1}, 1.0}};
  dossier.brief.plan.meeting = Vec2(-1, 0);
  dossier.brief.plan.second_meeting = Vec2(1, 0);
  dossier.cut.emplace();
  const std::vector<Elevation> found = elevations(dossier);
  ASSERT_EQ(found.size(), 5U);
  for (std::size_t k = 0; k < 4; ++k)
    EXPECT_EQ(found[k].level_m, dossier.brief.plan.supports[k].level_m);
  EXPECT_NEAR(found[4].level_m, 0.4, 1e-12);
  EXPECT_NEAR(found[4].span_m, 2, 1e-12);
}

}  // namespace
}  // namespace skewback::deliver
