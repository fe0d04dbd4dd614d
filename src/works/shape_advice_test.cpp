// What is advised where no shape comes out does what it says.
#include "works/shape_advice.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>

#include "form/sample_plans.hpp"
#include "works/shape_loop.hpp"

namespace skewback {
namespace {

/// The meeting so near a free edge that the surface bends sharply there.
Brief bent() {
  Brief brief = sample::wren_leat();
  brief.plan.meeting = Vec2(0.1, -0.8);
  brief.form.mesh_size_m = 0.18;
  return brief;
}

TEST(ShapeAdvice, TheEdgeDistanceItNamesGivesAShape) {
  Brief brief = bent();
  Dossier none;
  const std::optional<Faults> faults = find_shape(brief, none, {});
  ASSERT_TRUE(faults);
  ASSERT_EQ(faults->front().key, "body") << describe(faults->front());
  const std::string advice = shape_advice(brief, *faults, {});
  std::smatch said;
  ASSERT_TRUE(std::regex_search(
      advice, said, std::regex("form.edge_distance = \"(\\d+) mm\".* up to (\\d+) mm off")))
      << advice;
  EXPECT_LE(std::stod(said[2]), std::stod(said[1]));
  brief.form.edge_distance_m = std::stod(said[1]) / 1000;
  Dossier found;
  EXPECT_FALSE(find_shape(brief, found, {}));
  EXPECT_TRUE(std::ranges::all_of(found.form->achieved, &Achieved::met));
  // the wish that stays on is not the fault here: without it there is no shape
  EXPECT_THAT(shape_advice(brief, *faults, {}), testing::StartsWith("plan.fill = "));
}

/// A strip asked to be lower at a quarter than its load and rise let it be.
Brief sunk() {
  Brief brief = sample::strip(0.4);
  brief.form.heights = {{{2, 0}, 1.25}};
  return brief;
}

TEST(ShapeAdvice, TheWishThatStandsInTheWayIsNamed) {
  Brief brief = sunk();
  Dossier none;
  const std::optional<Faults> faults = find_shape(brief, none, {});
  ASSERT_TRUE(faults);
  EXPECT_THAT(shape_advice(brief, *faults, {}), testing::StartsWith("leave out form.height[1]: "));
  brief.form.heights.clear();
  Dossier found;
  EXPECT_FALSE(find_shape(brief, found, {}));
}

// Where no body can be given the form may still be looked at; it carries the weight of its depths.
TEST(ShapeAdvice, TheFormAloneIsThereToLookAt) {
  Dossier alone;
  EXPECT_FALSE(find_shape(bent(), alone, {}, true));
  ASSERT_TRUE(alone.form);
  EXPECT_FALSE(alone.body);
  double up = 0;
  for (const Vec3& r : alone.form->reaction_n) up += r.z();
  const double depth = 0.5 * (bent().section.depth_crown_m + bent().section.depth_springing_m);
  const double slab =
      9.81 * bent().material.density * depth * area(Region{bent().plan.outline, {}});
  EXPECT_GT(std::abs(up), 0.4 * slab);  // hollow, and with a walkway on it
  EXPECT_LT(std::abs(up), 2 * slab);
}

TEST(ShapeAdvice, NoneForOtherFaults) {
  Fault fault;
  fault.key = "form: mesh";
  EXPECT_EQ(shape_advice(bent(), {fault}, {}), "");
}

}  // namespace
}  // namespace skewback
