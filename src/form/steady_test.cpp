// The form answers loads steadily, and its arms hold together on plans with and without an eye.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/constants.hpp"
#include "form/flow.hpp"
#include "form/form.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

Brief four_legs() {
  Brief brief = sample::canopy();
  brief.plan = sample::star_plan({20, 100, 190, 285}, 7, 1.8, 1.8);
  brief.form.mesh_size_m = 0.25;
  return brief;
}
struct Case {
  const char* name;
  Brief (*brief)();
};
class Steady : public testing::TestWithParam<Case> {};
INSTANTIATE_TEST_SUITE_P(Plans, Steady,
                         testing::Values(Case{"wren_leat", sample::wren_leat},
                                         Case{"canopy", sample::canopy},
                                         Case{"four_legs", four_legs},
                                         Case{"six_legs", sample::six_legs}),
                         [](const auto& plan) { return std::string(plan.param.name); });

double largest_move(const Form& a, const Form& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.vertices.size(); ++i)
    most = std::max(most, (a.vertices[i] - b.vertices[i]).norm());
  return most;
}

TEST_P(Steady, OwnLoadsGiveTheSameFormAndOthersAlmost) {
  const Brief brief = sample::wishing(GetParam().brief());
  const auto first = find_form(brief);
  ASSERT_TRUE(first.ok()) << first.faults().front().found;
  const auto again = find_form(brief, first->load_n);
  ASSERT_TRUE(again.ok());
  EXPECT_LE(largest_move(*first, *again), 1e-3);
  std::vector<double> heavier =
      first->load_n;  // by a twentieth, more on one side than on the other
  for (std::size_t i = 0; i < heavier.size(); ++i)
    heavier[i] *= 1.05 + 0.002 * first->vertices[i].x();
  const auto other = find_form(brief, heavier);
  ASSERT_TRUE(other.ok());
  EXPECT_LE(largest_move(*first, *other), 8e-3);  // five legs of 8 m do not: 8.4 mm
  EXPECT_LE(other->residual_rel, 1e-10);
  double before = 0, asked = 0, carried = 0;
  for (std::size_t i = 0; i < heavier.size(); ++i) {
    before += first->load_n[i];
    asked += heavier[i];
    carried += other->load_n[i];
  }
  EXPECT_NEAR(carried, asked, 1e-9 * asked);
  EXPECT_NEAR(other->thrust_max_n / first->thrust_max_n, asked / before, 0.02);
}

// One arm a support, in one piece, phi 0 on its springing line; every border between arms starts at
// the eye or the meeting, and each pair of neighbours has one.
TEST_P(Steady, ArmsAreWholeAndBorderTheirNeighbours) {
  const Brief brief = sample::wishing(GetParam().brief());
  const Form form = find_form(brief).value();
  const auto sides = neighbours(form);
  const int supports = int(brief.plan.supports.size());
  std::set<std::pair<int, int>> borders;
  std::vector<int> pieces(supports, 0);
  std::vector<char> seen(form.triangles.size(), 0);
  for (std::size_t seed = 0; seed < seen.size(); ++seed) {
    if (seen[seed]) continue;
    ++pieces[form.arm[seed]];
    std::vector<int> stack{int(seed)};
    seen[seed] = 1;
    while (!stack.empty()) {
      const int t = stack.back();
      stack.pop_back();
      for (int s : sides[t]) {
        if (s < 0) continue;
        if (form.arm[s] != form.arm[t]) borders.insert(std::minmax(form.arm[s], form.arm[t]));
        if (form.arm[s] == form.arm[t] && !seen[s]) seen[s] = 1, stack.push_back(s);
      }
    }
  }
  for (int k = 0; k < supports; ++k) {
    EXPECT_EQ(pieces[k], 1) << "arm " << k;
    EXPECT_TRUE(borders.count(std::minmax(k, (k + 1) % supports))) << "arms " << k << " and next";
    const ArmQuality& arm = form.arms[k];
    EXPECT_LE(arm.angle_median_deg, 2) << k;
    EXPECT_LE(arm.angle_p90_deg, 15) << k;  // four legs without an eye: 14.4
    EXPECT_NEAR(arm.scale, 1, 0.15) << k;
  }
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int c = 0; c < 3; ++c)
      if (form.support_of[form.triangles[t][c]] == form.arm[t]) {
        ASSERT_EQ(form.phi[t][c], 0);
      }
}

}  // namespace
}  // namespace skewback
