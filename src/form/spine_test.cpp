#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "base/constants.hpp"
#include "form/at_rest.hpp"
#include "form/form.hpp"
#include "form/meeting_search.hpp"
#include "form/mesh.hpp"
#include "form/plan_check.hpp"
#include "form/spine_plans.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

Form found(const Brief& brief) {
  const Result<Form> form = find_form(brief);
  EXPECT_TRUE(form.ok()) << describe(form.faults().front());
  return form.value();
}

struct Named {
  const char* name;
  sample::DoubleY plan;
  double rise_m;
};

class SpineForms : public testing::TestWithParam<Named> {
 protected:
  static Form of(const Named& named) {
    Brief brief = sample::double_y_brief(named.plan);
    brief.form.rise_m = named.rise_m;
    return found(brief);
  }
};
INSTANTIATE_TEST_SUITE_P(Plans, SpineForms,
                         testing::Values(Named{"double_y", {}, 1.8},
                                         Named{"narrow", {6, 3.5, 30, 1.6, 1.0}, 1.8},
                                         Named{"nearly_h", {6, 3.5, 75, 1.6, 0.9}, 1.8},
                                         Named{"long_spine", {14, 4, 45, 2, 1.5}, 2.5},
                                         Named{"short_spine", {2.5, 4, 45, 1.6, 1.1}, 1.5}),
                         [](const auto& plan) { return plan.param.name; });

TEST_P(SpineForms, StandsInCompressionAtTheRiseAsked) {
  const Form form = of(GetParam());
  expect_at_rest(form);
  EXPECT_NEAR(form.rise_m, GetParam().rise_m, 1e-9);
  EXPECT_LT(form.plan_shift_max_m, 0.03);
}

// A strut that bends is held from inside: seen from the plan every free edge turns one way.
TEST_P(SpineForms, FreeEdgesCurveInward) {
  const Form form = of(GetParam());
  for (int edge = 0; edge < 4; ++edge) {
    std::map<int, std::vector<int>> beside;
    for (const NetEdge& e : form.edges)
      if (e.free_edge == edge) beside[e.a].push_back(e.b), beside[e.b].push_back(e.a);
    int at = -1;
    for (const auto& [v, next] : beside)
      if (next.size() == 1 && form.support_of[v] == edge) at = v;
    ASSERT_GE(at, 0);
    std::vector<Vec2> line;
    for (int before = -1, next = at; next >= 0; at = next) {
      line.emplace_back(form.vertices[next].head<2>());
      const std::vector<int>& ways = beside[next];
      const int on = ways[0] != before ? ways[0] : ways.size() > 1 ? ways[1] : -1;
      before = next;
      next = on;
    }
    EXPECT_GT(line.size(), 10u);
    EXPECT_LT(outward_bulge(line).depth_m, 1e-9);
  }
}

// Over a width across the bridge at x: the force it passes on, and the mean height of that.
struct Section {
  double thrust_n = 0, height_m = 0;
};
Section section_at(const Form& form, double x) {
  Section out;
  for (const NetEdge& e : form.edges) {
    const Vec3 &a = form.vertices[e.a], &b = form.vertices[e.b];
    if ((a.x() < x) == (b.x() < x)) continue;
    const double force = e.q * std::abs(b.x() - a.x());
    out.thrust_n += force;
    out.height_m += force * (a.z() + (x - a.x()) / (b.x() - a.x()) * (b.z() - a.z()));
  }
  out.height_m /= out.thrust_n;
  return out;
}

// Uniform load w along a spine of even width: H = w l^2 / 8 f over the length l whose sagitta is f,
// as of any arch that follows its thrust (parabola of a uniform load, e.g. S. Timoshenko and D. H.
// Young, Theory of Structures, 1945, from memory).
TEST(SpineForm, IsAParabolaBetweenTheMeetings) {
  Brief brief = sample::double_y_brief({14, 4, 45, 2, 1.5});
  brief.form.rise_m = 2.5;
  const Form first = found(brief);
  const double pressure = 8000;
  std::vector<double> load(first.vertices.size(), 0);
  for (const auto& t : first.triangles) {
    const Vec3 a = first.vertices[t[1]] - first.vertices[t[0]],
               b = first.vertices[t[2]] - first.vertices[t[0]];
    for (int v : t) load[v] += pressure * 0.5 * (a.x() * b.y() - a.y() * b.x()) / 3;
  }
  const Result<Form> form = find_form(brief, load);
  ASSERT_TRUE(form.ok());
  const double s = 4, off = 1e-4, w = pressure * 2;
  const Section middle = section_at(*form, off), end = section_at(*form, s);
  const double sagitta = middle.height_m - end.height_m;
  EXPECT_GT(sagitta, 0.3);
  EXPECT_NEAR(middle.thrust_n, end.thrust_n, 1e-6 * end.thrust_n);
  EXPECT_NEAR(end.thrust_n, w * 4 * s * s / (8 * sagitta), 0.01 * end.thrust_n);
}

// Legs that leave the spine at an angle a share its thrust: each takes H / (2 cos a) along its own
// line in plan.
TEST(SpineForm, ItsThrustPartsBetweenTheLegs) {
  const sample::DoubleY plan;
  const Form form = found(sample::double_y_brief(plan));
  const double spine = section_at(form, 1e-4).thrust_n;
  std::vector<Vec2> thrust(4, Vec2::Zero());
  for (std::size_t i = 0; i < form.vertices.size(); ++i)
    if (form.support_of[i] >= 0) thrust[form.support_of[i]] += form.reaction_n[i].head<2>();
  const double along = spine / (2 * std::cos(plan.spread_deg * kPi / 180));
  EXPECT_NEAR((thrust[0] + thrust[1]).x(), spine, 1e-9 * spine);
  EXPECT_NEAR((thrust[2] + thrust[3]).x(), -spine, 1e-9 * spine);
  for (const Vec2& t : thrust) {
    EXPECT_NEAR(std::abs(t.x()), spine / 2, 1e-3 * spine);
    EXPECT_NEAR(t.norm(), along, 0.05 * along);
  }
}

TEST(SpineForm, FibresRunStraightAlongItAndItsSectionsAreLevel) {
  const sample::DoubleY plan;
  const Brief brief = sample::double_y_brief(plan);
  const Result<FibreMesh> mesh = fibre_mesh(pulled_taut(brief.plan), brief.form.mesh_size_m);
  ASSERT_TRUE(mesh.ok());
  ASSERT_TRUE(mesh->spine.has_value());
  const Form form = found(brief);
  const std::vector<int>& chain = mesh->spine->chain;
  ASSERT_EQ(chain.size() % 2, 1u);
  for (std::size_t i = 0; i < chain.size(); ++i) {
    EXPECT_NEAR(form.vertices[chain[i]].y(), 0, 1e-3);
    ASSERT_GE(mesh->spine->left[i], 0);
    ASSERT_GE(mesh->spine->right[i], 0);
    EXPECT_GT(form.vertices[mesh->spine->left[i]].y(), 0.05);
    EXPECT_LT(form.vertices[mesh->spine->right[i]].y(), -0.05);
  }
  double low = 1e9, high = -1e9;
  for (int v : mesh->spine->middle) {
    EXPECT_NEAR(form.vertices[v].x(), 0, 0.02);
    low = std::min(low, form.vertices[v].z());
    high = std::max(high, form.vertices[v].z());
  }
  EXPECT_LT(high - low, 0.01);
}

// The halves of the spine are arms of their own, phi goes on from the legs to the middle.
TEST(SpineForm, HalvesOfTheSpineAreArms) {
  const sample::DoubleY plan;
  const Form form = found(sample::double_y_brief(plan));
  ASSERT_EQ(form.spine_arms, 2);
  ASSERT_EQ(form.arms.size(), 6u);
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    Vec2 middle = Vec2::Zero();
    for (int v : form.triangles[t]) middle += form.vertices[v].head<2>() / 3;
    if (std::abs(middle.x()) < plan.spine_m / 2 - plan.width_m) {
      EXPECT_EQ(form.arm[t], middle.x() < 0 ? 4 : 5);
      EXPECT_GT(form.flow[t].x() * middle.x(), 0) << "towards its meeting";
    }
    if (std::abs(middle.x()) > plan.spine_m / 2 + plan.width_m) {
      EXPECT_EQ(form.arm[t], middle.x() < 0 ? (middle.y() > 0 ? 0 : 1) : (middle.y() > 0 ? 3 : 2));
    }
  }
  const std::vector<double> top = greatest_phi(form);
  for (double t : top) EXPECT_NEAR(t, plan.leg_m + plan.spine_m / 2, 0.4);
  for (const ArmQuality& arm : form.arms) {
    EXPECT_LT(arm.angle_median_deg, 3);
    EXPECT_NEAR(arm.scale, 1, 0.1);
  }
}

TEST(SpineForm, UnlikeLevelsStand) {
  Brief brief = sample::double_y_brief();
  for (std::size_t k = 0; k < 4; ++k) brief.plan.supports[k].level_m = k < 2 ? 0.4 : -0.1;
  const Form form = found(brief);
  EXPECT_EQ(form.tension_max_n, 0);
  EXPECT_NEAR(form.rise_m, 1.8, 1e-9);
  // weight flows over the middle of the spine from the lower end's half, phi all the same towards
  // it
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    if (form.arm[t] >= 4) {
      EXPECT_EQ(form.flow[t].x() < 0, form.arm[t] == 4);
    }
  for (const ArmQuality& arm : form.arms) EXPECT_NEAR(arm.scale, 1, 0.15);
}

Faults faults_of(const Plan& plan) { return check_plan(plan, {0.3, 0.36}); }

// One meeting cannot be reached; the pair named in the remedy works.
TEST(SpinePlan, RemedyNamesTwoMeetingsThatWork) {
  Brief brief = sample::double_y_brief();
  brief.plan.second_meeting.reset();
  for (const bool given : {true, false}) {
    if (!given) brief.plan.meeting.reset();
    const Faults faults = faults_of(brief.plan);
    ASSERT_FALSE(faults.empty());
    const auto pair = two_meetings_for(brief.plan);
    ASSERT_TRUE(pair.has_value());
    EXPECT_NE(faults.front().change.find(as_written(*pair)), std::string::npos)
        << describe(faults.front());
    EXPECT_NEAR(std::abs((*pair)[0].x()), 3, 0.5);
    EXPECT_NEAR((*pair)[0].x(), -(*pair)[1].x(), 0.3);
    Brief with = brief;
    with.plan.meeting = (*pair)[0];
    with.plan.second_meeting = (*pair)[1];
    EXPECT_TRUE(find_form(with).ok());
  }
}

TEST(SpinePlan, WhatCannotBeASpineIsRefused) {
  const Plan good = sample::double_y();
  EXPECT_TRUE(faults_of(good).empty());
  Plan eye = good;
  eye.openings = {sample::round_opening({-3, 0}, 0.4)};
  ASSERT_FALSE(faults_of(eye).empty());
  EXPECT_NE(faults_of(eye).front().found.find("opening"), std::string::npos);
  Plan one_sided = good;
  one_sided.second_meeting = Vec2(-2.5, 0);  // of legs that do not reach it
  ASSERT_FALSE(faults_of(one_sided).empty());
  EXPECT_EQ(faults_of(one_sided).front().key, "plan.meeting");
  Plan off = good;
  off.meeting = Vec2(-4.5, 1.9);
  EXPECT_FALSE(faults_of(off).empty());
}

}  // namespace
}  // namespace skewback
