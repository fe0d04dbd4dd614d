// What holds of every body and its blocks, on random star plans of solid section.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "base/constants.hpp"
#include "brief/sample_barrel.hpp"
#include "cut/cut.hpp"
#include "star_plans.hpp"

namespace skewback::properties {
namespace {

constexpr unsigned kPlans = 60;

Brief with_blocks(StarPlan star) {
  Brief& brief = star.brief;
  const double length = star.size / 4;
  const double width = (brief.plan.supports[0].a - brief.plan.supports[0].b).norm();
  brief.blocks.length_m = length;
  brief.blocks.mass_max_kg =
      1.5 * brief.material.density * length * width * brief.section.depth_springing_m;
  brief.form.mesh_size_m = star.size / 14;
  return brief;
}

std::map<unsigned, double>& body_volume() {
  static std::map<unsigned, double> volume;
  return volume;
}

const Result<Cut>& cut_of(unsigned seed) {
  static std::map<unsigned, Result<Cut>> done;
  const auto known = done.find(seed);
  if (known != done.end()) return known->second;
  const Brief brief = with_blocks(star_plan(seed));
  const auto make = [&]() -> Result<Cut> {
    const auto form = find_form(brief);
    if (!form) return form.faults();
    const auto body = give_body(brief, *form);
    if (!body) return body.faults();
    EXPECT_TRUE(closed(body->outer)) << "seed " << seed;
    EXPECT_NEAR(mass_properties(body->outer).volume, body->outer_volume_m3,
                1e-9 * body->outer_volume_m3);
    body_volume()[seed] = body->outer_volume_m3;
    return cut_blocks(brief, *body);
  };
  return done.emplace(seed, make()).first->second;
}

class StarCut : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, StarCut, testing::Range(1u, kPlans + 1));

TEST_P(StarCut, BlocksCloseAndFillTheBody) {
  const auto& cut = cut_of(GetParam());
  if (!cut) {  // counted below; a refusal must say where, why and what would help
    const Fault& fault = cut.faults().front();
    EXPECT_FALSE(fault.key.empty());
    EXPECT_FALSE(fault.found.empty());
    EXPECT_FALSE(fault.change.empty());
    return;
  }
  double blocks = 0;
  for (const Block& block : cut->assembly.blocks) {
    EXPECT_TRUE(closed(block.solid)) << block.id;
    const double volume = mass_properties(block.solid).volume;
    EXPECT_GT(volume, 0) << block.id;
    if (!block.fixed) blocks += volume;
  }
  double pads = 0;
  for (const Solid& pad : cut->pads) pads += pad.faces.empty() ? 0 : mass_properties(pad).volume;
  // of solid blocks what is designed is the body less the tips of sharp arrises, which were
  // measured by themselves
  const double whole = body_volume()[GetParam()], designed = cut->report.designed_volume_m3;
  EXPECT_NEAR(blocks + pads, designed, 1e-9 * whole) << "seed " << GetParam();
  if (cut->report.blunted_arrises == 0) {
    EXPECT_NEAR(designed, whole, 1e-9 * whole);
  } else {
    EXPECT_LT(designed, whole);
    EXPECT_LT(whole - designed, 0.04 * blocks / static_cast<double>(cut->assembly.blocks.size()) *
                                    2 * cut->report.blunted_arrises);
  }
  EXPECT_TRUE(cut->report.watertight);
}

TEST_P(StarCut, BlocksAreUnderTheMassLimitOrNamed) {
  const auto& cut = cut_of(GetParam());
  if (!cut) return;
  const double limit = with_blocks(star_plan(GetParam())).blocks.mass_max_kg;
  for (const Block& block : cut->assembly.blocks) {
    if (block.fixed || concrete_mass_kg(block) <= limit) continue;
    const bool named = std::ranges::any_of(cut->report.remarks, [&](const std::string& remark) {
      return remark.find(block.id) != std::string::npos;
    });
    EXPECT_TRUE(named) << block.id << " of " << concrete_mass_kg(block) << " kg, limit " << limit;
  }
}

TEST(StarCut, EveryPlanIsCut) {
  for (unsigned seed = 1; seed <= kPlans; ++seed) {
    const auto& cut = cut_of(seed);
    EXPECT_TRUE(cut.ok()) << "seed " << seed << ": " << describe(cut.faults().front());
  }
}

Result<Cut> cut_whole(const Brief& brief) {
  const auto form = find_form(brief);
  if (!form) return form.faults();
  const auto body = give_body(brief, *form);
  if (!body) return body.faults();
  return cut_blocks(brief, *body);
}

// Straight from support to support: wide at the meeting, where last joints lie far short of the
// ridges. No leg may take more than its share of what lies between.
TEST(Chords, LegsThatAreAlikeHaveLastCoursesThatAreAlike) {
  Brief brief;
  for (int k = 0; k < 3; ++k) {
    const double bearing = 2 * kPi * k / 3;
    const Vec2 out(std::cos(bearing), std::sin(bearing)), left(-out.y(), out.x());
    brief.plan.supports.push_back(
        {"s" + std::to_string(k), 4.5 * out - 1.1 * left, 4.5 * out + 1.1 * left, 0});
  }
  for (int k = 0; k < 3; ++k) {
    const int next = (k + 1) % 3;
    brief.plan.outline.push_back(brief.plan.supports[k].a);
    brief.plan.outline.push_back(brief.plan.supports[k].b);
    brief.plan.free_edges.push_back(
        {k, next, {brief.plan.supports[k].b, brief.plan.supports[next].a}});
  }
  brief.form.mesh_size_m = 0.35;
  brief.section = {0.3, 0.38, false};
  brief.material = {2300, 40e6};
  brief.blocks.mass_max_kg = 800;
  brief.blocks.length_m = 0.4;
  brief.joints.pad_thickness_m = 0.008;
  for (const double rise : {1.0, 1.1, 1.2, 1.3, 1.4, 1.5}) {
    brief.form.rise_m = rise;
    const auto cut = cut_whole(brief);
    ASSERT_TRUE(cut) << "rise " << rise << ": " << describe(cut.faults().front());
    std::vector<double> last(3, 0);
    for (const Block& block : cut->assembly.blocks)  // courses in order
      if (!block.fixed && !block.place.crown)
        last[std::size_t(block.place.arm)] = block.mass.volume;
    const auto [least, most] = std::ranges::minmax(last);
    EXPECT_LT(most / least, 1.3) << "rise " << rise;
  }
}

/// A barrel whose springings run aslant, its edges straight.
Brief skew_barrel(double degrees, double width) {
  Brief brief = sample::barrel_brief(3.5, width);
  const double slope = std::tan(degrees * kPi / 180);
  const auto aslant = [&](Vec2& p) { p.x() += slope * p.y(); };
  for (Vec2& p : brief.plan.outline) aslant(p);
  for (Support& s : brief.plan.supports) aslant(s.a), aslant(s.b);
  for (FreeEdge& edge : brief.plan.free_edges)
    for (Vec2& p : edge.line) aslant(p);
  brief.form.rise_m = 1.2;
  brief.form.mesh_size_m = 0.2;
  brief.section = {0.3, 0.36, false};
  brief.material = {2400, 40e6};
  brief.blocks.mass_max_kg = 900;
  brief.blocks.count = 19;
  brief.joints.pad_thickness_m = 0.008;
  return brief;
}

// Courses are of one length and grow heavier with depth and slope towards the springings: no block
// is lighter than the key, and none lighter than its neighbour nearer the key. With the greatest
// phi of the ridge for its middle the key of a skew of 10 degrees weighed an eighth of its
// neighbours, and none was left from 12.
TEST(SkewArch, CoursesAreEvenUpToTheKey) {
  for (const double degrees : {0.0, 3.0, 10.0, 15.0, 25.0, -20.0}) {
    const auto cut = cut_whole(skew_barrel(degrees, 2));
    ASSERT_TRUE(cut) << degrees << ": " << describe(cut.faults().front());
    std::map<int, std::map<int, double>> mass;  // by arm and course
    for (const Block& block : cut->assembly.blocks)
      if (!block.fixed) mass[block.place.arm][block.place.course] = concrete_mass_kg(block);
    ASSERT_EQ(mass.at(-1).size(), 1u);
    const double key = mass.at(-1).begin()->second;
    for (const int arm : {0, 1}) {
      ASSERT_EQ(mass.at(arm).size(), 9u) << degrees;
      for (int c = 2; c <= 9; ++c)
        EXPECT_GT(mass.at(arm).at(c - 1), 0.99 * mass.at(arm).at(c)) << degrees << ", course " << c;
      EXPECT_NEAR(key / mass.at(arm).at(9), 1, 0.03) << degrees;
    }
  }
}

// Head joints stand off the middle by 0.14 of a block either way, 0.28 apart, beside the key too,
// which sees its second neighbour from the other side.
TEST(Vault, HeadJointsAreStaggeredOnBothSidesOfTheKey) {
  Brief brief = skew_barrel(0, 4.8);
  brief.blocks.mass_max_kg = 600;
  brief.blocks.width_max_m = 1.0;
  const auto cut = cut_whole(brief);
  ASSERT_TRUE(cut) << describe(cut.faults().front());
  EXPECT_NEAR(cut->report.stagger_min, 0.28, 0.005);
  std::map<std::pair<int, int>, std::vector<double>> at;  // by arm and course: y of head joints
  for (const Joint& joint : cut->assembly.joints) {
    const Block &a = cut->assembly.blocks[std::size_t(joint.a)],
                &b = cut->assembly.blocks[std::size_t(joint.b)];
    if (a.fixed || b.fixed || std::abs(joint.frame.z.y()) < 0.9) continue;
    if (a.place.arm == b.place.arm && a.place.course == b.place.course)
      at[{a.place.arm, a.place.course}].push_back(joint.frame.origin.y());
  }
  const std::vector<double>& key = at.at({-1, cut->assembly.blocks.back().place.course});
  ASSERT_EQ(key.size(), 4u);
  for (const int arm : {0, 1})
    for (const double y : at.at({arm, 9}))
      for (const double other : key) EXPECT_GT(std::abs(y - other), 0.25 * 0.96) << arm;
}

}  // namespace
}  // namespace skewback::properties
