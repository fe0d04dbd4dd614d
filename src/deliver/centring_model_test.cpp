#include "deliver/centring_model.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback::deliver {
namespace {

TEST(CentringModel, PartsAndSticksAreClosedSolidsOfTheirOwnVolume) {
  Centring centring;
  SheetPart part;
  part.id = "R1";
  part.kind = "rib";
  part.place = {{1, 2, 0.5}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}};
  part.outline.outer = {{0, 0}, {2, 0}, {2, 0.3}, {1, 0.5}, {0, 0.3}};
  centring.parts = {part};
  centring.sticks = {{"P1-1", "post", {0, 0, -1}, {0, 0, 0.5}, 0.1, 0.1},
                     {"L1", "lagging", {0, 0, 0}, {0, 1, 0.2}, 0.1, 0.025}};
  const auto solids = centring_solids(centring, 0.018);
  ASSERT_EQ(solids.size(), 3u);
  for (const NamedSolid& s : solids) EXPECT_TRUE(closed(s.solid)) << s.id;
  const MassProperties rib = mass_properties(solids[0].solid);
  EXPECT_NEAR(rib.volume, 0.8 * 0.018, 1e-12);  // 2 x 0.3 and a triangle of 2 x 0.2
  EXPECT_NEAR(rib.centroid.x(), 1, 1e-12);
  EXPECT_NEAR(rib.centroid.y(), 3, 1e-12);
  EXPECT_NEAR(mass_properties(solids[1].solid).volume, 0.015, 1e-12);
  EXPECT_NEAR(mass_properties(solids[1].solid).centroid.z(), -0.25, 1e-12);
  EXPECT_NEAR(mass_properties(solids[2].solid).volume, 0.0025 * std::sqrt(1.04), 1e-12);
}

}  // namespace
}  // namespace skewback::deliver
