#include "body/upstand.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace skewback {
namespace {

constexpr double kLong = 3, kWide = 2, kDepth = 0.2, kWidth = 0.12, kHeight = 0.4;

Brief brief_of(double inset) {
  Brief brief;
  brief.plan.outline = {{0, 0}, {kLong, 0}, {kLong, kWide}, {0, kWide}};
  brief.plan.supports = {{"west", {0, kWide}, {0, 0}, 0}, {"east", {kLong, 0}, {kLong, kWide}, 0}};
  brief.plan.free_edges = {{0, 1, {{0, 0}, {kLong, 0}}}, {1, 0, {{kLong, kWide}, {0, kWide}}}};
  brief.parapet.working = {0, 1};
  brief.parapet.inset_m = inset;
  brief.parapet.upstand_width_m = kWidth;
  brief.parapet.upstand_height_m = kHeight;
  return brief;
}

/// A level plate in quarters along, level at z = 0.
Form plate() {
  Form form;
  const auto at = [](int i, int j) { return 2 * i + j; };
  for (int i = 0; i <= 4; ++i)
    for (int j = 0; j <= 1; ++j) {
      form.vertices.emplace_back(kLong * i / 4, kWide * j, 0);
      form.support_of.push_back(i == 0 ? 0 : i == 4 ? 1 : -1);
    }
  for (int i = 0; i < 4; ++i) {
    for (int j = 0; j <= 1; ++j) form.edges.push_back({at(i, j), at(i + 1, j), 1, j});
    form.triangles.push_back({at(i, 0), at(i + 1, 0), at(i + 1, 1)});
    form.triangles.push_back({at(i, 0), at(i + 1, 1), at(i, 1)});
    for (int t = 0; t < 2; ++t) form.arm.push_back(i < 2 ? 0 : 1);
  }
  return form;
}

struct Reach {
  double least, most;
};
/// Of the ribs across the plate, that along y = 0 first.
std::vector<Reach> across(double inset) {
  const Form form = plate();
  const std::vector<Vec3> normal(form.vertices.size(), Vec3::UnitZ());
  std::vector<Vec3> extrados = form.vertices;
  for (Vec3& p : extrados) p.z() += kDepth / 2;
  const std::vector<Plane> springing = {{Vec3(0, 0, 0), Vec3::UnitX()},
                                        {Vec3(kLong, 0, 0), -Vec3::UnitX()}};
  std::vector<Reach> out;
  for (const Solid& rib : upstands(brief_of(inset), form, springing, normal, extrados,
                                   std::vector<double>(form.vertices.size(), kDepth), 0.05)) {
    const auto [low, high] =
        std::ranges::minmax_element(rib.vertices, {}, [](const Vec3& p) { return p.y(); });
    out.push_back({low->y(), high->y()});
  }
  std::ranges::sort(out, {}, &Reach::least);
  return out;
}

// 120 mm wide with its middle 100 mm in: from 40 to 160 mm.
TEST(Upstands, StandWhereTheyAreDrawn) {
  const std::vector<Reach> ribs = across(0.1);
  ASSERT_EQ(ribs.size(), 2u);
  EXPECT_NEAR(ribs[0].least, 0.04, 1e-12);
  EXPECT_NEAR(ribs[0].most, 0.16, 1e-12);
  EXPECT_NEAR(ribs[1].least, kWide - 0.16, 1e-12);
  EXPECT_NEAR(ribs[1].most, kWide - 0.04, 1e-12);
}

// Flush with the edge, and half a millimetre off it, they are as wide and 1 mm inside.
TEST(Upstands, DrawnFlushTheyAreAMillimetreInside) {
  for (const double inset : {0.06, 0.0605}) {
    const std::vector<Reach> ribs = across(inset);
    ASSERT_EQ(ribs.size(), 2u);
    EXPECT_NEAR(ribs[0].least, 0.001, 1e-12);
    EXPECT_NEAR(ribs[0].most, 0.121, 1e-12);
    EXPECT_NEAR(ribs[1].most, kWide - 0.001, 1e-12);
  }
}

}  // namespace
}  // namespace skewback
