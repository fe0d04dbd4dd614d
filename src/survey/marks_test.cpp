#include "survey/marks.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <sstream>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/beds.hpp"

namespace skewback {
namespace {

std::vector<Mark> of(const std::vector<Mark>& marks, const std::string& name) {
  std::vector<Mark> out;
  for (const Mark& mark : marks)
    if (mark.of == name) out.push_back(mark);
  return out;
}

Vec3 place(const std::vector<Mark>& marks, const std::string& name) {
  for (const Mark& mark : marks)
    if (mark.name == name) return mark.designed;
  ADD_FAILURE() << "no mark " << name;
  return Vec3::Zero();
}

double thickness(const std::array<Vec3, 3>& p) {  // least height of the triangle
  const double twice = (p[1] - p[0]).cross(p[2] - p[0]).norm();
  return twice / std::max({(p[1] - p[0]).norm(), (p[2] - p[1]).norm(), (p[0] - p[2]).norm()});
}

TEST(SettingOut, EveryMarkOnceInOrder) {
  const Brief brief = sample::barrel_brief(3, 1);
  const std::vector<Mark> marks = setting_out(brief, sample::arch_assembly({}), nullptr);
  std::set<std::string> names;
  int kind = 0;
  for (const Mark& mark : marks) {
    EXPECT_TRUE(names.insert(mark.name).second) << mark.name;
    const int order = mark.kind == MarkKind::kSpringing ? 0 : mark.kind == MarkKind::kShoe ? 1 : 2;
    EXPECT_GE(order, kind);
    kind = order;
  }
  // two springings, both ends of one tie, seven voussoirs
  EXPECT_EQ(marks.size(), 3U * (2 + 2 + 7));
}

// Looking out from the middle of the bridge at the west footing, north is on the right.
TEST(SettingOut, SpringingsAreNamedLookingOutFromTheBridge) {
  Brief brief = sample::barrel_brief(3, 1);
  brief.ground.footing_width_m = 0.7;
  brief.plan.supports[0].level_m = 0.2;
  const std::vector<Mark> marks = springing_marks(brief);
  EXPECT_LT((place(marks, "west right") - Vec3(-3, 0.5, 0.2)).norm(), 1e-12);
  EXPECT_LT((place(marks, "west left") - Vec3(-3, -0.5, 0.2)).norm(), 1e-12);
  EXPECT_LT((place(marks, "west back") - Vec3(-3.7, 0, 0.2)).norm(), 1e-12);
  EXPECT_LT((place(marks, "east right") - Vec3(3, -0.5, 0)).norm(), 1e-12);
  EXPECT_LT((place(marks, "east back") - Vec3(3.7, 0, 0)).norm(), 1e-12);
}

// The sample's backs are chords' outer faces at 3.225 m from the axis, 1 m wide.
TEST(SettingOut, BlockMarksLieOnTheBackClearOfItsEdges) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const std::vector<Mark> marks = setting_out(sample::barrel_brief(3, 1), assembly, nullptr);
  const double outer = arch.radius + arch.thickness / 2, half = kPi / arch.voussoirs / 2;
  for (int i = 0; i < arch.voussoirs; ++i) {
    const std::vector<Mark> mine = of(marks, "v" + std::to_string(i + 1));
    ASSERT_EQ(mine.size(), 3U);
    const double angle = kPi * (i + 0.5) / arch.voussoirs;
    const Vec3 out(-std::cos(angle), 0, std::sin(angle)),
        along(std::sin(angle), 0, std::cos(angle));
    for (const Mark& mark : mine) {
      EXPECT_NEAR(mark.designed.dot(out), outer * std::cos(half), 1e-9) << mark.name;
      EXPECT_LT(std::abs(mark.designed.y()), 0.5 - 0.03 + 1e-9);
      EXPECT_LT(std::abs(mark.designed.dot(along)), outer * std::sin(half) - 0.03 + 1e-9);
    }
    EXPECT_GT(thickness({mine[0].designed, mine[1].designed, mine[2].designed}), 0.5) << i;
  }
}

// Rods 0.8 m apart between the springing middles (-3, 0) and (3, 0), at -0.3 m.
TEST(SettingOut, ShoeMarksAtTheRods) {
  const std::vector<Mark> marks =
      setting_out(sample::barrel_brief(3, 1), sample::arch_assembly({}), nullptr);
  EXPECT_NEAR((place(marks, "west-east west 1") - Vec3(-3, -0.4, -0.3)).norm(), 0, 1e-12);
  EXPECT_NEAR((place(marks, "west-east west 2") - Vec3(-3, 0.4, -0.3)).norm(), 0, 1e-12);
  EXPECT_NEAR((place(marks, "west-east west 3") - Vec3(-3.15, 0, -0.3)).norm(), 0, 1e-12);
  EXPECT_NEAR((place(marks, "west-east east 3") - Vec3(3.15, 0, -0.3)).norm(), 0, 1e-12);
}

TEST(SettingOut, FootMarksOnGroundAndHead) {
  Centring centring;
  Rib rib;
  rib.id = "R1";
  rib.place = {Vec3::Zero(), Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()};
  centring.ribs.push_back(rib);
  centring.feet.push_back({.id = "R1-1", .rib = "R1", .at = {1, 2, -0.9}, .head = {1, 2, 0.4}});
  const std::vector<Mark> marks =
      setting_out(sample::barrel_brief(3, 1), sample::arch_assembly({}), &centring);
  const std::vector<Mark> foot = of(marks, "R1-1");
  ASSERT_EQ(foot.size(), 3U);
  EXPECT_EQ(foot[0].designed, Vec3(1, 2, -0.9));
  EXPECT_NEAR((foot[1].designed - Vec3(1, 2, 0.403)).norm(), 0, 1e-12);  // 3 mm settle
  EXPECT_NEAR((foot[2].designed - Vec3(1, 2.15, -0.9)).norm(), 0, 1e-12);
}

// A parapet stands on one side of the back: marks keep to the back or its level top, off the step.
TEST(SettingOut, MarksKeepOffAStep) {
  Assembly assembly = sample::arch_assembly({.voussoirs = 1, .radius = 2});
  assembly.blocks[0].solid =
      prism({Vec3::Zero(), Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()},
            {{0, 0}, {1, 0}, {1, 0.6}, {0.8, 0.6}, {0.8, 0.3}, {0, 0.3}}, 0, 0.5);
  const std::vector<Mark> mine =
      of(setting_out(sample::barrel_brief(2, 1), assembly, nullptr), "v1");
  ASSERT_EQ(mine.size(), 3U);
  for (const Mark& mark : mine) {
    EXPECT_GT(std::abs(mark.designed.y() - 0.8), 0.03 - 1e-9);
    EXPECT_NEAR(mark.designed.z(), mark.designed.y() > 0.8 ? 0.6 : 0.3, 1e-9);
  }
}

// Arms from the springing: near and far of each; the key's beds are named after what they face.
TEST(BedMarks, NamesAndPlaces) {
  sample::Tripod t;
  t.pad = 0.01;
  const Assembly assembly = sample::tripod_assembly(t);
  const std::vector<Mark> marks = bed_marks(assembly);
  EXPECT_EQ(marks.size(), 5U * (3 * 4 * 2 + 3));
  std::set<std::string> names;
  for (const Mark& mark : marks) EXPECT_TRUE(names.insert(mark.name).second) << mark.name;
  // The springing of arm A is level, under A1, at half the pad; corners 20 mm in.
  const double x = t.core + t.radius;
  const Vec3 one = place(marks, "A1 near 1"), five = place(marks, "A1 near 5");
  EXPECT_NEAR(one.z(), 0.005, 1e-9);
  EXPECT_NEAR(std::abs(one.x() - x), t.thickness / 2 - 0.02, 1e-6);
  EXPECT_NEAR(std::abs(one.y()), t.width / 2 - 0.02, 1e-6);
  EXPECT_NEAR((five - Vec3(x, 0, 0.005)).norm(), 0, 1e-6);
  // The key's bed against A4 is upright, at `core` from the middle, less half the pad.
  EXPECT_NEAR(place(marks, "key A4 5").x(), t.core - 0.005, 1e-6);
  EXPECT_NEAR(place(marks, "A4 far 5").x(), t.core + 0.005, 1e-6);
}

TEST(BedMarks, CornersTurnAsTheFramesOwn) {
  const Assembly assembly = sample::tripod_assembly({});
  for (const Bed& bed : beds_of(assembly, 3)) {
    const auto p = bed_places(bed);
    EXPECT_GT(area({p[0], p[1], p[2], p[3]}), 0);
    EXPECT_LT(p[0].x(), p[1].x());
    EXPECT_LT(p[0].y(), p[3].y());
  }
}

// Two halves of an even ring meet in arms of their own: that joint is a bed.
TEST(BedMarks, ArmsThatMeetHeadOn) {
  const std::vector<Mark> marks = bed_marks(sample::arch_assembly({.voussoirs = 6}));
  EXPECT_EQ(marks.size(), 5U * 6 * 2);
  place(marks, "v3 far 1");
  place(marks, "v4 far 1");
}

TEST(BedMarks, KeepOffAHole) {
  Assembly assembly = sample::tripod_assembly({});
  Joint& joint = assembly.joints[0];
  joint.contact[0].holes = {{{-0.2, -0.1}, {-0.2, 0.1}, {0.2, 0.1}, {0.2, -0.1}}};
  const Bed bed = beds_of(assembly, joint.b)[0];
  const Vec2 five = bed_places(bed)[4];
  EXPECT_TRUE(std::abs(five.x()) > 0.2 || std::abs(five.y()) > 0.1) << five.transpose();
}

TEST(SiteAxes, ThereAndBack) {
  SiteGrid site{{4512.3, 1980.45, 36.12}, 0.5 * kPi, ""};
  // x axis to the north: bridge (2, 1, 3) is 1 m west and 2 m north of the origin
  EXPECT_NEAR((to_site(site, {2, 1, 3}) - Vec3(4511.3, 1982.45, 39.12)).norm(), 0, 1e-9);
  site.turn_rad = 0.3;
  EXPECT_NEAR((from_site(site, to_site(site, {2, 1, 3})) - Vec3(2, 1, 3)).norm(), 0, 1e-9);
}

TEST(SettingOutCsv, TenthsOfMillimetresAndHowTheGridLies) {
  const SiteGrid site{{100, 200, 10}, kPi / 2, "2027-02-22"};
  EXPECT_EQ(
      setting_out_csv(site, {{"yard left", MarkKind::kSpringing, "yard", {1, 0.00004, 0}}}),
      "# date: 2027-02-22\n"
      "# grid: the bridge's origin lies at east 100.0000 m, north 200.0000 m, level 10.0000 m; "
      "its x axis is turned\n# 90.000000 degrees from east, counter-clockwise\n"
      "mark,east_m,north_m,level_m\n"
      "yard left,100.0000,201.0000,10.0000\n");
}

}  // namespace
}  // namespace skewback
