#include "works/depth_design.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>

namespace skewback {
namespace {

Brief drovers_hop() {
  Brief brief = read_brief(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples" / "drovers-hop" /
                           "brief.toml")
                    .value();
  brief.loads.motion = "never";
  return brief;
}

double depth_of(const Joint& joint) {
  double low = 1e300, high = -1e300;
  for (const Region& region : joint.contact)
    for (const Vec2& p : region.outer) low = std::min(low, p.y()), high = std::max(high, p.y());
  return high - low;
}

// Joints of a section of even depth become those of a tapered one: as deep as the taper says where
// they stand, and with the same middle.
TEST(DepthDesign, JointsAreRedrawnToTheTaper) {
  const Brief brief = drovers_hop();
  const Dossier run = run_works(brief, {0, "cut", false}, {}).value();
  const Assembly& assembly = run.cut->assembly;
  const std::vector<double> rise = rise_of_joints(*run.form, assembly);
  EXPECT_EQ(*std::min_element(rise.begin(), rise.end()), 0);
  EXPECT_GT(*std::max_element(rise.begin(), rise.end()), 0.9);
  const Assembly thin = redrawn(assembly, rise, brief.section, 0.14, 0.21);
  for (std::size_t j = 0; j < rise.size(); ++j) {
    const double share = (0.21 + (0.14 - 0.21) * rise[j]) / 0.28;
    EXPECT_NEAR(depth_of(thin.joints[j]), share * depth_of(assembly.joints[j]), 1e-9) << j;
  }
}

// What is found holds in a run of its own; a fifth less deep, something does not.
TEST(DepthDesign, FindsADepthThatHoldsAndIsNotWasteful) {
  Brief brief = drovers_hop();
  const DepthDesign design = depth_from_thrust(brief, {}, {}).value();
  ASSERT_TRUE(design.holds) << design.rows.back().fails;
  const auto passes = [&](double share) {
    brief.section.depth_crown_m = share * design.crown_m;
    brief.section.depth_springing_m = share * design.springing_m;
    const Dossier run = run_works(brief, {0, "stand", true}, {}).value();
    bool all = true;
    for (const RequiredCheck& check : run.required)
      if (check.name == "live_factor" || check.name == "geometric_safety" ||
          check.name == "combinations" || check.name == "joint_stress")
        all = all && check.passes.value_or(false);
    return all;
  };
  EXPECT_TRUE(passes(1));
  EXPECT_FALSE(passes(0.8));
}

// A smaller reserve asks for no more than a greater one, and what is found keeps the reserve.
TEST(DepthDesign, ASmallerReserveIsNeverDeeper) {
  double before = 0;
  for (const double reserve : {1.0, 1.3}) {
    DepthWish wish;
    wish.reserve = reserve;
    const DepthDesign design = depth_from_thrust(drovers_hop(), wish, {}).value();
    ASSERT_TRUE(design.holds) << design.rows.back().fails;
    EXPECT_LE(design.rows.back().patterns_need.value() * reserve, 1);
    EXPECT_GE(design.rows.back().mass_kg, before) << reserve;
    before = design.rows.back().mass_kg;
  }
}

TEST(DepthDesign, BoundsThatLeaveNothingAreRefused) {
  DepthWish wish;
  wish.least_m = 0.5;
  wish.greatest_m = 0.3;
  EXPECT_FALSE(depth_from_thrust(drovers_hop(), wish, {}).ok());
}

// Between bounds that no thrust asks about, the least depth is found and named.
TEST(DepthDesign, TheLeastDepthIsKept) {
  DepthWish wish;
  wish.least_m = wish.greatest_m = 0.4;
  const DepthDesign design = depth_from_thrust(drovers_hop(), wish, {}).value();
  EXPECT_DOUBLE_EQ(design.crown_m, 0.4);
  EXPECT_DOUBLE_EQ(design.springing_m, 0.4);
  EXPECT_EQ(design.ruled_by, "the least depth");
}

// A brief that asks for it is run at depths that hold, from wherever the search begins.
TEST(DepthDesign, ABriefThatAsksForItIsRunAtWhatWasFound) {
  std::vector<double> crowns;
  for (const double given : {0.28, 0.5}) {
    Brief brief = drovers_hop();
    brief.section.depth = kDepthFromThrust;
    brief.section.depth_crown_m = brief.section.depth_springing_m = given;
    const Dossier run = run_works(brief, {0, "stand", true}, {}).value();
    ASSERT_TRUE(run.depth_found);
    EXPECT_TRUE(run.depth_found->holds) << run.depth_found->fails;
    EXPECT_EQ(run.brief.section.depth, kDepthAsGiven);
    EXPECT_EQ(run.brief.section.depth_crown_m, run.depth_found->crown_m);
    EXPECT_EQ(run.brief.section.depth_springing_m, run.depth_found->springing_m);
    const double least = std::min(run.depth_found->crown_m, run.depth_found->springing_m);
    EXPECT_NEAR(run.body->thickness_min_m, least, 1e-3 * least);  // no vertex right on the crown
    for (const RequiredCheck& check : run.required)
      if (check.name == "live_factor" || check.name == "geometric_safety") {
        EXPECT_TRUE(check.passes.value_or(false)) << check.name;
      }
    crowns.push_back(run.depth_found->crown_m);
  }
  EXPECT_NEAR(crowns[0], crowns[1], 0.1 * crowns[0]);
}

}  // namespace
}  // namespace skewback
