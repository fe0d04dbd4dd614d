#include "cut/leg_gaps.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "cut/cut.hpp"
#include "cut/sample_sound.hpp"
#include "form/leg_plans.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

struct Holey {
  Brief brief;
  Body body;
  Cut cut;
};

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Result<Holey> tried(Brief brief, double pad_m, double width_max_m, bool hollow) {
  Holey out;
  brief.blocks.mass_max_kg = 900;
  brief.blocks.length_m = 0.5;
  brief.blocks.width_max_m = width_max_m;
  brief.joints.friction = 0.6;
  brief.joints.pad_thickness_m = pad_m;
  if (hollow) brief.section = {0.3, 0.4, true, 0.045, 0.045, 0.3};
  const Result<Form> form = find_form(brief);
  if (!form) return form.faults();
  const Result<Body> body = give_body(brief, *form);
  if (!body) return body.faults();
  const Result<Cut> cut = cut_blocks(brief, *body);
  if (!cut) return cut.faults();
  return Holey{brief, *body, *cut};
}

Holey holey(const Brief& brief, double pad_m, double width_max_m, bool hollow) {
  Result<Holey> out = tried(brief, pad_m, width_max_m, hollow);
  EXPECT_TRUE(out.ok()) << describe(out.faults().front());
  return out ? std::move(out).value() : Holey{};
}

struct LegCase {
  const char* name;
  Brief (*brief)();
  double pad_m, width_max_m;
  bool hollow;
};

class CutPastOpenings : public testing::TestWithParam<LegCase> {
 protected:
  static const Holey& of(const LegCase& c) {
    static std::map<std::string, Holey> all;
    if (!all.contains(c.name)) all[c.name] = holey(c.brief(), c.pad_m, c.width_max_m, c.hollow);
    return all[c.name];
  }
  const Holey& m = of(GetParam());
  const Assembly& assembly = m.cut.assembly;
};
INSTANTIATE_TEST_SUITE_P(
    Plans, CutPastOpenings,
    testing::Values(LegCase{"almond", sample::almond_in_leg, 0.008, 0, false},
                    LegCase{"no_pads", sample::almond_in_leg, 0, 0, false},
                    LegCase{"hollow", sample::almond_in_leg, 0.008, 0, true},
                    LegCase{"head_joints", sample::almond_in_leg, 0.008, 0.8, false},
                    LegCase{"sides_divided", sample::almond_in_leg, 0.008, 0.45, false},
                    LegCase{"round", sample::round_in_leg, 0.008, 0, false},
                    LegCase{"off_axis", sample::almond_off_axis, 0.008, 1.3, false},
                    LegCase{"eye_and_legs", sample::eye_and_legs, 0.008, 1.9, true},
                    LegCase{"two_legs", sample::two_legs, 0.008, 0, false}),
    [](const auto& c) { return std::string(c.param.name); });

TEST_P(CutPastOpenings, BlocksAndPadsFillTheBodyOnce) {
  sample::expect_sound(m.cut, m.brief.blocks.mass_max_kg);
  EXPECT_TRUE(m.cut.report.watertight);
}

/// A leg's opening and where its axis runs.
struct Side {
  LegGap gap;
  std::size_t leg = 0;
  Vec2 point, right;  // right of the way up the leg
  [[nodiscard]] double of(const Block& block) const {
    return right.dot(block.mass.centroid.head<2>() - point);
  }
};

std::vector<Side> sides(const Holey& m) {
  std::vector<Side> out;
  const std::vector<ArmField> arms = arm_fields(m.body.form);
  const auto gaps = leg_gaps(m.brief, m.body, arms);
  EXPECT_TRUE(gaps.ok());
  for (std::size_t k = 0; k < gaps->size(); ++k) {
    if (!(*gaps)[k]) continue;
    const Polygon& hole = m.brief.plan.openings[at((*gaps)[k]->opening)];
    const Vec2 middle = centroid(Region{{hole.rbegin(), hole.rend()}, {}});
    const Vec3 up = level_plane(m.body, arms[k], (*gaps)[k]->low_tip_phi_m).normal;
    out.push_back({*(*gaps)[k], k, middle, Vec2(up.y(), -up.x()).normalized()});
  }
  return out;
}

/// Whether all of a block lies beside the opening: between the joints that stand past its tips.
bool beside(const Holey& m, const Side& side, const Block& block) {
  return !block.fixed && block.place.arm == static_cast<int>(side.leg) && !block.place.crown &&
         block.place.phi_m > side.gap.low_joint_phi_m &&
         block.place.phi_m < side.gap.high_joint_phi_m && !m.body.form.vertices.empty();
}

TEST_P(CutPastOpenings, CoursesBesideAnOpeningHaveBlocksOnEitherSide) {
  for (const Side& side : sides(m)) {
    std::map<int, std::pair<int, int>> of_course;
    for (const Block& block : assembly.blocks)
      if (beside(m, side, block))
        ++(side.of(block) < 0 ? of_course[block.place.course].first
                              : of_course[block.place.course].second);
    for (const auto& [course, count] : of_course) {
      EXPECT_GE(count.first, 1) << "course " << course;
      EXPECT_GE(count.second, 1) << "course " << course;
      if (GetParam().width_max_m == 0 || GetParam().width_max_m > 1) {
        EXPECT_EQ(count.first + count.second, 2) << "course " << course;
      }
      // neighbours on one side meet in a head joint, those across the void do not
      const auto heads = std::ranges::count_if(assembly.joints, [&](const Joint& joint) {
        const Block &a = assembly.blocks[at(joint.a)], &b = assembly.blocks[at(joint.b)];
        return beside(m, side, a) && beside(m, side, b) && a.place.course == course &&
               b.place.course == course;
      });
      EXPECT_EQ(heads, count.first + count.second - 2) << "course " << course;
      if (GetParam().width_max_m == 0.45) {
        EXPECT_GT(heads, 1) << "course " << course;
      }
    }
    // an opening longer than two courses has one beside it at the least
    const Polygon& hole = m.brief.plan.openings[at(side.gap.opening)];
    double length = 0;
    for (const Vec2& p : hole) length = std::max(length, 2 * (p - side.point).norm());
    if (length > 1) {
      EXPECT_GE(of_course.size(), 2u);
    }
  }
}

// No joint joins the two sides, none runs through the void, each is one patch.
TEST_P(CutPastOpenings, NoJointSpansTheVoid) {
  const std::vector<Side> all = sides(m);
  ASSERT_FALSE(all.empty());
  for (const Joint& joint : assembly.joints) {
    if (!m.body.section.hollow) {
      EXPECT_EQ(joint.contact.size(), 1u);
    }
    const Block &a = assembly.blocks[at(joint.a)], &b = assembly.blocks[at(joint.b)];
    for (const Side& side : all) {
      if (beside(m, side, a) && beside(m, side, b)) {
        EXPECT_GT(side.of(a) * side.of(b), 0) << a.id << " " << b.id;
      }
      const Polygon& hole = m.brief.plan.openings[at(side.gap.opening)];
      const Regions inside = offset({{Polygon(hole.rbegin(), hole.rend()), {}}}, -0.06);
      for (const Region& r : joint.contact)
        for (const Region& i : inside)
          EXPECT_FALSE(contains(i, joint.frame.to_world(centroid(r)).head<2>()))
              << a.id << " " << b.id;
    }
  }
}

// Every block stands on one below; over the far tip a block stands on both sides of the opening,
// and at the near tip one block bears both.
TEST_P(CutPastOpenings, BlocksAtTheTipsMeetBothSides) {
  std::map<int, std::set<int>> above, below;
  for (const Joint& joint : assembly.joints) {
    const Block &a = assembly.blocks[at(joint.a)], &b = assembly.blocks[at(joint.b)];
    if (a.place.course == b.place.course && !a.fixed) continue;
    above[joint.a].insert(joint.b);
    below[joint.b].insert(joint.a);
  }
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || block.place.arm < 0 || block.place.crown) continue;
    EXPECT_FALSE(below[static_cast<int>(i)].empty()) << block.id;
  }
  if (GetParam().width_max_m > 0) return;  // head joints may run into the void
  for (const Side& side : sides(m)) {
    int bears = 0, stands = 0;
    for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
      const auto both = [&](const std::set<int>& others) {
        bool left = false, right = false;
        for (int j : others) {
          if (!beside(m, side, assembly.blocks[at(j)])) continue;
          (side.of(assembly.blocks[at(j)]) < 0 ? left : right) = true;
        }
        return left && right;
      };
      bears += both(above[static_cast<int>(i)]) ? 1 : 0;
      stands += both(below[static_cast<int>(i)]) ? 1 : 0;
    }
    bool any = false;
    for (const Block& block : assembly.blocks) any = any || beside(m, side, block);
    EXPECT_EQ(bears, any ? 1 : 0);
    EXPECT_EQ(stands, any ? 1 : 0);
  }
}

// No dart: from bed to bed no block is shorter than a quarter of its longest way, and at the joints
// past the tips the opening's wall meets the bed at 50 degrees or more, where it can.
TEST_P(CutPastOpenings, NoDartsAtTheTips) {
  for (const Block& block : assembly.blocks) {
    if (block.fixed || block.place.arm < 0 || block.place.crown) continue;
    EXPECT_GT(block.place.phi_length_min_m, 0.25 * block.place.phi_length_max_m) << block.id;
    EXPECT_GT(block.place.phi_length_min_m, 0.05) << block.id;
  }
  for (const std::string& remark : m.cut.report.remarks)
    EXPECT_EQ(remark.find("runs out to an edge"), std::string::npos) << remark;
}

TEST_P(CutPastOpenings, LeavesAreKept) {
  if (!m.body.section.hollow) return;
  EXPECT_GE(m.cut.report.leaf_least_m, m.body.section.leaf_m - 1e-6);
  for (const Block& block : assembly.blocks) {
    const Result<bool> crosses = self_intersects(block.solid);
    EXPECT_TRUE(crosses.ok() && !*crosses) << block.id;
  }
  EXPECT_TRUE(std::ranges::any_of(m.cut.report.remarks, [](const std::string& remark) {
    return remark.find("beside an opening in a leg") != std::string::npos;
  }));
}

TEST(LegGaps, JointsStandPastTheTipsSquareToTheWall) {
  const Holey m = holey(sample::almond_in_leg(), 0.008, 0, false);
  const std::vector<Side> all = sides(m);
  ASSERT_EQ(all.size(), 1u);
  const LegGap& gap = all[0].gap;
  // a pointed end: no further past the tip than the notch asks, 34 mm of true length
  EXPECT_GT(gap.low_joint_phi_m - gap.low_tip_phi_m, 0.02);
  EXPECT_LT(gap.low_joint_phi_m - gap.low_tip_phi_m, 0.08);
  EXPECT_GT(gap.high_tip_phi_m - gap.high_joint_phi_m, 0.02);
  EXPECT_LT(gap.high_tip_phi_m - gap.high_joint_phi_m, 0.08);
  // a blunt one: where the wall of a circle of radius r stands at 50 degrees, r (1 - cos 50) past
  // its end, in plan
  const Holey blunt = holey(sample::round_in_leg(), 0.008, 0, false);
  const LegGap round = sides(blunt)[0].gap;
  const double in_plan = 0.3 * (1 - std::cos(50 * 3.14159265 / 180));
  EXPECT_GT(round.low_joint_phi_m - round.low_tip_phi_m, 0.8 * in_plan);
  EXPECT_LT(round.low_joint_phi_m - round.low_tip_phi_m, 1.7 * in_plan);
}

TEST(LegGaps, AnOpeningTooShortForACourseIsCutInItsMiddle) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {sample::round_opening({0, 4.6}, 0.3)};
  const Holey m = holey(brief, 0.008, 0, false);
  const std::vector<ArmField> arms = arm_fields(m.body.form);
  const auto gaps = leg_gaps(m.brief, m.body, arms);
  ASSERT_TRUE(gaps.ok() && (*gaps)[0]);
  const Way way(m.body, arms[0], arms[0].border_phi_m);
  EXPECT_EQ(stops_at(*(*gaps)[0], way, 0.15).size(), 1u);
  // the blocks below and above it meet in two patches, one either side of the opening
  EXPECT_EQ(std::ranges::count_if(m.cut.assembly.joints,
                                  [](const Joint& joint) { return joint.contact.size() == 2; }),
            1);
  EXPECT_LE(m.cut.report.volume_error_rel, 1e-9);
}

TEST(LegGaps, IntoTheCrownIsRefusedWithTheMoveThatMendsIt) {
  Brief brief = sample::leg_brief();
  brief.plan.openings = {sample::almond({0, 1.9}, 90, 2.4, 0.3)};
  const Result<Holey> refused = tried(brief, 0.008, 0, false);
  ASSERT_FALSE(refused.ok());
  const Fault& fault = refused.faults().front();
  EXPECT_EQ(fault.key, "cut: plan.openings[1]") << describe(fault);
  double by = 0;
  const std::size_t where = fault.change.find("by ");
  ASSERT_NE(where, std::string::npos) << fault.change;
  ASSERT_EQ(std::sscanf(fault.change.c_str() + where, "by %lf", &by), 1);
  EXPECT_GT(by, 0);
  for (Vec2& p : brief.plan.openings[0]) p += Vec2(0, by + 0.05);
  EXPECT_TRUE(tried(brief, 0.008, 0, false).ok());
}

}  // namespace
}  // namespace skewback
