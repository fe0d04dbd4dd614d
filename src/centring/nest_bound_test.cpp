// Bounds by hand, and that no layout found does with fewer.

#include "centring/nest_bound.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

SheetPart bar(double length, double deep) {
  SheetPart part;
  part.id = "b";
  part.outline = {{{0, 0}, {length, 0}, {length, deep}, {0, deep}}, {}};
  return part;
}

// A trapezium 4 long, 2 deep at the left, 1 at the right: between 1 and 3 least 1.25 (at 3).
TEST(NestBound, LeastChordByHand) {
  const Polygon trapezium = {{0, 0}, {4, 0}, {4, 1}, {0, 2}};
  EXPECT_NEAR(least_chord_m(trapezium, 1, 3), 1.25, 1e-6);
  // a slot from above, 0.5 deep, from 1.9 to 2.1
  const Polygon slotted = {{0, 0},     {4, 0},     {4, 1},   {2.1, 1},
                           {2.1, 0.5}, {1.9, 0.5}, {1.9, 1}, {0, 1}};
  EXPECT_NEAR(least_chord_m(slotted, 1, 3), 0.5, 1e-6);
  EXPECT_NEAR(least_chord_m(slotted, 2.2, 3), 1, 1e-6);
}

// Seven bars of 1.3 x 0.35 m on sheets of 2.44 x 1.22 with 10 mm between: three lie over one
// another (3 x 0.36 = 1.08 of 1.21; a fourth would need 1.44), so 7 x 0.36 / 1.21 = 2.08: three
// sheets. Their area alone: (sqrt 0.455 + 0.00886)^2 x 7 = 3.27 of 2.43 x 1.21 = 2.94: two.
TEST(NestBound, LongBarsByHand) {
  Brief brief;
  Centring centring;
  for (int i = 0; i < 7; ++i) centring.parts.push_back(bar(1.3, 0.35));
  const SheetsBound bound = sheets_bound(brief, centring);
  EXPECT_EQ(bound.by_area, 2u);
  EXPECT_EQ(bound.by_long, 3u);
  ASSERT_FALSE(nest_parts(brief, centring).has_value());
  EXPECT_EQ(centring.sheets.size(), 3u);
  // laid across they would go beside one another: of parts that may be turned nothing is said
  for (SheetPart& part : centring.parts) part.grain_along_x = false;
  EXPECT_EQ(sheets_bound(brief, centring).by_long, 0u);
}

TEST(NestBound, NoLayoutDoesWithFewer) {
  for (int many = 1; many < 24; many += 3) {
    Brief brief;
    Centring centring;
    for (int i = 0; i < many; ++i)
      centring.parts.push_back(bar(0.4 + 0.17 * (i % 11), 0.1 + 0.05 * (i % 5)));
    ASSERT_FALSE(nest_parts(brief, centring).has_value());
    EXPECT_LE(sheets_bound(brief, centring).least(), centring.sheets.size()) << many;
  }
}

}  // namespace
}  // namespace skewback
