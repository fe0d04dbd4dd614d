#include "deliver/drawings.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "deliver/elevations.hpp"
#include "deliver/levels.hpp"
#include "deliver/picture.hpp"
#include "deliver/sample_dossier.hpp"

namespace skewback::deliver {
namespace {

// phi is 3 + x in the west arm, 3 - x in the east one, so its lines lie at known x.
TEST(Levels, LieWherePhiHasTheirValue) {
  const auto lines = level_lines(sample::small_form(), 0.4);
  EXPECT_EQ(lines.size(), 2U * 7U);  // 0.4 to 2.8 on each arm
  for (const LevelLine& line : lines) {
    double length = 0;
    for (const auto& [a, b] : line.pieces) {
      const double x = line.arm == 0 ? line.level_m - 3 : 3 - line.level_m;
      EXPECT_NEAR(a.x(), x, 1e-12);
      EXPECT_NEAR(b.x(), x, 1e-12);
      length += (b - a).norm();
    }
    EXPECT_NEAR(length, 1, 1e-12);  // from edge to edge
  }
}

TEST(Outline, OfABoxIsItsShadow) {
  const Solid solid = box({0, 0, 0}, {2, 1, 0.5});
  EXPECT_NEAR(area(silhouette(solid, plan_view())), 2, 1e-9);
  EXPECT_NEAR(area(silhouette(solid, side_view({0, 0}, {0, 1}))), 0.5, 1e-9);
}

// A box with a square hole through it, seen aslant: against the plain union of the faces in view.
TEST(Outline, OfAHollowBlockIsTheUnionOfItsFaces) {
  const auto hollow = subtract(box({0, 0, 0}, {2, 1, 0.5}), box({0.5, 0.25, -1}, {1.5, 0.75, 1}));
  ASSERT_TRUE(hollow.ok());
  for (const double lean : {0.0, 0.2, 0.9}) {
    View view;
    view.towards = Vec3(0.3 * lean, lean, 1).normalized();
    view.right = Vec3::UnitY().cross(view.towards).normalized();
    view.up = view.towards.cross(view.right);
    Regions faces;
    for (const auto& face : hollow->faces) {
      Polygon ring;
      for (const int v : face) ring.push_back(view(hollow->vertices[static_cast<std::size_t>(v)]));
      if (area(ring) > 1e-10) faces.push_back({ring, {}});
    }
    EXPECT_NEAR(area(silhouette(*hollow, view)), area(unite(faces)), 1e-7) << lean;
  }
  EXPECT_NEAR(area(silhouette(*hollow, plan_view())), 2 - 0.5, 1e-7);
}

TEST(Elevation, LooksFromTheRightWithTheSpringingOnTheLeft) {
  const View view = side_view({1, 0}, {1, 5});  // northwards, so the eye is in the east
  EXPECT_NEAR((view(Vec3(7, 2, 3)) - Vec2(2, 3)).norm(), 0, 1e-12);
  EXPECT_GT(view.depth({2, 0, 0}), view.depth({1, 0, 0}));
}

// A force F through the point p has the moment p x F about the origin of the joint.
TEST(Thrust, PassesTheJointWhereItsMomentSays) {
  Joint joint;
  joint.frame = frame_on({{1, 2, 3}, Vec3(1, 2, 2) / 3});
  const Vec3 through = joint.frame.to_world(Vec2(0.04, -0.07));
  JointResultant r;
  r.force = 900 * joint.frame.z + 50 * joint.frame.x;
  r.moment = (through - joint.frame.origin).cross(r.force);
  const auto p = pressure_point(joint, r);
  ASSERT_TRUE(p.has_value());
  EXPECT_NEAR((*p - through).norm(), 0, 1e-12);
  r.force = -r.force;
  EXPECT_FALSE(pressure_point(joint, r).has_value());
}

TEST(Scale, IsOneOfTheUsualOnesAndFits) {
  Extent extent;
  extent.add({-3, -1});
  extent.add({3, 1});
  const SheetMap map = fit(extent, {10, 20}, {200, 100});
  EXPECT_EQ(map.scale(), "1:30");
  EXPECT_NEAR((map(Vec2(0, 0)) - Vec2(110, 70)).norm(), 0, 1e-9);
}

TEST(Svg, KeepsWordsAsWordsAndEscapesThem) {
  const Dossier dossier = sample::small_dossier();
  const std::string text = svg(plan_sheet(dossier, find_outlines(dossier), {}));
  EXPECT_NE(text.find(">Little arch &lt;A &amp; B&gt;: plan</text>"), std::string::npos);
  for (const char* name : {">v1<", ">v7<", ">west<", ">tie west-east<"}) {
    EXPECT_NE(text.find(name), std::string::npos) << name;
  }
  EXPECT_EQ(text.find("nan"), std::string::npos);
}

// Two blocks side by side in every course, and between them head joints, seen face on.
TEST(Elevation, GivesACourseOneNumberAndLeavesOutItsHeadJoints) {
  Dossier d = sample::small_dossier();
  Assembly& assembly = d.cut->assembly;
  const auto shown = [&] { return svg(elevation_sheet(d, find_outlines(d), {})); };
  const auto count = [](const std::string& text, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1))
      ++n;
    return n;
  };
  for (Block& block : assembly.blocks) {
    if (block.fixed) continue;
    block.place.arm = 0;
    block.place.course = 88;
    block.place.place = block.id == "v1" ? 1 : 2;
  }
  const std::string once = shown();
  EXPECT_EQ(count(once, ">88<"), 1u);
  EXPECT_EQ(count(once, ">88.2<"), 0u);
  Joint head = assembly.joints[2];
  head.frame = {head.frame.origin, head.frame.y, head.frame.z, head.frame.x};
  ASSERT_GT(std::abs(head.frame.z.y()), 0.99);  // across the arch
  assembly.joints.push_back(head);
  d.dead_resultants.clear();
  EXPECT_EQ(shown().size(), once.size());
}

// The rise is measured from the mean of the springings: levels 0 and 0.4 m, rise 1.1 m.
TEST(Elevation, MarksBothSpringingsAndTheCrownOverTheirMean) {
  Dossier d = sample::small_dossier();
  ASSERT_EQ(d.brief.plan.supports.size(), 2u);
  ASSERT_TRUE(d.form.has_value());
  d.brief.plan.supports[0].level_m = 0;
  d.brief.plan.supports[1].level_m = 0.4;
  d.form->rise_m = 1.1;
  const std::string text = svg(elevation_sheet(d, find_outlines(d), {}));
  for (const char* level : {"+0.000", "+0.400", "+1.300"})
    EXPECT_NE(text.find(level), std::string::npos) << level;
  EXPECT_EQ(text.find("+1.100"), std::string::npos);
}

Facet tile(double z, Colour colour, int part) {  // 2 x 2 m, seen from above
  return {{{Vec3(-1, -1, z), Vec3(3, -1, z), Vec3(-1, 3, z)}, Vec3::UnitZ()}, colour, part};
}

TEST(Render, ShowsWhatIsNearestWhateverTheOrder) {
  const Facet low = tile(0, {255, 0, 0}, 0), high = tile(1, {0, 0, 255}, 1);
  for (const auto& facets : {std::vector{low, high}, std::vector{high, low}}) {
    const Image image = render(facets, plan_view(), 100);
    const std::uint32_t pixel =
        image.rgb[static_cast<std::size_t>(image.height * 7 / 10) * 100U + 30U];
    EXPECT_EQ(pixel & 0xff0000U, 0U);
    EXPECT_GT(pixel & 0xffU, 100U);
  }
}

TEST(Render, LeavesOutFacesThatLookAway) {
  Facet away = tile(0, {255, 0, 0}, 0);
  away.triangle.normal = -Vec3::UnitZ();
  const Image image = render({away}, plan_view(), 50);
  for (const std::uint32_t pixel : image.rgb) EXPECT_EQ(pixel, 0xffffffffU);
}

}  // namespace
}  // namespace skewback::deliver
