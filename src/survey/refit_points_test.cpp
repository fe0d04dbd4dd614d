#include <gtest/gtest.h>

#include "survey/finding.hpp"
#include "survey/marks_packed.hpp"
#include "survey/sample_refit.hpp"

namespace skewback {
namespace {

using sample::arch_case;
using sample::Case;
using sample::input;
using sample::refit_with;
using sample::shift;
using sample::surveyed;

PointFile bed_points(const Case& c, int block) {
  PointFile file;
  file.file = "points.csv";
  for (const Mark& mark : bed_marks(c.assembly)) {
    if (mark.of != c.assembly.blocks[static_cast<std::size_t>(block)].id) continue;
    file.points.push_back(
        {mark.name, mark.designed, 0.001, static_cast<int>(file.points.size()) + 2});
  }
  return file;
}

TEST(Refit, BlockWithPointsTooFewIsUnfit) {
  Case c = arch_case(0.008);
  c.brief.survey = surveyed(c.brief, "", {});
  PointFile file = bed_points(c, 3);
  ASSERT_GE(file.points.size(), 10U);
  file.points.resize(7);  // two of the second bed
  RefitInput in = input(c);
  in.points = &file;
  const Result<Refit> found = refit(in, {});
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->unfit.size(), 1U);
  EXPECT_NE(found->unfit[0].find("block " + c.assembly.blocks[3].id + ": "), std::string::npos);
  EXPECT_EQ(found->measure_again, found->unfit);
}

TEST(Refit, BlockInAnotherUnitIsRefused) {
  Case c = arch_case(0.008);
  c.brief.survey = surveyed(c.brief, "", {});
  PointFile file = bed_points(c, 3);
  for (MeasuredPoint& point : file.points) point.at *= 1000;
  RefitInput in = input(c);
  in.points = &file;
  const Result<Refit> found = refit(in, {});
  ASSERT_FALSE(found.ok());
  EXPECT_EQ(found.faults()[0].file, "points.csv");
  EXPECT_GE(found.faults()[0].line, 2);
  EXPECT_NE(found.faults()[0].found.find("millimetres"), std::string::npos);
}

// Every footing 20 mm east: so the blocks are to lie as well, and a block that lies as drawn does
// not. Where they are to be laid is on the list of marks.
TEST(Refit, BlocksInPlaceAreHeldToWhereTheyAreToLie) {
  Case c = arch_case();
  const Vec3 east(0.020, 0, 0);
  c.brief.survey = surveyed(c.brief, "", shift(east));
  PointFile file;
  const std::vector<Mark> drawn = setting_out(c.brief, c.assembly, nullptr);
  const std::string right = c.assembly.blocks[1].id, wrong = c.assembly.blocks[4].id;
  for (const Mark& mark : drawn) {
    if (mark.of == right) file.points.push_back({mark.name, mark.designed + east, 0.001, 1});
    if (mark.of == wrong) file.points.push_back({mark.name, mark.designed, 0.001, 1});
  }
  ASSERT_EQ(file.points.size(), 6U);
  RefitInput in = input(c);
  in.points = &file;
  const Result<Refit> found = refit(in, {});
  ASSERT_TRUE(found.ok());
  ASSERT_EQ(found->in_place.size(), 2U);
  EXPECT_FALSE(found->in_place[0].beyond);
  EXPECT_NEAR(found->in_place[0].off_m.norm(), 0, 1e-4);
  EXPECT_TRUE(found->in_place[1].far);
  EXPECT_NEAR((found->in_place[1].off_m + east).norm(), 0, 1e-4);
  ASSERT_EQ(found->unfit.size(), 1U);
  EXPECT_NE(found->unfit[0].find("block " + wrong + ", in place, "), std::string::npos);
  EXPECT_EQ(found->measure_again, found->unfit);
  const std::vector<Mark> packed = marks_as_packed(c.brief, c.assembly, nullptr, *found);
  ASSERT_EQ(packed.size(), drawn.size());
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    EXPECT_EQ(packed[i].name, drawn[i].name);
    EXPECT_NEAR((packed[i].designed - drawn[i].designed - east).norm(), 0, 1e-4) << drawn[i].name;
  }
}

// What a joint may take is less than any packing leaves: what was tried is said.
TEST(Refit, SaysThatFinerPackingWasTried) {
  Case c = arch_case(0.008);
  c.assembly.cases.resize(1);  // its own weight
  c.brief.survey = surveyed(c.brief, "", {});
  RefitInput in = input(c);
  in.drawn = prove_all(c.assembly);
  ASSERT_EQ(in.drawn[0].verdict, Verdict::kStands);
  in.limit_pa = [](const Joint&) { return 1.0; };
  const Result<Refit> found = refit(in, {});
  ASSERT_TRUE(found.ok());
  ASSERT_TRUE(found->key_goes_in);
  const auto said = std::ranges::find_if(found->remarks, [](const std::string& remark) {
    return remark.starts_with("tried, and joints are pressed beyond");
  });
  ASSERT_NE(said, found->remarks.end());
  // of half_mm: a quarter and half of 1 mm, a quarter of 0.5 mm
  EXPECT_NE(said->find("sheets of 0.25 and 0.50 mm in packing.stock with a packing.slack of 0.1"),
            std::string::npos)
      << *said;
}

TEST(MarksAsPacked, HeadsOfFeetWhereTheBlocksWantThem) {
  Case c = arch_case();
  Refit found = refit_with(c, "", {});
  Centring centring;
  Rib rib;
  rib.id = "R1";
  rib.place = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitZ(), -Vec3::UnitY()};
  rib.feet = {0};
  centring.ribs.push_back(rib);
  centring.feet.push_back({"R1-1", "R1", -1, {0, 0, 0}, {0, 0, 0.7}, 0.04, 0.02});
  found.feet.emplace();
  found.feet->feet.push_back({"R1-1", -0.008, -0.008, 0, 0, true});
  for (const Mark& mark : marks_as_packed(c.brief, c.assembly, &centring, found)) {
    if (mark.kind != MarkKind::kFoot) continue;
    const double head = 0.7 - 0.008 + c.brief.centring.settlement_m;
    EXPECT_NEAR(mark.designed.z(), mark.name == "R1-1 2" ? head : 0, 1e-12) << mark.name;
  }
}

TEST(MeasureAgain, FeetOutOfTheirPlacesWorstFirst) {
  const Assembly assembly = arch_case().assembly;
  Refit found;
  EXPECT_TRUE(measure_again(assembly, found, {}).empty());
  found.feet.emplace();
  for (int k = 1; k <= 6; ++k)
    found.feet->feet.push_back(
        {"R1-" + std::to_string(k), 0, 0, 0, 0, true, k == 1 ? 0.010 : 0.010 * k});
  const std::vector<std::string> again = measure_again(assembly, found, {});
  ASSERT_EQ(again.size(), 1U);
  EXPECT_TRUE(again[0].starts_with(
      "feet of the centring out of their places in plan: R1-6 by 60 mm, R1-5 by 50 mm, R1-4 by 40 "
      "mm, R1-3 by 30 mm and 1 more;"))
      << again[0];
}

}  // namespace
}  // namespace skewback
