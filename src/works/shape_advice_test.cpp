// What is advised where no shape comes out does what it says.
#include "works/shape_advice.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
  const std::string advice = edge_distance_advice(brief, *faults, {});
  std::smatch said;
  ASSERT_TRUE(std::regex_search(
      advice, said, std::regex("form.edge_distance = \"(\\d+) mm\".* up to (\\d+) mm off")))
      << advice;
  EXPECT_LE(std::stod(said[2]), std::stod(said[1]));
  brief.form.edge_distance_m = std::stod(said[1]) / 1000;
  Dossier found;
  EXPECT_FALSE(find_shape(brief, found, {}));
  EXPECT_EQ(edge_distance_advice(brief, *faults, {}), "");  // it has one
}

TEST(ShapeAdvice, NoneForOtherFaults) {
  Fault fault;
  fault.key = "form: mesh";
  EXPECT_EQ(edge_distance_advice(bent(), {fault}, {}), "");
}

}  // namespace
}  // namespace skewback
