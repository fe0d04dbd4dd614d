#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "base/constants.hpp"
#include "form/at_rest.hpp"
#include "form/flow.hpp"
#include "form/form.hpp"
#include "form/mesh.hpp"
#include "form/sample_mesh_laws.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

struct Case {
  const char* name;
  Brief (*brief)();
};

Brief lopsided() {  // three legs unlike each other, a square eye off the middle
  Brief brief = sample::canopy();
  brief.plan = sample::star_plan({10, 120, 250}, 6, 1.5, 1.2);
  brief.plan.meeting = Vec2(0.3, -0.1);
  brief.plan.openings = {{{-0.5, -0.7}, {-0.5, 0.6}, {0.9, 0.6}, {0.9, -0.7}}};
  brief.plan.supports[1].level_m = 0.3;
  return brief;
}

class EyeProperties : public testing::TestWithParam<Case> {
 protected:
  static const Form& form_of(const Case& c) {
    static std::map<std::string, Form> forms;
    if (!forms.count(c.name)) {
      auto form = find_form(c.brief());
      for (const Fault& f : form ? Faults{} : form.faults())
        ADD_FAILURE() << f.key << ": " << f.found;
      forms.emplace(c.name, form ? form.value() : Form{});
    }
    return forms.at(c.name);
  }
  const Form& form = form_of(GetParam());
  const Brief brief = GetParam().brief();
};
INSTANTIATE_TEST_SUITE_P(Plans, EyeProperties,
                         testing::Values(Case{"canopy", sample::canopy},
                                         Case{"six_legs", sample::six_legs},
                                         Case{"lopsided", lopsided}),
                         [](const auto& plan) { return std::string(plan.param.name); });

TEST_P(EyeProperties, BalancedInCompressionOnly) {
  expect_at_rest(form);
  EXPECT_EQ(form.tension_max_n, 0);
}

// The first guess of the weight is a slab by true area; the load found is that of the shape found.
TEST_P(EyeProperties, LoadIsTheWeightOfTheSurface) {
  double area = 0, load = 0;
  for (const auto& t : form.triangles)
    area += 0.5 * (form.vertices[t[1]] - form.vertices[t[0]])
                      .cross(form.vertices[t[2]] - form.vertices[t[0]])
                      .norm();
  for (double p : form.load_n) load += p;
  const double weight = 0.18 * 2400 * kGravity * area;
  EXPECT_NEAR(load, weight, 1e-5 * weight);
}

TEST_P(EyeProperties, EyeEdgeIsAHoopAtTheRise) {
  const int eye = int(brief.plan.supports.size());
  double sum = 0, count = 0, edges = 0, level = 0;
  for (std::size_t i = 0; i < form.vertices.size(); ++i)
    if (form.free_edge_of[i] == eye) sum += form.vertices[i].z(), count += 1;
  for (const NetEdge& e : form.edges) edges += e.free_edge == eye;
  for (const Support& s : brief.plan.supports) level += s.level_m / double(eye);
  EXPECT_EQ(edges, count);  // closed
  EXPECT_GE(count, 12);
  EXPECT_NEAR(sum / count - level, brief.form.rise_m, 1e-9);
  EXPECT_NEAR(form.rise_m, brief.form.rise_m, 1e-9);
}

TEST_P(EyeProperties, EdgesStayNearTheDrawing) {
  EXPECT_LE(form.fit_rms_m, 0.003);
  // a hoop presses only where it bends: the straight sides of the square eye bow
  EXPECT_LE(form.plan_shift_max_m, std::string(GetParam().name) == "lopsided" ? 0.02 : 0.005);
}

// Every triangle faces up and together they have the area of the plan without its eye.
TEST_P(EyeProperties, TrianglesCoverThePlanWithoutItsEye) {
  double covered = 0;
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    ASSERT_GT(plan_area(form, t), 0);
    covered += plan_area(form, t);
  }
  const double drawn = area(Region{brief.plan.outline, brief.plan.openings});
  EXPECT_NEAR(covered, drawn, 0.005 * drawn);
}

// Mesh laws, before equilibrium: convex quads that fill their own outline (polygon areas are those
// of the outer boundary less the eye's, walked edge by edge).
TEST_P(EyeProperties, QuadsFillTheirOutlineOnce) {
  const auto mesh = fibre_mesh(brief.plan, brief.form.mesh_size_m);
  ASSERT_TRUE(mesh.ok());
  sample::Covering c = sample::covering_of(*mesh);
  EXPECT_NEAR(c.covered_m2, c.boundary_m2, 1e-9);
  const int eye = int(brief.plan.free_edges.size());
  EXPECT_EQ(c.rims[eye], std::count(mesh->free_edge_of.begin(), mesh->free_edge_of.end(), eye));
}

TEST(Eye, DrawnEdgesAreFoundByTheirIndex) {
  const Plan plan = sample::canopy().plan;
  EXPECT_EQ(drawn_edge(plan, 2).size(), plan.free_edges[2].line.size());
  const std::vector<Vec2> eye = drawn_edge(plan, 4);
  ASSERT_EQ(eye.size(), plan.openings[0].size() + 1);
  EXPECT_EQ(eye.front(), eye.back());
  EXPECT_GT(area(Polygon(eye.begin(), eye.end() - 1)), 0);
}

TEST(Eye, ADentIsRefusedWithItsPlace) {
  Brief brief = sample::canopy();
  brief.plan.openings = {{{-0.8, -0.8}, {-0.8, 0.8}, {0, 0.5}, {0.8, 0.8}, {0.8, -0.8}}};
  const auto form = find_form(brief);
  ASSERT_FALSE(form.ok());
  const Fault& fault = form.faults().front();
  EXPECT_EQ(fault.key, "plan.openings[1]");
  EXPECT_NE(fault.found.find("by 0.300 m at (0.000, 0.500)"), std::string::npos) << fault.found;
  // the least change mends it
  EXPECT_NE(fault.change.find("(0.000, 0.800)"), std::string::npos) << fault.change;
  brief.plan.openings[0][2] = {0, 0.8};
  EXPECT_TRUE(find_form(brief).ok());
}

TEST(Eye, TooLittleBesideItIsRefusedWithItsPlace) {
  Brief brief = sample::canopy();
  brief.plan.openings = {sample::round_opening({0, 0}, 5.6)};
  const auto form = find_form(brief);
  ASSERT_FALSE(form.ok());
  const Fault& fault = form.faults().front();
  EXPECT_NE(fault.found.find("0.200 m of material"), std::string::npos) << fault.found;
  EXPECT_NE(fault.change.find("by 0.100 m"), std::string::npos) << fault.change;
}

}  // namespace
}  // namespace skewback
