#include "form/objectives.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "form/height_field.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

const Form& free_canopy() {
  static const Form form = find_form(sample::wishing(sample::canopy())).value();
  return form;
}

double height(const Form& form, const Vec2& p) {
  return HeightField(form.vertices, form.triangles).at(p).value().z;
}

const Achieved& named(const Form& form, const std::string& part) {
  static const Achieved none{"none", 0, 0, "", false};
  for (const Achieved& a : form.achieved)
    if (a.name.find(part) != std::string::npos) return a;
  ADD_FAILURE() << "nothing called " << part;
  return none;
}

Vec3 thrust(const Form& form, int support) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < form.vertices.size(); ++i)
    if (form.support_of[i] == support) sum += form.reaction_n[i];
  return {sum.x(), sum.y(), 0};
}

void expect_sound(const Form& form) {
  EXPECT_LE(form.residual_rel, 1e-10);
  for (const NetEdge& e : form.edges) ASSERT_GT(e.q, 0);
  EXPECT_TRUE(form.achieved.front().met) << "the rise";
}

TEST(HeightField, ReadsAPlane) {
  const std::vector<Vec3> points = {{0, 0, 1}, {2, 0, 2}, {2, 1, 5}, {0, 1, 4}};
  const std::vector<std::array<int, 3>> triangles = {{0, 1, 2}, {0, 2, 3}};
  const HeightField field(points, triangles);
  for (const Vec2& p : {Vec2(0.3, 0.9), Vec2(1.7, 0.2), Vec2(2, 1), Vec2(1, 0.5)}) {
    const auto spot = field.at(p);
    ASSERT_TRUE(spot);
    EXPECT_NEAR(spot->z, 1 + 0.5 * p.x() + 3 * p.y(), 1e-12);
    EXPECT_NEAR((spot->slope - Vec2(0.5, 3)).norm(), 0, 1e-12);
  }
  EXPECT_FALSE(field.at({2.1, 0.5}));
}

TEST(Objectives, AHeightThatCanBeIsMet) {
  Brief brief = sample::canopy();
  const Vec2 place(0, 2.4);
  const double asked = height(free_canopy(), place) - 0.06;
  brief.form.heights = {{place, asked}};
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok());
  expect_sound(*form);
  EXPECT_NEAR(height(*form, place), asked, 0.01);
  EXPECT_TRUE(named(*form, "height at").met);
}

// The thrust line of a strip is fixed by its load and rise (H = M / f at every place), so another
// height at the quarter cannot be had.
TEST(Objectives, AHeightThatCannotBeIsReportedNotMet) {
  Brief brief = sample::drovers_hop();
  brief.form.heights = {{{-2.25, 0}, 1.9}};
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok());
  expect_sound(*form);
  const Achieved& quarter = named(*form, "height at (-2.250, 0.000)");
  EXPECT_FALSE(quarter.met);
  EXPECT_EQ(quarter.asked, 1.9);
  EXPECT_NEAR(quarter.got, height(*form, {-2.25, 0}), 1e-12);
  EXPECT_LT(quarter.got, 1.6);
}

TEST(Start, AsTheBriefNamesItAndPlainWhereNothingIsMissed) {
  Brief brief = sample::canopy();
  const auto as_needed = find_form(brief);
  brief.form.start = kByLoadPath;
  const auto by_path = find_form(brief);
  brief.form.start = "plain";
  const auto plain = find_form(brief);
  ASSERT_TRUE(as_needed.ok() && by_path.ok() && plain.ok());
  EXPECT_FALSE(plain->by_load_path);
  EXPECT_FALSE(as_needed->by_load_path);
  EXPECT_EQ(as_needed->vertices, plain->vertices);
  EXPECT_TRUE(by_path->by_load_path);
  expect_sound(*by_path);
  EXPECT_NE(by_path->vertices, plain->vertices);
}

TEST(Objectives, AHeightOffThePlanIsRefused) {
  Brief brief = sample::canopy();
  brief.form.heights = {{{0, 0}, 1.5}};  // in the eye
  const auto form = find_form(brief);
  ASSERT_FALSE(form.ok());
  EXPECT_EQ(form.faults().front().key, "form.height[1]");
}

TEST(Objectives, TheExtradosStaysUnderALine) {
  Brief brief = sample::canopy();
  const double level = height(free_canopy(), {0, 2.4}) + 0.03;  // the body is 0.08 to 0.1 above it
  brief.form.stay_under = {{{-0.8, 2.4, level}, {0.8, 2.4, level}}};
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok());
  expect_sound(*form);
  EXPECT_GT(height(free_canopy(), {0, 2.4}) + 0.08, level);
  EXPECT_LE(height(*form, {0, 2.4}) + 0.08, level + 0.003);
  EXPECT_TRUE(named(*form, "line 1").met) << named(*form, "line 1").got;
}

TEST(Objectives, AThrustCeilingIsMetOrReported) {
  Brief brief = sample::canopy();
  const double free = thrust(free_canopy(), 1).norm();
  for (const double share : {0.97, 0.4}) {
    brief.form.thrusts = {{1, share * free}};
    const auto form = find_form(brief);
    ASSERT_TRUE(form.ok());
    expect_sound(*form);
    const Achieved& got = named(*form, "thrust at s2");
    EXPECT_NEAR(got.got, thrust(*form, 1).norm(), 1e-9 * free);
    EXPECT_EQ(got.met, share > 0.9) << share << " of " << free << " N, got " << got.got;
    EXPECT_LT(got.got, free);
  }
}

// w L^2 / 8 f with w = w0 sqrt(1 + y'^2), w0 = 2 x 0.33 x 2300 x 9.81 N/m, y' = 8 f x / L^2: the
// moment in the middle is w0 times 8 + 0.375 - 0.021 m2.
TEST(Objectives, ACeilingThatCannotBeLeavesThePlainForm) {
  const double by_hand = 2 * 0.33 * 2300 * 9.81 * (8 + 0.375 - 0.021) / 1.5;  // 82.9 kN
  for (const double ceiling : {60e3, 40e3}) {
    Brief brief = sample::strip(0);
    brief.form.thrusts = {{0, ceiling}};
    const Form form = find_form(brief).value();
    expect_sound(form);
    EXPECT_TRUE(form.plain_kept);
    EXPECT_FALSE(named(form, "thrust at l").met);
    EXPECT_NEAR(thrust(form, 0).norm(), by_hand, 0.01 * by_hand);
    const Form loaded = find_form(brief, form.load_n).value();
    EXPECT_TRUE(loaded.plain_kept);
    EXPECT_NEAR(thrust(loaded, 0).norm(), by_hand, 0.01 * by_hand);
  }
  EXPECT_FALSE(find_form(sample::strip(0)).value().plain_kept);
}

TEST(Objectives, ATargetIsComeCloseTo) {
  Brief lower = sample::canopy();
  lower.form.heights = {{{0, 2.4}, height(free_canopy(), {0, 2.4}) - 0.06}};
  const Form target = find_form(lower).value();
  Brief brief = sample::canopy();
  brief.form.mesh_size_m = 0.25;
  brief.form.target = {target.vertices, target.triangles};
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok());
  expect_sound(*form);
  const Achieved& got = named(*form, "target");
  EXPECT_TRUE(got.met) << got.got;
  EXPECT_GT(std::abs(height(free_canopy(), {0, 2.4}) - height(target, {0, 2.4})), 0.04);
  EXPECT_NEAR(height(*form, {0, 2.4}), height(target, {0, 2.4}), 0.015);
}

TEST(Objectives, EdgesKeepWithinTheirDistance) {
  Brief brief = sample::canopy();
  brief.form.edge_distance_m = 0.03;
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok());
  expect_sound(*form);
  EXPECT_TRUE(named(*form, "free edges").met) << named(*form, "free edges").got;
}

TEST(Objectives, MoreWeightOnEvennessGivesMoreEvenForces) {
  Brief brief = sample::canopy();
  double last = HUGE_VAL;
  for (const double weight : {0.1, 1.001, 10.0}) {
    brief.form.evenness = weight;
    const auto form = find_form(brief);
    ASSERT_TRUE(form.ok());
    expect_sound(*form);
    EXPECT_LT(form->unevenness_rel, 0.95 * last) << weight;
    last = form->unevenness_rel;
  }
}

}  // namespace
}  // namespace skewback
