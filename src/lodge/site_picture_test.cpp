#include "lodge/site_picture.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "daybook/sample_plan.hpp"

namespace skewback::lodge {
namespace {

using nlohmann::ordered_json;

Assembly measured_arch() {
  Assembly arch = sample::arch_assembly({});
  measure(arch);
  return arch;
}

double area_of(const ordered_json& rings) {
  double sum = 0;
  for (const ordered_json& ring : rings) {
    Polygon polygon;
    for (const ordered_json& p : ring) polygon.emplace_back(p[0].get<double>(), p[1].get<double>());
    sum += area(polygon);
  }
  return sum;
}

TEST(SitePicture, ShowsAsMuchOfEachBlockAsThereIs) {
  const Assembly arch = measured_arch();
  const ordered_json picture = picture_json(arch);
  EXPECT_EQ(picture.at("plan").size(), arch.blocks.size());
  ASSERT_EQ(picture.at("sides").size(), 1U);
  const ordered_json& side = picture.at("sides")[0].at("blocks");
  ASSERT_EQ(side.size(), arch.blocks.size());
  int seen = 0;
  for (const ordered_json& drawn : side)
    for (const Block& block : arch.blocks) {
      if (block.fixed || block.id != drawn.at("id")) continue;
      const double volume = block.mass.volume;  // the barrel is 1 m wide
      EXPECT_NEAR(area_of(drawn.at("rings")), volume, 0.01 * volume) << block.id;
      ++seen;
    }
  const std::string title = picture.at("sides")[0].at("title");
  EXPECT_TRUE(title.ends_with(" on the right") && title.find(" on the left, ") < title.size())
      << title;
  EXPECT_EQ(seen, sample::Arch{}.voussoirs);
  EXPECT_EQ(picture.dump(), picture_json(arch).dump());
}

TEST(SitePicture, LeavesOutOnlyPointsThatCannotBeSeen) {
  // a many-sided drum, seen from above
  Polygon drum;
  for (int i = 0; i < 720; ++i)
    drum.emplace_back(2 * std::cos(i * kPi / 360), 2 * std::sin(i * kPi / 360));
  Assembly one;
  one.blocks.emplace_back();
  one.blocks[0].id = "drum";
  one.blocks[0].solid = prism(Frame{}, drum, 0, 1);
  measure(one);
  const auto at = [&](double true_to_m) {
    return picture_json(one, true_to_m).at("plan")[0].at("rings");
  };
  const ordered_json fine = at(0.005), coarse = at(0.05);
  ASSERT_EQ(fine.size(), 1U);
  EXPECT_LT(fine[0].size(), 100U);
  EXPECT_GT(fine[0].size(), coarse[0].size());
  EXPECT_NEAR(area_of(fine), 4 * kPi, 0.005 * 4 * kPi);  // the rim is 4 pi long
  for (const ordered_json& p : fine[0])
    EXPECT_NEAR(std::hypot(p[0].get<double>(), p[1].get<double>()), 2, 0.001);
}

TEST(SitePicture, TellsOtherBlocksFromThoseOfThePlan) {
  const Assembly arch = measured_arch();
  DayPlan plan;
  for (const Block& block : arch.blocks) {
    if (block.fixed) continue;
    plan.blocks.push_back(sample::planned(block.id, static_cast<int>(plan.blocks.size()) + 1, {}));
    plan.blocks.back().centre = block.mass.centroid;
    plan.blocks.back().mass_kg = concrete_mass_kg(block);
  }
  EXPECT_TRUE(same_blocks(arch, plan));
  Assembly other = arch;
  other.blocks[0].density *= 1.01;
  EXPECT_FALSE(same_blocks(other, plan));
  other = arch;
  other.blocks[1].mass.centroid.x() += 0.002;
  EXPECT_FALSE(same_blocks(other, plan));
  other = arch;
  other.blocks[2].id = "another";
  EXPECT_FALSE(same_blocks(other, plan));
  plan.blocks.push_back(sample::planned("more", 99, {}));
  EXPECT_FALSE(same_blocks(arch, plan));
}

}  // namespace
}  // namespace skewback::lodge
