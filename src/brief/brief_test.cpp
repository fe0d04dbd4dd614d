#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "brief/keys.hpp"
#include "brief/outline.hpp"
#include "brief/sample_everything.hpp"

namespace skewback {
namespace {

using namespace sample;
using ::testing::HasSubstr;

TEST(Brief, DroversHopReads) {
  const Result<Brief> read = read_brief(source("examples/drovers-hop/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Brief& b = *read;
  EXPECT_EQ(b.name, "drovers-hop");
  EXPECT_EQ(b.text, drovers_hop());
  EXPECT_NEAR(area(b.plan.outline), 9.0 * 1.9, 1e-12);  // by hand
  ASSERT_EQ(b.plan.supports.size(), 2u);
  EXPECT_EQ(b.plan.supports[0].a, Vec2(-4.5, 0.95));
  EXPECT_EQ(b.plan.supports[0].b, Vec2(-4.5, -0.95));
  EXPECT_DOUBLE_EQ(b.form.rise_m, 1.8);
  EXPECT_DOUBLE_EQ(b.section.depth_crown_m, 0.28);
  EXPECT_DOUBLE_EQ(b.material.fck_pa, 40e6);
  EXPECT_DOUBLE_EQ(b.parapet.weight_n_per_m, 500);
  EXPECT_EQ(b.blocks.count, 23);
  ASSERT_EQ(b.ground.ties.size(), 1u);
  EXPECT_EQ(b.ground.ties[0].from, 0);
  EXPECT_EQ(b.ground.ties[0].to, 1);
  EXPECT_FALSE(b.survey.has_value());
}

// Width of the deck across a leg, `along` metres from the meeting (the origin).
double width_across(const Polygon& outline, const Vec2& direction, double along) {
  const Vec2 across(-direction.y(), direction.x()), at = along * direction;
  double left = HUGE_VAL, right = HUGE_VAL;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i] - at, b = outline[(i + 1) % outline.size()] - at;
    const double ua = a.dot(direction), ub = b.dot(direction);
    if ((ua > 0) == (ub > 0)) continue;
    const double v = (a + ua / (ua - ub) * (b - a)).dot(across);
    (v > 0 ? left : right) = std::min(v > 0 ? left : right, std::abs(v));
  }
  return left + right;
}

TEST(Brief, WrenLeatHasTheDrawnWidths) {
  const Result<Brief> read = read_brief(source("examples/wren-leat/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Plan& plan = read->plan;
  ASSERT_EQ(plan.supports.size(), 3u);
  EXPECT_GT(area(plan.outline), 0);
  EXPECT_FALSE(crossing_sides(plan.outline).has_value());
  const double legs[] = {6.4, 5.6, 6.0};  // m, of the scenario: yard, orchard, towpath
  for (std::size_t k = 0; k < 3; ++k) {
    const Support& s = plan.supports[k];
    const Vec2 middle = 0.5 * (s.a + s.b);
    EXPECT_NEAR((s.b - s.a).norm(), 2.6, 2e-3) << s.id;
    EXPECT_NEAR(middle.norm(), legs[k], 2e-3) << s.id;
    double waist = HUGE_VAL;
    for (double along = 1.5; along < legs[k] - 0.1; along += 0.02)
      waist = std::min(waist, width_across(plan.outline, middle.normalized(), along));
    EXPECT_GT(waist, 1.6) << s.id;
    EXPECT_LT(waist, 1.8) << s.id;
  }
}

// "plan.support[2].id" of "plan.support[].id"
std::string in_table(std::string path, int number) {
  if (const auto at = path.find("[]"); at != std::string::npos)
    path.insert(at + 1, std::to_string(number));
  return path;
}

// A plan and a surface in files beside the brief; two supports cut corners, one lies between
// points.
std::string with_files(const std::filesystem::path& folder) {
  std::ofstream(folder / "plan.svg")
      << R"(<svg><polygon id="outline" points="-3000,2000 3000,2000 1000,-3000 -1000,-3000"/></svg>)";
  std::ofstream(folder / "surface.ply")
      << "ply\nformat ascii 1.0\nelement vertex 4\nproperty double x\nproperty double y\n"
         "property double z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
         "-400 -300 0\n400 -300 0\n400 300 150\n-400 300 0\n4 0 1 2 3\n";
  std::string text = drovers_hop();
  const auto from = text.find("[plan]"), to = text.find("[form]");
  text = text.substr(0, from) +
         R"([plan]
file = "plan.svg"
file_unit = "mm"
[[plan.support]]
id = "a"
at = ["-3 m", "-2 m"]
width = "0.9 m"
[[plan.support]]
id = "b"
at = ["3 m", "-2 m"]
width = "0.9 m"
[[plan.support]]
id = "c"
between = [["-1 m", "3 m"], ["1 m", "3 m"]]
)" + text.substr(to);
  text = with("count = 23", "length = \"0.4 m\"", text);
  text = with("mesh_size = \"0.2 m\"", "target = \"surface.ply\"\ntarget_unit = \"cm\"", text);
  text = with("lines = [[[\"-4.5 m\", \"0 m\"], [\"4.5 m\", \"0 m\"]]]",
              "lines = [[[\"0 m\", \"3 m\"], [\"0 m\", \"-2 m\"]]]", text);
  return text.substr(0, text.find("[[ground.tie]]"));
}

TEST(Brief, PlanAndSurfaceFromFiles) {
  const std::filesystem::path folder = scratch_folder("from-files");
  const Result<Brief> read = read_brief_text(with_files(folder), folder / "brief.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  EXPECT_EQ(read->plan.outline.size(), 6u);  // y is turned up, two corners are cut, edges as drawn
  EXPECT_NEAR((read->plan.supports[2].b - Vec2(-1, 3)).norm(), 0, 1e-12);
  ASSERT_EQ(read->form.target.triangles.size(), 2u);  // one face of four corners
  EXPECT_NEAR((read->form.target.vertices[2] - Vec3(4, 3, 1.5)).norm(), 0, 1e-12);
}

TEST(Brief, SurfacesThatAreNone) {
  const std::filesystem::path folder = scratch_folder("no-surfaces");
  const std::string text = with_files(folder);
  const auto says = [&](const std::string& content) {
    std::ofstream(folder / "surface.ply") << content;
    const Result<Brief> read = read_brief_text(text, folder / "brief.toml");
    return read.ok() ? "read" : all_of(read.faults());
  };
  EXPECT_THAT(says("nothing"), HasSubstr("surface.ply: PLY: found a file that cannot be read"));
  const std::string head =
      "ply\nformat ascii 1.0\nelement vertex 3\nproperty double x\nproperty double y\n"
      "property double z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n";
  EXPECT_THAT(says(head + "0 0 1\n1 0 1\n0 1 1\n3 0 1 7\n"), HasSubstr("PLY: found"));
  EXPECT_THAT(says(head + "900 0 1\n901 0 1\n900 1 1\n3 0 1 2\n"),
              HasSubstr("leaves 100 % of the plan bare"));
  EXPECT_THAT(says(head + "-9000 -9000 1\n0 -9000 1\n0 9000 1\n3 0 1 2\n"),
              HasSubstr("of the plan bare"));
  EXPECT_EQ(says(head + "-9000 -9000 1\n9000 -9000 1\n0 9000 1\n3 0 1 2\n"), "read");
  std::filesystem::remove(folder / "surface.ply");
  EXPECT_THAT(all_of(read_brief_text(text, folder / "brief.toml").faults()),
              HasSubstr("form.target: found no such file at"));
}

TEST(Brief, EveryKeyIsReadInOneOfTheseBriefs) {
  const std::filesystem::path folder = scratch_folder("every-key");
  std::set<std::string> read;
  for (const std::string& text : {drovers_hop(), with_everything(), with_files(folder)}) {
    const Result<Draft> draft = read_draft(text, folder / "brief.toml");
    ASSERT_TRUE(draft.ok()) << all_of(draft.faults());
    EXPECT_TRUE(draft->faults.empty()) << all_of(draft->faults);
    for (const Key& key : keys())
      for (int number = 1; number <= 3; ++number)
        if (draft->has(in_table(key.path, number))) read.insert(key.path);
  }
  for (const Key& key : keys()) EXPECT_TRUE(read.contains(key.path)) << key.path;
}

// Alone in its section, a value that no key takes is refused where it stands.
TEST(Brief, EveryKeyRefusesADate) {
  for (const Key& key : keys()) {
    const std::string section = section_of(key.path);
    const bool list = section.ends_with("[]");
    const std::string header =
        list ? "[[" + section.substr(0, section.size() - 2) + "]]" : "[" + section + "]";
    const std::string text = header + "\n" + leaf_of(key.path) + " = 1979-05-27\n";
    const Result<Draft> draft = read_draft(text, "some.toml");
    ASSERT_TRUE(draft.ok()) << all_of(draft.faults());
    const auto fault = std::find_if(
        draft->faults.begin(), draft->faults.end(),
        [&](const Fault& f) { return f.key == in_table(key.path, 1) && f.found == "a date"; });
    ASSERT_NE(fault, draft->faults.end()) << key.path << "\n" << all_of(draft->faults);
    EXPECT_EQ(fault->line, 2) << key.path;
    EXPECT_EQ(fault->column, static_cast<int>(leaf_of(key.path).size()) + 4) << key.path;
    EXPECT_FALSE(fault->expected.empty()) << key.path;
  }
}

}  // namespace
}  // namespace skewback
