#include "deliver/labels.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "base/sha256.hpp"
#include "deliver/elevations.hpp"
#include "deliver/plan_file.hpp"
#include "deliver/sample_labels.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

const PlannedBlock& planned(const DayPlan& plan, const std::string& id) {
  const PlannedBlock* block = find_block(plan, id);
  EXPECT_NE(block, nullptr) << id;
  return *block;
}

TEST(PlanFile, NamesWhoMustBeInPlaceBefore) {
  const Dossier d = sample::dossier_on_site();
  const DayPlan plan = *day_plan(d);
  ASSERT_EQ(plan.blocks.size(), 7U);
  EXPECT_TRUE(planned(plan, "v1").needs.empty());
  EXPECT_THAT(planned(plan, "v1").joints, ElementsAre("ground-west", "v2"));
  EXPECT_THAT(planned(plan, "v2").needs, ElementsAre("v1"));
  EXPECT_THAT(planned(plan, "v6").needs, ElementsAre("v7"));
  EXPECT_THAT(planned(plan, "v4").needs, ElementsAre("v3", "v5"));
  EXPECT_EQ(plan.blocks.back().id, "v4");
  EXPECT_EQ(plan.assembly_sha256, sha256(write_assembly(d.cut->assembly)));
  EXPECT_EQ(plan.breakages.at(0).place, "place v3");
}

// Closed form: a voussoir of straight edges between radii 2.775 and 3.225 m over 180/7 degrees has
// the section sin(180/7) (3.225^2 - 2.775^2) / 2; beds are radial.
TEST(PlanFile, GivesMassAndSlopeOfTheBed) {
  const DayPlan plan = *day_plan(sample::dossier_on_site());
  const double section = std::sin(kPi / 7) * (3.225 * 3.225 - 2.775 * 2.775) / 2;
  for (const PlannedBlock& b : plan.blocks) EXPECT_NEAR(b.mass_kg, 2400 * section, 1e-6) << b.id;
  EXPECT_EQ(planned(plan, "v1").up, "back up; bedded on ground-west, bed sloping 0 degrees");
  EXPECT_EQ(planned(plan, "v2").up, "back up; bedded on v1, bed sloping 26 degrees");
  EXPECT_EQ(planned(plan, "v6").up, "back up; bedded on v7, bed sloping 26 degrees");
  EXPECT_EQ(planned(plan, "v3").up, "back up; bedded on v2, bed sloping 51 degrees");
}

// The key's joints slope by 3/7 of 180 degrees: nothing is under it.
TEST(PlanFile, AKeyIsHeldBetweenItsNeighbours) {
  Dossier d = sample::dossier_on_site();
  EXPECT_EQ(planned(*day_plan(d), "v4").up, "back up; held between v3 and v5");
  // of three legs: another upright joint, to the second block
  Joint third = d.cut->assembly.joints[3];
  (third.a == 3 ? third.b : third.a) = 1;
  d.cut->assembly.joints.push_back(third);
  EXPECT_EQ(planned(*day_plan(d), "v4").up, "back up; held between v3, v5 and v2");
  // the first of the two beside it: its other neighbour comes later
  std::ranges::iter_swap(std::ranges::find(d.programme->order, "v5"),
                         std::ranges::find(d.programme->order, "v4"));
  d.cut->assembly.joints.pop_back();
  EXPECT_EQ(planned(*day_plan(d), "v4").up, "back up; against v3, on its seats");
}

TEST(PlanFile, AddsUpHowLongABlockTakes) {
  Dossier d = sample::dossier_on_site();
  d.brief.print.curing_s = 5 * 86400;
  d.brief.transport.journey_s = Vec3(1, 2, 4) * 86400;
  const DayPlan plan = *day_plan(d);
  for (const PlannedBlock& b : plan.blocks) {
    const auto& prints = d.print->blocks;
    const auto it = std::ranges::find(prints, b.id, &BlockPrint::id);
    ASSERT_NE(it, prints.end());
    EXPECT_DOUBLE_EQ(b.journey_s, 2 * 86400);
    if (b.made == "printed")
      EXPECT_DOUBLE_EQ(b.lead_s(), it->time_s + 7 * 86400) << b.id;
    else
      EXPECT_DOUBLE_EQ(b.print_s, 0) << b.id;
  }
  EXPECT_TRUE(std::ranges::any_of(plan.blocks, [](const auto& b) { return b.made == "printed"; }));
  d.print.reset();
  EXPECT_EQ(day_plan(d)->blocks[0].made, "elsewhere");
  EXPECT_DOUBLE_EQ(day_plan(d)->blocks[0].lead_s(), 2 * 86400);
  d.again.emplace();
  d.again->printed = true;  // another of it is printed anew, cured and brought
  const PlannedBlock old = day_plan(d)->blocks[0];
  const auto& all = d.cut->assembly.blocks;
  const double volume_m3 = std::ranges::find(all, old.id, &Block::id)->mass.volume;
  EXPECT_EQ(old.made, "elsewhere");
  EXPECT_DOUBLE_EQ(old.lead_s(), volume_m3 / d.brief.print.flow_m3_s + 7 * 86400);
}

TEST(PlanFile, IsReadBackAsItWasWritten) {
  const std::string text = plan_json(sample::dossier_on_site());
  const auto plan = read_plan(text, "plan.json");
  ASSERT_TRUE(plan) << describe(plan.faults().front());
  EXPECT_EQ(write_plan(*plan), text);
  Dossier none = sample::small_dossier();
  EXPECT_EQ(plan_json(none), "");
  EXPECT_TRUE(labels(none).empty());
  EXPECT_EQ(labels_pdf(none, {}), "");
}

TEST(Labels, SayWhatTheBlockIsAndWhereItGoes) {
  const std::vector<Label> all = labels(sample::dossier_on_site());
  ASSERT_EQ(all.size(), 8U);  // v3 twice
  EXPECT_EQ(all[4].name, "v3");
  EXPECT_EQ(all[5].name, "v3/2");
  EXPECT_EQ(all[4].stands_on, "on v2");
  EXPECT_EQ(all[4].next, "then v4");
  EXPECT_EQ(all[4].order, "5th of 7 to be placed");
  EXPECT_EQ(all[7].stands_on, "on v3, v5");
  EXPECT_EQ(all[7].next, "last here");
  EXPECT_THAT(all[0].coded,
              testing::MatchesRegex("SKEWBACK2;little-arch;v1;1406 kg;1/7;on ground-west;"
                                    "then v2;[^;]+;[^;]*slings[^;]*;[0-9a-f]+"));
}

std::string words_of(const Sheet& sheet, Colour colour) {
  std::string all;
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<Words>(&item))
      if (words->colour.r == colour.r && words->colour.g == colour.g) all += words->text + "\n";
  return all;
}

TEST(Labels, SayInRedWhatSlingsAloneDoNotHold) {
  const Dossier d = sample::dossier_on_site();
  const auto plan = find_outlines(d).plan;
  const Colour red{190, 30, 30};
  int cradles = 0;
  for (const Label& label : labels(d)) {
    const Sheet sheet = label_sheet(label, "Little arch", d.cut->assembly, plan);
    const bool wanted = label.name == "v3" || label.name == "v3/2";
    cradles += wanted ? 1 : 0;
    EXPECT_EQ(words_of(sheet, red).find("CRADLE: slings do not hold it, nor do straps") !=
                  std::string::npos,
              wanted)
        << label.name;
    EXPECT_THAT(words_of(sheet, kBlack), HasSubstr("gusts under 9.8 m/s"));
    for (const auto& item : sheet.items)
      if (const auto* words = std::get_if<Words>(&item)) {
        EXPECT_LT(words->at.y(), sheet.height_mm) << words->text;
      }
  }
  EXPECT_EQ(cradles, 2);
}

TEST(Labels, SayHowHardAStrapIsDrawn) {
  Dossier d = sample::dossier_on_site();
  d.lifts->lifts[2].strap_n = 1849;
  EXPECT_EQ(labels(d)[4].cradle,
            "STRAP OVER EACH SLING, 1.8 kN by hand: slings alone do not hold it");
  EXPECT_EQ(labels(d)[3].cradle, "");
  const auto plan = read_plan(plan_json(d), "plan.json");
  ASSERT_TRUE(plan);
  ASSERT_NE(find_block(*plan, "v3"), nullptr);
  EXPECT_EQ(find_block(*plan, "v3")->strap_n, 1849);
}

TEST(PlanFile, SaysWhatHangsInACradleAndInWhatGust) {
  Dossier d = sample::dossier_on_site();
  const auto plan = read_plan(plan_json(d), "plan.json");
  ASSERT_TRUE(plan);
  for (const PlannedBlock& b : plan->blocks) {
    EXPECT_EQ(b.held_by, b.id == "v3" ? "cradle" : "slings") << b.id;
    EXPECT_EQ(b.wind_m_s, 9.84) << b.id;
  }
  d.lifts.reset();
  EXPECT_THAT(plan_json(d), HasSubstr("\"held_by\": null"));
  EXPECT_FALSE(read_plan(plan_json(d), "plan.json")->blocks[0].wind_m_s);
}

TEST(Labels, MeasureSlingsFromTheBed) {
  for (const Label& label : labels(sample::dossier_on_site())) {
    if (label.name == "v1" || label.name == "v2" || label.name == "v3") {
      EXPECT_THAT(label.lifting[0], HasSubstr("slings 300, 1000 mm from its bed; gusts"))
          << label.name;
    }
    EXPECT_EQ(label.lifting.back(),
              "2 legs, steepest 20 degrees off plumb, 12.3 kN a leg; hangs 11 degrees off");
  }
  Dossier d = sample::dossier_on_site();
  d.lifts.reset();
  EXPECT_THAT(labels(d)[0].lifting, ElementsAre(HasSubstr("none was computed")));
}

// The arch is one metre wide: slings 0.2 and 0.9 m in from one side of v2 are 0.1 and 0.8 from the
// other. Which is left is told by hand: whoever looks from the bed into the block, up the arch.
TEST(Labels, MeasureSlingsSideBySideFromTheLeft) {
  Dossier d = sample::dossier_on_site();
  const Assembly& assembly = d.cut->assembly;
  BlockLift& lift = d.lifts->lifts[1];
  const Joint& bed = assembly.joints[1];  // v1 below, z into v2
  const Vec3 left = -bed.frame.z.cross(bed.frame.y);
  double most = -HUGE_VAL;
  for (const Vec3& v : assembly.blocks[1].solid.vertices) most = std::max(most, v.dot(left));
  const Vec3 middle = assembly.blocks[1].mass.centroid;
  lift.slings.clear();
  for (const double in : {0.2, 0.9})
    lift.slings.push_back(middle + (most - in - middle.dot(left)) * left);
  for (const Label& label : labels(d))
    if (label.name == "v2") {
      EXPECT_THAT(label.lifting[0],
                  HasSubstr("slings 200, 900 mm from the left, seen from its bed; gusts"));
    }
}

// Wider than the bed, but a head joint: the block does not stand on it.
TEST(PlanFile, HeadJointsAreNoBeds) {
  Dossier d = sample::dossier_on_site();
  Assembly& assembly = d.cut->assembly;
  const std::vector<int> order = placing_order(assembly, *d.programme);
  for (int i = 0; i < 7; ++i) assembly.blocks[static_cast<std::size_t>(i)].place = {0, i + 1, 1};
  ASSERT_EQ(bed_joint(assembly, order, 1), 1);
  Joint head = assembly.joints[1];
  head.a = 0;
  for (Region& region : head.contact)
    for (Vec2& p : region.outer) p *= 2;
  assembly.blocks[0].place = {0, 2, 2};  // beside v2 in its course
  assembly.blocks[6].place = {0, 1, 1};
  assembly.joints.push_back(head);
  Joint under = assembly.joints[1];
  under.a = 6;
  assembly.joints[1] = under;
  EXPECT_EQ(bed_joint(assembly, order, 1), 1);
}

// ISO/IEC 18004: 17 + 4 version modules a side; a finder of 7 x 7 in three corners.
TEST(Labels, CodeHasTheSizeAndFindersOfTheStandard) {
  const auto rows = qr_modules("SKEWBACK2;little-arch;v1;1405 kg");
  ASSERT_GE(rows.size(), 21U);
  EXPECT_EQ((rows.size() - 17) % 4, 0U);
  const std::size_t far = rows.size() - 7;
  for (const auto& [y, x] : {std::pair<std::size_t, std::size_t>{0, 0}, {0, far}, {far, 0}})
    for (std::size_t i = 0; i < 7; ++i)
      for (std::size_t j = 0; j < 7; ++j) {
        const std::size_t ring = std::min({i, j, 6 - i, 6 - j});
        EXPECT_EQ(rows[y + i][x + j], ring != 1);
      }
  EXPECT_TRUE(qr_modules(std::string(5000, 'x')).empty());
}

TEST(Labels, AreTheSameBytesEveryTime) {
  const Dossier d = sample::dossier_on_site();
  const auto plan = find_outlines(d).plan;
  const std::string pdf = labels_pdf(d, plan);
  EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
  EXPECT_EQ(pdf, labels_pdf(d, plan));
}

}  // namespace
}  // namespace skewback::deliver
