#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "cut/cut.hpp"
#include "cut/sample_sound.hpp"
#include "form/spine_plans.hpp"

namespace skewback {
namespace {

struct Made {
  Brief brief;
  Body body;
  Cut cut;
};

Made made(double pad_m, double mass_max_kg, const sample::DoubleY& plan) {
  Made out;
  out.brief = sample::double_y_brief(plan);
  out.brief.blocks.mass_max_kg = mass_max_kg;
  out.brief.blocks.length_m = 0.5;
  out.brief.blocks.width_max_m = 1.2;
  out.brief.joints.friction = 0.6;
  out.brief.joints.pad_thickness_m = pad_m;
  const Result<Form> form = find_form(out.brief);
  EXPECT_TRUE(form.ok()) << describe(form.faults().front());
  const Result<Body> body = give_body(out.brief, *form);
  EXPECT_TRUE(body.ok()) << describe(body.faults().front());
  out.body = *body;
  const Result<Cut> cut = cut_blocks(out.brief, *body);
  EXPECT_TRUE(cut.ok()) << describe(cut.faults().front());
  out.cut = *cut;
  return out;
}

// Rings round the meetings.
const Made& ringed() {
  static const Made m = made(0.008, 500, {});
  return m;
}
// Keys in one piece, blocks that touch.
const Made& plain() {
  static const Made m = made(0, 2500, {7, 3.5, 55, 1.6, 1.2});
  return m;
}

class Spines : public testing::TestWithParam<bool> {
 protected:
  const Made& m = GetParam() ? ringed() : plain();
  const Assembly& assembly = m.cut.assembly;
};
INSTANTIATE_TEST_SUITE_P(Both, Spines, testing::Bool(),
                         [](const auto& test) { return test.param ? "ringed" : "plain"; });

TEST_P(Spines, BlocksAndPadsFillTheBodyOnce) {
  sample::expect_sound(m.cut, m.brief.blocks.mass_max_kg);
  double volume = 0;
  for (const Block& block : assembly.blocks)
    if (!block.fixed) volume += block.mass.volume;
  if (m.brief.joints.pad_thickness_m == 0)
    EXPECT_NEAR(volume, m.body.outer_volume_m3, 1e-9 * volume);
  else
    EXPECT_NEAR(volume + m.cut.report.pads_volume_m3, m.body.outer_volume_m3, 0.01 * volume);
}

// From free edge to free edge across the spine at x.
double width_of_plan(const Plan& plan, double x) {
  double sum = 0;
  for (std::size_t i = 0; i < plan.outline.size(); ++i) {
    const Vec2 &a = plan.outline[i], &b = plan.outline[(i + 1) % plan.outline.size()];
    if ((a.x() < x) == (b.x() < x)) continue;
    sum += std::abs(a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()));
  }
  return sum;
}

// Beds of the spine run from free edge to free edge, square to it: no joint along it but head
// joints, which stop at the next bed.
TEST_P(Spines, CoursesRunAcrossTheSpine) {
  const int supports = 4;
  std::map<std::pair<int, int>, std::pair<double, double>> width;  // of beds and of the plan there
  int beds = 0;
  for (const Joint& joint : assembly.joints) {
    const BlockPlace &a = assembly.blocks[static_cast<std::size_t>(joint.a)].place,
                     &b = assembly.blocks[static_cast<std::size_t>(joint.b)].place;
    if (a.arm < supports || a.crown || b.crown || a.course == b.course) continue;
    ++beds;
    EXPECT_EQ(a.arm, b.arm);
    EXPECT_EQ(a.course + 1, b.course) << "z points up the flow";
    EXPECT_GT(std::abs(joint.frame.z.x()), 0.9);
    EXPECT_LT(std::abs(joint.frame.z.y()), 0.02);
    EXPECT_GT(joint.frame.z.x() * (a.arm == 4 ? 1 : -1), 0.9);
    double low = 1e9, high = -1e9;
    for (const Region& r : joint.contact)
      for (const Vec2& p : r.outer) low = std::min(low, p.x()), high = std::max(high, p.x());
    width[{a.arm, a.course}].first += high - low;
    width[{a.arm, a.course}].second = width_of_plan(m.brief.plan, joint.frame.origin.x());
  }
  EXPECT_GE(beds, 4);
  for (const auto& [course, both] : width) EXPECT_NEAR(both.first, both.second, 0.03);
}

// From the springing up: every block has one below it and, but for the key in the middle, one
// above.
TEST_P(Spines, EveryBlockHasItsLowerAndItsUpperNeighbour) {
  std::vector<int> below(assembly.blocks.size(), 0), above(below);
  for (const Joint& joint : assembly.joints)
    for (const auto& [one, other] : {std::pair{joint.a, joint.b}, {joint.b, joint.a}}) {
      const Block &self = assembly.blocks[static_cast<std::size_t>(one)],
                  &next = assembly.blocks[static_cast<std::size_t>(other)];
      if (self.fixed || self.place.arm < 0) continue;
      if (next.fixed || lower(next.place, self.place))
        ++below[static_cast<std::size_t>(one)];
      else if (next.place.arm < 0 || next.place.arm == self.place.arm)
        above[static_cast<std::size_t>(one)] += next.place.course != self.place.course;
    }
  for (std::size_t i = 0; i < below.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || block.place.arm < 0) continue;
    EXPECT_GT(above[i], 0) << block.id;
    if (!block.place.crown) {
      EXPECT_GT(below[i], 0) << block.id;
    }
  }
  int last = 0;
  for (const Block& block : assembly.blocks)
    if (block.place.arm >= 0) last = std::max(last, block.place.course);
  for (const Block& block : assembly.blocks)
    if (block.id.starts_with("key") && !block.id.starts_with("key-a") &&
        !block.id.starts_with("key-b")) {
      EXPECT_EQ(block.place.course, last + 1);
      EXPECT_NEAR(block.mass.centroid.x(), 0, 0.05);
    }
}

// The key in the middle of the spine is about as long as the courses beside it.
TEST_P(Spines, KeyOfTheSpineIsACourseLikeTheOthers) {
  std::vector<double> lengths;
  double key = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    if (block.place.arm >= 4 && !block.place.crown) lengths.push_back(block.place.phi_length_max_m);
    if (block.place.arm < 0 && block.place.phi_length_max_m > 0)
      key = std::max(key, block.place.phi_length_max_m);
  }
  std::ranges::sort(lengths);
  ASSERT_FALSE(lengths.empty());
  EXPECT_GT(key, 0.6 * lengths[lengths.size() / 2]);
  EXPECT_LT(key, 1.4 * lengths[lengths.size() / 2]);
}

}  // namespace
}  // namespace skewback
