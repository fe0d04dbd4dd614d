#include "loads/building.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "loads/actions.hpp"

namespace skewback {
namespace {

/// Two blocks side by side, 3 m by 2 m together, 0.5 m high, and a third that is not there yet.
Assembly three_blocks() {
  Assembly assembly;
  for (int i = 0; i < 3; ++i) {
    Block block;
    block.id = "b" + std::to_string(i);
    block.density = 2000;
    block.solid = box({1.5 * i, 0, 0}, {1.5 * (i + 1), 2, 0.5});
    assembly.blocks.push_back(block);
  }
  measure(assembly);
  return assembly;
}

Brief brief_of() {
  Brief brief;
  brief.plan.outline = {{0, 0}, {4.5, 0}, {4.5, 2}, {0, 2}};
  brief.plan.supports = {{"west", {0, 2}, {0, 0}, 0}, {"east", {4.5, 0}, {4.5, 2}, 0}};
  brief.loads.working_people_pa = 1e3;
  return brief;
}

Vec3 sum_of(const LoadCase& load) {
  Vec3 sum = Vec3::Zero();
  for (const LiveForce& f : load.live) sum += f.force;
  return sum;
}

Vec3 moment_of(const LoadCase& load) {
  Vec3 sum = Vec3::Zero();
  for (const LiveForce& f : load.live) sum += f.point.cross(f.force);
  return sum;
}

const std::vector<char> kTwoThere = {1, 1, 0};

// By hand: 1.5 x 1 kPa on 3 m x 2 m, halves of that at a quarter of the length or width.
TEST(BuildingLoads, PeopleOnWhatIsThereAndOnItsHalves) {
  const Brief brief = brief_of();
  const Assembly assembly = three_blocks();
  const auto cases = BuildingLoads(brief, assembly).on(kTwoThere);
  ASSERT_EQ(cases.size(), 5U);  // everywhere; towards, away, left, right
  EXPECT_NEAR(sum_of(cases[0].load).z(), -9e3, 1e-6);
  for (std::size_t i = 1; i < 5; ++i) {
    const Vec3 sum = sum_of(cases[i].load), moment = moment_of(cases[i].load);
    EXPECT_NEAR(sum.z(), -4.5e3, 1e-3) << cases[i].words;
    const double x = -moment.y() / sum.z(), y = moment.x() / sum.z();
    const bool along = cases[i].words.find("wards") != std::string::npos ||
                       cases[i].words.find("away") != std::string::npos;
    if (along) {
      EXPECT_NEAR(std::abs(x - 1.5), 0.75, 1e-3) << cases[i].words;
      EXPECT_NEAR(y, 1, 1e-3);
    } else {
      EXPECT_NEAR(std::abs(y - 1), 0.5, 1e-3) << cases[i].words;
      EXPECT_NEAR(x, 1.5, 1e-3);
    }
    for (const LiveForce& f : cases[i].load.live) EXPECT_LT(f.block, 2);
  }
}

// 1.5 x 2.4 x 0.5 x 1.25 x 12^2 Pa on 3 m x 0.5 m from the side, on 2 m x 0.5 m from the end.
TEST(BuildingLoads, TheWorkingWindPushesTheSidesOfWhatIsThere) {
  Brief brief = brief_of();
  brief.loads.working_wind_m_s = 12;
  const Assembly assembly = three_blocks();
  const auto cases = BuildingLoads(brief, assembly).on(kTwoThere);
  ASSERT_EQ(cases.size(), 13U);
  const auto named = [&](const std::string& id) {
    const auto it = std::ranges::find_if(cases, [&](const auto& c) { return c.load.id == id; });
    return it == cases.end() ? Vec3(0, 0, 0) : sum_of(it->load);
  };
  EXPECT_NEAR(named("wind to the north").y(), 1.5 * 2.4 * 90 * 1.5, 1e-6);
  EXPECT_NEAR(named("wind to the east").x(), 1.5 * 2.4 * 90 * 1.0, 1e-6);
  EXPECT_NEAR(named("wind to the east, people").z(), -9e3, 1e-6);
}

TEST(BuildingLoads, NoneWhereNothingIsAskedOrThere) {
  Brief brief = brief_of();
  const Assembly assembly = three_blocks();
  EXPECT_TRUE(BuildingLoads(brief, assembly).on({0, 0, 0}).empty());
  brief.loads.working_people_pa = 0;
  EXPECT_TRUE(BuildingLoads(brief, assembly).on({1, 1, 1}).empty());
}

}  // namespace
}  // namespace skewback
