#include "form/leg_opening.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "base/constants.hpp"
#include "form/at_rest.hpp"
#include "form/flow.hpp"
#include "form/form.hpp"
#include "form/leg_plans.hpp"
#include "form/mesh.hpp"
#include "form/plan_check.hpp"
#include "form/sample_mesh_laws.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

struct Holed {
  const char* name;
  Brief (*brief)();
  double shift_m;  // that equilibrium may ask for: more beside a blunt end, in a straight leg
};

class LegOpenings : public testing::TestWithParam<Holed> {
 protected:
  static const Form& form_of(const Holed& c) {
    static std::map<std::string, Form> forms;
    if (!forms.count(c.name)) {
      auto form = find_form(c.brief());
      for (const Fault& f : form ? Faults{} : form.faults()) ADD_FAILURE() << describe(f);
      forms.emplace(c.name, form ? form.value() : Form{});
    }
    return forms.at(c.name);
  }
  const Form& form = form_of(GetParam());
  const Brief brief = GetParam().brief();
};
INSTANTIATE_TEST_SUITE_P(Plans, LegOpenings,
                         testing::Values(Holed{"almond", sample::almond_in_leg, 0.006},
                                         Holed{"round", sample::round_in_leg, 0.02},
                                         Holed{"off_axis", sample::almond_off_axis, 0.012},
                                         Holed{"eye_and_legs", sample::eye_and_legs, 0.006},
                                         Holed{"two_legs", sample::two_legs, 0.006}),
                         [](const auto& plan) { return std::string(plan.param.name); });

TEST_P(LegOpenings, BalancedInCompressionOnly) {
  expect_at_rest(form);
  EXPECT_EQ(form.tension_max_n, 0);
  EXPECT_NEAR(form.rise_m, brief.form.rise_m, 1e-9);
}

TEST_P(LegOpenings, EdgesStayNearTheDrawing) {
  EXPECT_LE(form.plan_shift_max_m, GetParam().shift_m);
}

// Convex quads that fill their own outline once; every opening is a gap in it, bounded by edges of
// its own index, and the area is that of the plan less openings.
TEST_P(LegOpenings, QuadsCoverThePlanWithoutItsOpeningsOnce) {
  const auto mesh = fibre_mesh(brief.plan, brief.form.mesh_size_m);
  ASSERT_TRUE(mesh.ok());
  for (const auto& q : mesh->quads)
    for (int c = 0; c < 4; ++c) {
      const Vec2 p = mesh->points[q[c]], a = mesh->points[q[(c + 1) % 4]] - p,
                 b = mesh->points[q[(c + 3) % 4]] - p;
      ASSERT_GT(a.x() * b.y() - a.y() * b.x(), 0);
    }
  sample::Covering c = sample::covering_of(*mesh);
  EXPECT_NEAR(c.covered_m2, c.boundary_m2, 1e-9);
  EXPECT_NEAR(c.covered_m2, area(Region{brief.plan.outline, brief.plan.openings}),
              0.005 * c.covered_m2);
  for (std::size_t k = 0; k < brief.plan.openings.size(); ++k) {
    const int edge = int(brief.plan.free_edges.size() + k);
    EXPECT_GE(c.rims[edge], 12);
    EXPECT_EQ(c.rims[edge], std::count(mesh->free_edge_of.begin(), mesh->free_edge_of.end(), edge));
  }
}

// The net has an edge all round every opening and none over it.
TEST_P(LegOpenings, NothingSpansAnOpening) {
  for (const Polygon& opening : brief.plan.openings) {
    const Regions hole = offset({{Polygon(opening.rbegin(), opening.rend()), {}}}, -0.03);
    ASSERT_FALSE(hole.empty());
    for (const NetEdge& e : form.edges)
      for (const double t : {0.25, 0.5, 0.75})
        ASSERT_FALSE(contains(hole.front(),
                              ((1 - t) * form.vertices[e.a] + t * form.vertices[e.b]).head<2>()));
  }
}

// Level over an opening: its two sides at the same height as far up the leg.
TEST_P(LegOpenings, SectionsBesideAnOpeningAreLevel) {
  const auto mesh = fibre_mesh(pulled_taut(brief.plan), brief.form.mesh_size_m);
  ASSERT_TRUE(mesh.ok());
  int looked = 0;
  for (const Arm& arm : mesh->arms)
    for (int i = arm.parts + 1; i < arm.joins; ++i, ++looked)
      EXPECT_NEAR(form.vertices[arm.before[0][i]].z(), form.vertices[arm.after[0][i]].z(),
                  0.01 * brief.form.rise_m);
  EXPECT_GT(looked, 4);
}

// Both sides of an opening carry to the leg's own support, and phi goes up either side alike.
TEST_P(LegOpenings, WeightFlowsRoundIt) {
  for (const LegOpening& o : leg_openings(brief.plan)) {
    const int edge = int(brief.plan.free_edges.size() + o.opening);
    for (std::size_t t = 0; t < form.triangles.size(); ++t)
      for (int v : form.triangles[t])
        if (form.free_edge_of[v] == edge) {
          EXPECT_EQ(form.arm[t], int(o.leg));
        }
  }
}

// Loads on what is beyond a section through the leg: the same statics with the opening or without.
// Thrust of the leg's support: that of the plan without the opening, within the weight taken out.
TEST(LegOpening, ThrustChangesByNoMoreThanTheWeightTakenOut) {
  const Brief with = sample::almond_in_leg(), without = sample::leg_brief();
  const auto a = find_form(with), b = find_form(without);
  ASSERT_TRUE(a.ok() && b.ok());
  const auto at_support = [](const Form& form, int support) {
    Vec3 sum = Vec3::Zero();
    for (std::size_t i = 0; i < form.vertices.size(); ++i)
      if (form.support_of[i] == support) sum += form.reaction_n[i];
    return sum;
  };
  double whole = 0, before = 0;
  for (double p : a->load_n) whole += p;
  for (double p : b->load_n) before += p;
  const double taken = before - whole;
  // by hand: the opening's area times depth, density and gravity, by the slope there
  const double hole = -area(with.plan.openings[0]) * 0.35 * 2300 * kGravity;
  EXPECT_GT(taken, 0.95 * hole);
  EXPECT_LT(taken, 1.4 * hole);
  const Vec3 own = at_support(*b, 0) - at_support(*a, 0);
  EXPECT_NEAR(own.z(), taken, 0.35 * taken);
  for (int k = 0; k < 3; ++k)
    EXPECT_LT((at_support(*a, k) - at_support(*b, k)).head<2>().norm(), 1.5 * taken);
}

// Moments about the other supports' springings: nothing but loads and reactions stands on it.
TEST(LegOpening, LoadsAndReactionsAreInBalance) {
  const auto form = find_form(sample::almond_in_leg());
  ASSERT_TRUE(form.ok());
  Vec3 moment = Vec3::Zero();
  double whole = 0;
  for (std::size_t i = 0; i < form->vertices.size(); ++i) {
    moment += form->vertices[i].cross(form->reaction_n[i] - Vec3(0, 0, form->load_n[i]));
    whole += form->load_n[i];
  }
  EXPECT_LT(moment.norm(), 1e-9 * whole * 7.5);
}

// A cut across the leg beside the opening carries, on both sides together, what the springing does
// less the weight between: the horizontal force is the same.
TEST(LegOpening, BothSidesTogetherCarryTheThrust) {
  const auto form = find_form(sample::almond_in_leg());
  ASSERT_TRUE(form.ok());
  for (const double y : {5.3, 4.6137, 4.1, 3.2}) {
    Vec3 sum = Vec3::Zero();
    double left = 0, right = 0;
    for (const NetEdge& e : form->edges) {
      const Vec3 &a = form->vertices[e.a], &b = form->vertices[e.b];
      if ((a.y() < y) == (b.y() < y)) continue;
      const Vec3 push = e.q * (a.y() < y ? Vec3(b - a) : Vec3(a - b));  // on what is above
      sum += push;
      const double x = a.x() + b.x();
      left += push.y() * (x < -1e-3 ? 1 : x > 1e-3 ? 0 : 0.5);  // half of the centreline's
      right += push.y() * (x > 1e-3 ? 1 : x < -1e-3 ? 0 : 0.5);
    }
    double weight = 0;
    Vec3 reaction = Vec3::Zero();
    for (std::size_t i = 0; i < form->vertices.size(); ++i) {
      if (form->vertices[i].y() >= y) weight += form->load_n[i];
      if (form->support_of[i] == 0) reaction += form->reaction_n[i];
    }
    EXPECT_LT((sum + reaction - Vec3(0, 0, weight)).norm(), 1e-6 * reaction.norm()) << "y " << y;
    EXPECT_NEAR(left, right, 0.02 * (left + right)) << "y " << y;
  }
}

TEST(LegOpening, TipsAreItsEndsAlongTheLeg) {
  for (const double turned : {0.0, 15.0}) {
    Brief brief = sample::leg_brief();
    brief.plan.openings = {sample::almond({0, 4.6}, 90 + turned, 1.6, 0.4)};
    const std::vector<LegOpening> found = leg_openings(brief.plan);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].leg, 0u);
    const Vec2 way(-std::sin(turned * kPi / 180), std::cos(turned * kPi / 180));
    EXPECT_LT((point_at(found[0].loop, found[0].low) - Vec2(Vec2(0, 4.6) + 0.8 * way)).norm(),
              1e-6);
    EXPECT_LT((point_at(found[0].loop, found[0].high) - Vec2(Vec2(0, 4.6) - 0.8 * way)).norm(),
              1e-6);
  }
  Brief brief = sample::round_in_leg();
  const LegOpening round = leg_openings(brief.plan).front();
  EXPECT_LT((point_at(round.loop, round.low) - Vec2(0, 4.9)).norm(), 0.002);
  brief.plan.openings = {{{-0.25, 4.2}, {-0.25, 5}, {0.25, 5}, {0.25, 4.2}}};
  const LegOpening square = leg_openings(brief.plan).front();
  EXPECT_LT((point_at(square.loop, square.low) - Vec2(0, 5)).norm(), 1e-9);
  EXPECT_LT((point_at(square.loop, square.high) - Vec2(0, 4.2)).norm(), 1e-9);
}

// ---- what is refused ---------------------------------------------------------------------------

Fault refused(const Brief& brief) {
  const auto form = find_form(brief);
  EXPECT_FALSE(form.ok());
  return form ? Fault{} : form.faults().front();
}

// Takes a move as a fault's change names it: "by (x, y) m".
Vec2 move_in(const std::string& change) {
  Vec2 by = Vec2::Zero();
  const std::size_t at = change.find("by (");
  EXPECT_NE(at, std::string::npos) << change;
  if (at != std::string::npos) std::sscanf(change.c_str() + at, "by (%lf, %lf)", &by.x(), &by.y());
  return by;
}

Brief moved_opening(Brief brief, std::size_t k, const Vec2& by) {
  for (Vec2& p : brief.plan.openings[k]) p += by;
  return brief;
}

TEST(LegOpeningRefused, OverARidge) {
  Brief brief = sample::leg_brief();
  // on the ridge between s1 and s2, past the meeting
  brief.plan.openings = {sample::round_opening({-0.52, 0.52}, 0.5)};
  const Fault fault = refused(brief);
  EXPECT_EQ(fault.key, "plan.openings[1]");
  EXPECT_NE(fault.found.find("over the ridge at ("), std::string::npos) << fault.found;
  const Vec2 by = move_in(fault.change);
  EXPECT_GT(by.norm(), 0.05);
  EXPECT_TRUE(check_plan(moved_opening(brief, 0, by).plan, brief.section).empty());
  // the least: half of it does not mend it
  EXPECT_FALSE(check_plan(moved_opening(brief, 0, 0.5 * by).plan, brief.section).empty());
}

TEST(LegOpeningRefused, TooNearTheMeeting) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {sample::almond({0, 1.1}, 90, 1.8, 0.3)};
  const Fault fault = refused(brief);
  EXPECT_NE(fault.found.find("0.200 m of material at (0.000, 0.200)"), std::string::npos)
      << fault.found;
  EXPECT_NE(fault.found.find("the meeting"), std::string::npos) << fault.found;
  const Vec2 by = move_in(fault.change);
  EXPECT_NEAR(by.y(), 0.1, 0.0101);
  EXPECT_TRUE(check_plan(moved_opening(brief, 0, by).plan, brief.section).empty());
}

TEST(LegOpeningRefused, TwoInOneLeg) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {sample::almond({0, 5.9}, 90, 0.9, 0.3),
                         sample::almond({0, 4.2}, 90, 0.9, 0.3)};
  const Fault fault = refused(brief);
  EXPECT_EQ(fault.key, "plan.openings[2]");
  EXPECT_NE(fault.found.find("(0.000, 4.200) in leg s1"), std::string::npos) << fault.found;
  EXPECT_NE(fault.found.find("plan.openings[1]"), std::string::npos) << fault.found;
  brief.plan.openings.pop_back();
  EXPECT_TRUE(find_form(brief).ok());
}

TEST(LegOpeningRefused, BesideTwoMeetings) {
  Brief brief = sample::double_y_brief();
  brief.plan.openings = {sample::round_opening({0, 0}, 0.4)};
  const Fault fault = refused(brief);
  EXPECT_EQ(fault.key, "plan.meeting");
  EXPECT_NE(fault.found.find("opening"), std::string::npos) << fault.found;
}

TEST(LegOpeningRefused, TooLittleBesideIt) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {sample::round_opening({0.4, 4.6}, 0.7)};
  const Fault fault = refused(brief);
  EXPECT_NE(fault.found.find("of material at"), std::string::npos) << fault.found;
}

TEST(LegOpeningRefused, ADent) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {{{-0.3, 4.2}, {-0.3, 5.2}, {0, 4.7}, {0.3, 5.2}, {0.3, 4.2}}};
  EXPECT_NE(refused(brief).found.find("bends into the opening"), std::string::npos);
}

}  // namespace
}  // namespace skewback
