// Views of the sample dossier, read back by code that knows the page of docs/lodge.md alone.
#include "lodge/views.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "deliver/sample_survey.hpp"
#include "lodge/sample_steps.hpp"
#include "lodge/unpacked.hpp"

namespace skewback::lodge {
namespace {

Vec3 row(const std::vector<float>& numbers, std::size_t i, std::size_t width = 3,
         std::size_t from = 0) {
  return {numbers[width * i + from], numbers[width * i + from + 1], numbers[width * i + from + 2]};
}
Vec3 vec(const nlohmann::ordered_json& j) {
  return {j.at(0).get<double>(), j.at(1).get<double>(), j.at(2).get<double>()};
}

TEST(Views, NothingThereIsNone) {
  const Dossier empty;
  EXPECT_FALSE(shape_view(empty));
  EXPECT_FALSE(blocks_view(empty));
  EXPECT_FALSE(proof_view(empty, ""));
  EXPECT_FALSE(ground_view(empty));
  EXPECT_FALSE(stages_view(empty));
  EXPECT_FALSE(centring_view(empty));
  EXPECT_FALSE(layers_view(empty, ""));
  EXPECT_FALSE(survey_view(empty));
  EXPECT_FALSE(node_json(empty, Vec2::Zero()));
}

TEST(Views, ShapeGivesTheNetAndItsForces) {
  const Dossier d = sample::small_dossier();
  const Unpacked shape = unpack(shape_view(d)->bytes());
  EXPECT_EQ(shape.rows("vertices"), d.form->vertices.size());
  EXPECT_EQ(shape.rows("triangles"), d.form->triangles.size());
  EXPECT_EQ(shape.rows("phi"), d.form->triangles.size());
  EXPECT_FALSE(shape.has("upper")) << "no body, no faces";
  const auto edges = shape.u32("edges");
  const auto vertices = shape.f32("vertices"), force = shape.f32("edge_force_n");
  ASSERT_EQ(force.size(), d.form->edges.size());
  for (std::size_t e = 0; e < force.size(); ++e) {
    const double length = (row(vertices, edges[2 * e]) - row(vertices, edges[2 * e + 1])).norm();
    EXPECT_NEAR(force[e], 1000 * length, 1e-3) << "1 kN/m times its length, edge " << e;
  }
  EXPECT_EQ(shape.i32("free_edge")[0], 0);
  EXPECT_EQ(shape.head.at("supports").at(1).at("name"), "east");
  EXPECT_EQ(shape.head.at("edges_drawn").size(), d.brief.plan.free_edges.size());
}

// The volume inside the triangles of each block (divergence theorem) is the block's.
TEST(Views, BlocksAreClosedAndWhole) {
  const Dossier d = sample::small_dossier();
  const Unpacked blocks = unpack(blocks_view(d)->bytes());
  const auto points = blocks.f32("points");
  const auto triangles = blocks.u32("triangles"), owner = blocks.u32("block");
  std::vector<double> volume(d.cut->assembly.blocks.size(), 0);
  for (std::size_t t = 0; t < owner.size(); ++t) {
    const Vec3 a = row(points, triangles[3 * t]), b = row(points, triangles[3 * t + 1]),
               c = row(points, triangles[3 * t + 2]);
    volume[owner[t]] += a.dot(b.cross(c)) / 6;
  }
  const auto& listed = blocks.head.at("blocks");
  ASSERT_EQ(listed.size(), volume.size());
  for (std::size_t b = 0; b < volume.size(); ++b) {
    EXPECT_NEAR(volume[b], listed.at(b).at("volume_m3").get<double>(), 1e-6) << "block " << b;
    EXPECT_EQ(listed.at(b).at("fixed").get<bool>(), b >= 7);
  }
  // a wedge has twelve edges
  std::map<std::uint32_t, int> lines;
  for (const std::uint32_t b : blocks.u32("line_block")) ++lines[b];
  for (std::uint32_t b = 0; b < 9; ++b) EXPECT_EQ(lines[b], 12) << "block " << b;
}

TEST(Views, JointsComeWithTheirFramesAndRings) {
  const Dossier d = sample::small_dossier();
  const Unpacked blocks = unpack(blocks_view(d)->bytes());
  const auto& joint = blocks.head.at("joints").at(3);
  EXPECT_EQ(joint.at("id"), "v3|v4");
  EXPECT_NEAR(joint.at("depth_m").get<double>(), 0.45, 1e-9);
  EXPECT_NEAR(vec(joint.at("x")).cross(vec(joint.at("y"))).dot(vec(joint.at("z"))), 1, 1e-12);
  ASSERT_EQ(joint.at("rings").size(), 1u);
  EXPECT_EQ(joint.at("rings").at(0).size(), 4u);
  const auto& cases = blocks.head.at("cases");
  EXPECT_EQ(cases.at(1).at("live").at(0).at("force").at(2), -1000);
}

TEST(Views, FootingsAndTiesOfTheGround) {
  Dossier d = sample::small_dossier();
  FootingReport footing;
  footing.id = "east";
  footing.size = {2, 0.3, 0.7, 0.5};
  footing.cases.resize(1);
  footing.cases[0].bearing_used = 0.6;
  footing.cases[0].sliding_used = 0.7;
  footing.worst_bearing = footing.worst_sliding = 0;
  d.ground->footings = {footing};
  const Unpacked ground = unpack(ground_view(d)->bytes());
  const auto& tie = ground.head.at("ties").at(0);
  EXPECT_EQ(vec(tie.at("from")), Vec3(-3, 0, -0.3));
  EXPECT_EQ(vec(tie.at("to")), Vec3(3, 0, -0.3));
  EXPECT_EQ(tie.at("force_n"), 8000);
  const auto& shown = ground.head.at("footings").at(0);
  EXPECT_EQ(shown.at("share"), 0.7);
  Vec3 low = Vec3::Constant(9), high = Vec3::Constant(-9);
  for (const auto& corner : shown.at("corners")) {
    low = low.cwiseMin(vec(corner));
    high = high.cwiseMax(vec(corner));
  }
  EXPECT_LT((low - Vec3(2.7, -1, -0.5)).norm(), 1e-9) << "0.3 m towards the bridge, half of 2 m";
  EXPECT_LT((high - Vec3(3.7, 1, 0)).norm(), 1e-9);
}

Programme two_steps(const Assembly& assembly) {
  Programme programme = sample::steps_placing(2);
  for (Stage& stage : programme.stages) {
    stage.state.present.assign(assembly.blocks.size(), stage.step == 2 ? 1 : 0);
    stage.state.present[0] = 1;
    stage.state.seated = {1, 0, 1};
  }
  programme.stages[1].working = WorkingLoads{};
  programme.stages[1].working->verdict = Verdict::kFalls;
  return programme;
}

TEST(Views, StagesSayWhoIsThereAndOnWhat) {
  Dossier d = sample::small_dossier();
  d.programme = two_steps(d.cut->assembly);
  const Unpacked stages = unpack(stages_view(d)->bytes());
  const auto& list = stages.head.at("stages");
  EXPECT_EQ(list.at(0).at("blocks"), nlohmann::json({0}));
  EXPECT_EQ(list.at(0).at("seats"), nlohmann::json({0, 2}));
  EXPECT_EQ(list.at(0).at("verdict"), "stands");
  EXPECT_FALSE(list.at(0).at("people"));
  EXPECT_EQ(list.at(1).at("verdict"), "falls") << "with people on it";
  EXPECT_TRUE(list.at(1).at("people"));
  EXPECT_EQ(stages.head.at("key_stage"), 1);
}

TEST(Views, CentringHasEveryPartOnce) {
  const Dossier d = sample::surveyed_dossier();
  const Unpacked centring = unpack(centring_view(d)->bytes());
  const std::size_t parts = d.centring->parts.size() + d.centring->sticks.size();
  EXPECT_EQ(centring.head.at("parts").size(), parts);
  std::vector<int> triangles(parts, 0);
  for (const std::uint32_t part : centring.u32("part")) ++triangles.at(part);
  for (std::size_t p = 0; p < parts; ++p) EXPECT_GE(triangles[p], 4) << "part " << p;
  EXPECT_EQ(centring.head.at("seats").size(), d.centring->seats.size());
  EXPECT_EQ(centring.head.at("feet").size(), 9u);
  EXPECT_EQ(centring.head.at("checks").at(1).at("name"), "shear");
}

TEST(Views, LayersTakenBackToTheBridge) {
  Dossier d = sample::small_dossier();
  const auto printed =
      std::ranges::find_if(d.print->blocks, [](const BlockPrint& b) { return !b.poses.empty(); });
  ASSERT_NE(printed, d.print->blocks.end());
  printed->to_table.R = Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
  printed->to_table.t = {0.3, -0.2, 0.9};
  const Unpacked layers = unpack(layers_view(d, printed->id)->bytes());
  const auto tips = layers.f32("tips"), axis = layers.f32("axis");
  ASSERT_EQ(layers.rows("tips"), printed->poses.size());
  const Mat3 R = printed->to_table.R;
  for (std::size_t i = 0; i < printed->poses.size(); i += 37) {
    const Vec3 there = R * row(tips, i) + printed->to_table.t;
    EXPECT_LT((there - printed->poses[i].tip.cast<double>()).norm(), 1e-5) << "pose " << i;
    EXPECT_NEAR(row(axis, i).norm(), 1, 1e-5);
  }
  EXPECT_FALSE(layers_view(d, "no such block"));
  EXPECT_EQ(layers_view(d, "")->head.at("block"), printed->id);
}

TEST(Views, SurveyMovesEachBlockAsItIsPacked) {
  Dossier d = sample::surveyed_dossier();
  EXPECT_FALSE(unpack(survey_view(d)->bytes()).has("move")) << "nothing was packed";
  const Assembly& assembly = d.cut->assembly;
  d.refit->packed.moves.assign(assembly.blocks.size(), {});
  d.refit->packed.moves[2] = {{0.003, 0, -0.002}, {0, 0.004, 0.001}};
  const Unpacked survey = unpack(survey_view(d)->bytes());
  const auto moves = survey.f32("move");
  ASSERT_EQ(survey.rows("move"), assembly.blocks.size());
  // the centre of gravity goes by the shift and by that of the axes; other points turn with it
  const Vec3 c = centre_of_gravity(assembly.blocks[2]);
  const Vec3 v = row(moves, 2, 6), w = row(moves, 2, 6, 3);
  EXPECT_LT((v + w.cross(c) - Vec3(0.003, 0, -0.002) - d.refit->axes.t).norm(), 1e-6);
  EXPECT_LT((w - Vec3(0, 0.004, 0.001)).norm(), 1e-6);
  EXPECT_LT((row(moves, 1, 6) - d.refit->axes.t).norm(), 1e-6);
  const auto& marks = survey.head.at("marks");
  ASSERT_EQ(marks.size(), 6u);
  for (const auto& mark : marks)
    EXPECT_NEAR(mark.at("off_m").get<double>(),
                (vec(mark.at("found")) - vec(mark.at("drawn"))).norm(), 1e-12);
  EXPECT_EQ(survey.head.at("packers").size(), d.refit->packed.packers.size());
  EXPECT_EQ(survey.head.at("table").size(), 3u);
  EXPECT_EQ(survey.head.at("words"), d.refit->finding);
}

}  // namespace
}  // namespace skewback::lodge
