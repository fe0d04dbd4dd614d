// Range of thrust of a plain arch against statics of its blocks.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "base/constants.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

Dossier drovers_hop(const char* until, bool walk_required = false) {
  Brief brief =
      read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml")
          .value();
  brief.access.required = walk_required;
  return run_works(brief, {0, until}, {}).value();
}

// By hand: half the arch about its springing. The crown's force is level, by symmetry; at the crown
// it lies somewhere in the depth d, at the springing somewhere in the bed. Middle to middle is a
// state (three hinges), the arch being thick enough round it; from the bed's bottom to the top of
// the crown, and from its top to the crown's bottom, are bounds no state can pass.
TEST(ThrustRanges, LieBetweenWhatHalfAnArchAllows) {
  const Dossier d = drovers_hop("ground");
  const Assembly& assembly = d.cut->assembly;
  ASSERT_EQ(d.ground->thrusts.size(), 4u);  // two feet, dead and full
  const Support& west = d.brief.plan.supports[0];
  const Vec3 foot((west.a.x() + west.b.x()) / 2, 0, west.level_m);
  double weight = 0, moment = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    const double share = std::abs(block.mass.centroid.x()) < 1e-3 ? 0.5
                         : block.mass.centroid.x() < 0            ? 1
                                                                  : 0;
    double m = mass_kg(block);
    weight += share * m * kGravity;
    const double arm = share == 0.5 ? -foot.x() : centre_of_gravity(block).x() - foot.x();
    moment += share * m * kGravity * arm;
  }
  ASSERT_GT(weight, 1e4);
  const double rise = d.brief.form.rise_m, depth = d.brief.section.depth_crown_m,
               bed = d.brief.section.depth_springing_m;
  for (const SpringingThrust& t : d.ground->thrusts) {
    ASSERT_TRUE(t.pads_n && t.least_n && t.greatest_n) << t.id;
    EXPECT_LT(*t.least_n, *t.pads_n) << t.id;
    EXPECT_GT(*t.greatest_n, *t.pads_n) << t.id;
    if (t.case_id != "dead") continue;
    EXPECT_LT(*t.least_n, moment / rise);
    EXPECT_GT(*t.greatest_n, moment / rise);
    // the bed leans: its ends are at most half its depth off, along the span and upright
    EXPECT_GT(*t.least_n, (moment - weight * bed / 2) / (rise + (depth + bed) / 2));
    EXPECT_LT(*t.greatest_n, (moment + weight * bed / 2) / (rise - (depth + bed) / 2));
    const auto other = std::ranges::find_if(d.ground->thrusts, [&](const SpringingThrust& o) {
      return o.case_id == "dead" && o.id != t.id;
    });
    EXPECT_NEAR(*other->least_n, *t.least_n, 1e-4 * *t.least_n);
    EXPECT_NEAR(*other->greatest_n, *t.greatest_n, 1e-4 * *t.greatest_n);
  }
}

TEST(UntilAccess, TheWalkThatWasLookedAtIsChecked) {
  const Dossier d = drovers_hop("access", true);
  const auto walk = std::ranges::find(d.required, "walk_complies", &RequiredCheck::name);
  ASSERT_NE(walk, d.required.end());
  ASSERT_TRUE(walk->passes.has_value()) << walk->note;
  EXPECT_EQ(*walk->passes, d.access->complies);
}

}  // namespace
}  // namespace skewback
