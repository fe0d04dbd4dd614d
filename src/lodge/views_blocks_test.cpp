// The walking deck, the joints' rings and pads, and the cases, of the view of the blocks.
#include <gtest/gtest.h>

#include "deliver/sample_dossier.hpp"
#include "lodge/unpacked.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

// A straight walk of 5 m along (4, 3), 0.8 m wide: triangles that face up and cover 4 m2.
TEST(ViewsBlocks, TheDeckIsAsWideAsTheWalkway) {
  Dossier d = sample::small_dossier();
  d.access.emplace();
  d.access->lines.resize(2);
  for (const double along : {0.0, 1.0, 2.5, 5.0}) {
    WalkStation station;
    station.point = Vec3(0.8 * along - 2, 0.6 * along - 1, 3 + 0.1 * along);
    d.access->lines[0].stations.push_back(station);
  }
  WalkStation still;  // a line of one station has no deck
  d.access->lines[1].stations = {still};
  const Unpacked view = unpack(blocks_view(d)->bytes());
  const auto walk = view.f32("walk");
  const auto triangles = view.u32("walk_triangles");
  const auto at = [&](std::size_t i) {
    return Vec3(walk[3 * i], walk[3 * i + 1], walk[3 * i + 2]);
  };
  ASSERT_EQ(triangles.size(), 3u * 6u);
  double plan_m2 = 0;
  Vec3 first_moment = Vec3::Zero();
  for (std::size_t t = 0; t < triangles.size(); t += 3) {
    ASSERT_LT(*std::max_element(&triangles[t], &triangles[t] + 3), 8u) << "of the first line";
    const Vec3 normal =
        (at(triangles[t + 1]) - at(triangles[t])).cross(at(triangles[t + 2]) - at(triangles[t]));
    EXPECT_GT(normal.z(), 0.01) << "triangle " << t / 3;
    plan_m2 += normal.z() / 2;
    first_moment +=
        normal.z() / 6 * (at(triangles[t]) + at(triangles[t + 1]) + at(triangles[t + 2]));
  }
  EXPECT_NEAR(plan_m2, 0.8 * 5, 1e-5);
  // nothing twice and nothing left out: its middle is that of the walk
  EXPECT_LT((first_moment / plan_m2 - Vec3(0, 0.5, 3.25)).norm(), 1e-5);
  EXPECT_LT((at(0) - Vec3(-2 - 0.6 * 0.4, -1 + 0.8 * 0.4, 3)).norm(), 1e-6) << "left first";
}

TEST(ViewsBlocks, JointsWithTheirBlocksPadsAndHoles) {
  Dossier d = sample::small_dossier();
  Joint& joint = d.cut->assembly.joints[3];
  joint.pad = Pad{0.008, 1e10, 1e8};
  joint.friction = 0.55;
  joint.contact[0].holes = {{{-0.1, -0.1}, {-0.1, 0.1}, {0.1, 0.1}}};
  const auto view = unpack(blocks_view(d)->bytes());
  const auto& shown = view.head.at("joints").at(3);
  EXPECT_EQ(shown.at("a"), 2);
  EXPECT_EQ(shown.at("b"), 3);
  EXPECT_EQ(shown.at("pad_m"), 0.008);
  EXPECT_EQ(shown.at("friction"), 0.55);
  ASSERT_EQ(shown.at("rings").size(), 2u);
  EXPECT_EQ(shown.at("rings").at(1).size(), 3u);
  EXPECT_EQ(view.head.at("joints").at(4).at("pad_m"), 0);
  const auto& block = view.head.at("blocks").at(1);
  EXPECT_EQ(block.at("arm"), 0);
  EXPECT_EQ(block.at("course"), 2);
}

TEST(ViewsBlocks, CasesWithTheirWordsAndKind) {
  Dossier d = sample::small_dossier();
  d.notes = {{"dead", CaseKind::kPattern, "weight"},
             {"half, west", CaseKind::kCombination, "1.35 weight, 1.5 people west"}};
  const auto view = unpack(blocks_view(d)->bytes());
  const auto& cases = view.head.at("cases");
  EXPECT_EQ(cases.at(0).at("words"), "weight");
  EXPECT_EQ(cases.at(0).at("kind"), "pattern");
  EXPECT_EQ(cases.at(1).at("words"), "1.35 weight, 1.5 people west");
  EXPECT_EQ(cases.at(1).at("kind"), "combination");
  EXPECT_EQ(cases.at(2).at("words"), "half: west") << "no note: its own name";
}

}  // namespace
}  // namespace skewback::lodge
