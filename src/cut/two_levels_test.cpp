// An arch between springings at unlike levels: its ridge is not in the middle of its courses.
#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <utility>

#include "brief/sample_barrel.hpp"
#include "cut/cut.hpp"

namespace skewback {
namespace {

Brief two_levels(double higher_m) {
  Brief brief = sample::barrel_brief(4, 2);
  brief.plan.supports[1] = {"east", {4, -1}, {4, 1}, higher_m};
  brief.form.rise_m = 1.5;
  brief.form.mesh_size_m = 0.2;
  brief.section.hollow = false;
  brief.section.depth_crown_m = 0.28;
  brief.section.depth_springing_m = 0.38;
  brief.blocks.length_m = 0.4;
  brief.blocks.mass_max_kg = 900;
  brief.blocks.width_max_m = 0;
  brief.joints.pad_thickness_m = 0.008;
  brief.material.density = 2300;
  return brief;
}

/// Of the middle surface at x: a parabola through what is near.
double slope_at(const Form& form, double x) {
  Eigen::Matrix3d A = Eigen::Matrix3d::Zero();
  Vec3 b = Vec3::Zero();
  for (const Vec3& v : form.vertices) {
    if (std::abs(v.x() - x) > 0.5) continue;
    const Vec3 row(1, v.x() - x, (v.x() - x) * (v.x() - x));
    A += row * row.transpose();
    b += v.z() * row;
  }
  return A.ldlt().solve(b)[1];
}

void expect_square_joints(const Brief& brief) {
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok()) << describe(form.faults().front());
  const auto body = give_body(brief, *form);
  ASSERT_TRUE(body.ok()) << describe(body.faults().front());
  const auto cut = cut_blocks(brief, *body);
  ASSERT_TRUE(cut.ok()) << describe(cut.faults().front());
  int seen = 0;
  std::set<int> grounds;
  for (const Joint& joint : cut->assembly.joints) {
    const Block &a = cut->assembly.blocks[static_cast<std::size_t>(joint.a)],
                &b = cut->assembly.blocks[static_cast<std::size_t>(joint.b)];
    if (a.fixed) grounds.insert(joint.a);
    if (a.fixed || b.fixed) continue;  // springings are as drawn
    const Vec3 along = Vec3(1, 0, slope_at(*form, joint.frame.origin.x())).normalized();
    const double off = std::acos(std::min(1.0, std::abs(along.dot(joint.frame.z)))) * 180 / kPi;
    EXPECT_LT(off, 3) << a.id << " | " << b.id;
    ++seen;
  }
  EXPECT_GT(seen, 15);
  EXPECT_EQ(grounds.size(), 2U) << "blocks bear on both springings";
}

// Statics: without load along it, a thrust runs along the middle surface, which is funicular.
class TwoLevels : public testing::TestWithParam<double> {};

TEST_P(TwoLevels, JointsFaceTheThrustUpToTheKey) { expect_square_joints(two_levels(GetParam())); }
INSTANTIATE_TEST_SUITE_P(Higher, TwoLevels, testing::Values(0.0, 0.8, 1.6, 2.4));

// A parabola that rises f over the chord between springings h apart is level at the upper one where
// h = 4 f: half an arch. The ridge lies on that springing, or within a course of it.
TEST(TwoLevelsHalf, AHalfArchBearsOnBothSpringings) {
  for (const double rise_m : {1.0, 1.05, 1.1}) {
    Brief brief = two_levels(4);
    brief.form.rise_m = rise_m;
    expect_square_joints(brief);
    std::swap(brief.plan.supports[0].level_m, brief.plan.supports[1].level_m);
    expect_square_joints(brief);
  }
}

// Leaf 45 mm, webs 45 mm at 300 mm, depth 300 mm. 6 m in one: 20 tubes of 5.055 x 0.21 m2 in all,
// 0.410 of it concrete. In six of 1 m: 4 tubes of 0.775 x 0.21 m2 each, 0.4575.
TEST(SolidShare, LeavesBesideHeadJointsCount) {
  Brief brief = sample::barrel_brief(4, 6);
  brief.form.rise_m = 1.5;
  brief.form.mesh_size_m = 0.4;
  brief.section.hollow = true;
  brief.section.leaf_m = brief.section.web_m = 0.045;
  brief.section.web_spacing_m = 0.3;
  brief.section.depth_crown_m = brief.section.depth_springing_m = 0.3;
  brief.blocks.length_m = 0.5;
  brief.blocks.mass_max_kg = 1e5;
  brief.material.density = 2400;
  const auto form = find_form(brief);
  ASSERT_TRUE(form.ok()) << describe(form.faults().front());
  const auto body = give_body(brief, *form);
  ASSERT_TRUE(body.ok()) << describe(body.faults().front());
  brief.blocks.width_max_m = 0;
  const double whole = solid_share(brief, *body);
  brief.blocks.width_max_m = 1.1;
  const double divided = solid_share(brief, *body);
  EXPECT_NEAR(whole, 0.410, 0.03);  // the key in the middle is solid
  EXPECT_NEAR((divided - whole) / (1 - whole), (0.4575 - 0.410) / (1 - 0.410), 0.005);
}

}  // namespace
}  // namespace skewback
