#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "deliver/haul_sheets.hpp"
#include "deliver/report_haul.hpp"
#include "erect/sample_slab.hpp"

namespace skewback::deliver {
namespace {

struct Planned {
  Brief brief = sample::handling_brief();
  Assembly assembly;
  LiftPlan lifts;
  Transport transport;
};

Planned planned() {
  Planned p;
  p.brief.lifting.crane = Vec2(0, 6);
  p.brief.lifting.chart = {{4, 3000}, {7, 1500}};
  p.assembly = sample::slabs({sample::slab("west-1", {2.2, 0.4, 0.3}, 0.1, {0, 0, 1}),
                              sample::slab("east-1", {0.8, 0.4, 0.3}, 0, {0, -3, 1})});
  const Programme programme = sample::in_turn(p.assembly);
  p.lifts = plan_lifts(p.brief, p.assembly, programme, nullptr);
  p.transport = plan_transport(p.brief, p.assembly, programme, nullptr);
  return p;
}

TEST(Haul, TablesHaveARowABlock) {
  const Planned p = planned();
  for (const std::string& csv : {lifts_csv(p.lifts), pallets_csv(p.transport)}) {
    EXPECT_EQ(std::ranges::count(csv, '\n'), 3) << csv;
    EXPECT_NE(csv.find("west-1"), std::string::npos);
    EXPECT_NE(csv.find("east-1"), std::string::npos);
  }
}

TEST(Haul, SaysWhereASlingIsPinched) {
  Planned p = planned();
  EXPECT_TRUE(lifting_json(p.lifts)["lifts"][0]["sling_over_seat"].is_null());
  p.lifts.lifts[0].sling_over_seat = true;
  p.lifts.lifts[1].sling_over_seat = false;
  const nlohmann::ordered_json json = lifting_json(p.lifts);
  EXPECT_EQ(json["lifts"][0]["sling_over_seat"], true);
  EXPECT_EQ(json["lifts"][1]["sling_over_seat"], false);
  const std::string csv = lifts_csv(p.lifts);
  EXPECT_NE(csv.find(",strap_n,sling_over_seat,layer_tension_pa,"), std::string::npos);
  EXPECT_NE(csv.find(",slings,0,yes,"), std::string::npos) << csv;
  EXPECT_NE(csv.find(",slings,0,no,"), std::string::npos) << csv;
}

TEST(Haul, ALiftBeyondTheChartHasNoShareInJson) {
  const Planned p = planned();
  const nlohmann::ordered_json json = lifting_json(p.lifts);
  EXPECT_TRUE(json["lifts"][0]["crane_share"].is_number());
  EXPECT_TRUE(json["lifts"][1]["crane_share"].is_null()) << "9 m away, chart ends at 7";
  EXPECT_TRUE(json["utilisation"].is_null());
  EXPECT_EQ(transport_json(p.transport)["lorries"].size(), p.transport.lorries.size());
}

// The chart ends at 7 m: the second block, 9 m from the first stand, is lifted from the other.
TEST(Haul, ReachSaysWhichStandLiftsABlock) {
  Planned p = planned();
  EXPECT_EQ(svg(lift_plan_sheet(p.brief, p.assembly, p.lifts, 297)).find(" II"), std::string::npos);
  p.brief.lifting.second_stand = Vec2(0, -6);
  p.lifts = plan_lifts(p.brief, p.assembly, sample::in_turn(p.assembly), nullptr);
  const std::string plan = svg(lift_plan_sheet(p.brief, p.assembly, p.lifts, 297));
  EXPECT_NE(plan.find(">2 II<"), std::string::npos);
  EXPECT_NE(plan.find(">1<"), std::string::npos);
}

TEST(Haul, SheetsNameWhatTheyShow) {
  const Planned p = planned();
  const std::string plan = svg(lift_plan_sheet(p.brief, p.assembly, p.lifts, 297));
  EXPECT_NE(plan.find("4.0 m: 3000 kg"), std::string::npos);
  const int hardest = hardest_lift(p.lifts);
  ASSERT_EQ(hardest, 0) << "the longer one";
  EXPECT_NE(svg(hanging_sheet(p.brief, p.assembly, p.lifts.lifts[0], 297)).find("west-1"),
            std::string::npos);
  const std::string lorry = svg(lorry_sheet(p.brief, p.assembly, p.transport, 0, 297));
  for (const char* name : {"P1", "P2", "west-1", "east-1"})
    EXPECT_NE(lorry.find(name), std::string::npos) << name;
}

std::string all_words(const Sheet& sheet) {
  std::string all;
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<Words>(&item)) all += words->text + "\n";
  return all;
}

/// What words take of the sheet, about.
Extent room_of(const Words& words) {
  const Vec2 room(0.55 * words.size_mm * static_cast<double>(words.text.size()),
                  0.7 * words.size_mm);
  const double back = words.anchor == Anchor::kStart    ? 0
                      : words.anchor == Anchor::kMiddle ? room.x() / 2
                                                        : room.x();
  const Vec2 low = words.at - Vec2(back, room.y());
  return {low, low + room};
}

bool meet(const Extent& a, const Extent& b) {
  return a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
         b.low.y() < a.high.y();
}

// Two stands 1.6 m apart and the lorry beside them: each circle says whose it is, in a colour of
// its stand's, and no name lies on another nor on a stand.
TEST(Haul, CirclesOfTwoStandsAreToldApart) {
  Planned p = planned();
  p.brief.lifting.second_stand = Vec2(1.6, 6);
  p.brief.lifting.lorry = Vec2(0.6, 4.8);
  p.brief.lifting.chart = {{4, 3000}, {5, 2500}, {6, 2000}, {7, 1500}};
  p.lifts = plan_lifts(p.brief, p.assembly, sample::in_turn(p.assembly), nullptr);
  const Sheet sheet = lift_plan_sheet(p.brief, p.assembly, p.lifts, 297);
  std::vector<const Words*> names;
  std::vector<Extent> taken;
  for (const auto& item : sheet.items) {
    if (const auto* words = std::get_if<Words>(&item))
      if (words->text.ends_with(" kg") || words->text.find("stand") != std::string::npos ||
          words->text == "lorry")
        if (words->size_mm < 3 && words->text.size() < 40) names.push_back(words);
    const auto* shape = std::get_if<Shape>(&item);  // the discs of stands are white
    if (shape == nullptr || !shape->pen.fill || shape->pen.fill->r != 255 ||
        shape->pen.width_mm != 0.5)
      continue;
    Extent disc;
    for (const Vec2& point : shape->rings.front()) disc.add(point);
    const Vec2 in = 0.15 * disc.size();  // the square in the disc
    taken.push_back({disc.low + in, disc.high - in});
  }
  EXPECT_EQ(taken.size(), 3U);
  ASSERT_EQ(names.size(), 11U) << all_words(sheet);
  Colour first, second;
  for (const Words* words : names) {
    if (words->text == "I, 4.0 m: 3000 kg") first = words->colour;
    if (words->text == "II, 4.0 m: 3000 kg") second = words->colour;
    for (const Extent& other : taken)
      EXPECT_FALSE(meet(room_of(*words), other)) << words->text << "\n" << all_words(sheet);
    taken.push_back(room_of(*words));
  }
  EXPECT_NE(first.g, second.g);
  EXPECT_NE(all_words(sheet).find("II: second stand"), std::string::npos);
}

/// One lorry with two loads: first west-1 on bearers of its own, then a pallet with two blocks.
Planned three_blocks() {
  Planned p = planned();
  p.assembly = sample::slabs({sample::slab("west-1", {2.2, 0.4, 0.3}, 0, {0, 0, 1}),
                              sample::slab("east-1", {0.8, 0.4, 0.3}, 0, {0, -3, 1}),
                              sample::slab("east-2", {0.8, 0.4, 0.3}, 0, {0, -6, 1})});
  p.transport = plan_transport(p.brief, p.assembly, sample::in_turn(p.assembly), nullptr);
  return p;
}

// By hand: 2.2 x 0.4 x 0.3 m at 2400 kg/m3 are 633.6 kg, 230.4 kg each of the shorter ones; a
// slab's centre of gravity is over the middle, and half its height above bearers of 0.1 m.
TEST(Haul, EveryPalletIsDrawnOnceWithMassSupportsCentreAndTurn) {
  const Planned p = three_blocks();
  ASSERT_EQ(p.transport.pallets.size(), 2U);
  const std::vector<Sheet> sheets = pallet_sheets(p.brief, p.assembly, p.transport, 287, 200);
  ASSERT_EQ(sheets.size(), 1U);
  EXPECT_EQ(sheets[0].title, "Pallets and loads P1 to P2");
  const std::string all = all_words(sheets[0]);
  for (const char* words : {"P1\n", "P2\n", ", 1st of 2 off", ", 2nd of 2 off", "1  west-1, 634 kg",
                            "2  east-1, 230 kg", "3  east-2, 230 kg", "on bearers of its own",
                            "m from the ", "Centre of gravity over the middle, 0.25 m high"})
    EXPECT_NE(all.find(words), std::string::npos) << words << "\n" << all;
  std::string unbroken = all;
  std::ranges::replace(unbroken, '\n', ' ');
  for (const char* words :
       {"m from the left end of the pallet", "m from the left end of the block"})
    EXPECT_NE(unbroken.find(words), std::string::npos) << unbroken;
  EXPECT_LE(sheets[0].height_mm, 200);
}

// Two slabs side by side, longer up the sheet than across it: across, each name would run into the
// other's block.
TEST(Haul, NamesLieAlongTheirBlocks) {
  Planned p = three_blocks();
  const auto turned = [&] {
    std::vector<double> out;
    for (const Sheet& sheet : pallet_sheets(p.brief, p.assembly, p.transport, 287, 200))
      for (const auto& item : sheet.items)
        if (const auto* words = std::get_if<Words>(&item))
          if (words->anchor == Anchor::kMiddle && words->text.find("-1") != std::string::npos)
            out.push_back(words->turn_deg);
    return out;
  };
  ASSERT_EQ(turned().size(), 2U);
  EXPECT_EQ(turned(), std::vector<double>(2, 0));  // lengths along x
  for (Pallet& pallet : p.transport.pallets)
    for (BeddedBlock& block : pallet.blocks) {
      Mat3 quarter;
      quarter << 0, -1, 0, 1, 0, 0, 0, 0, 1;
      block.to_pallet = {quarter * block.to_pallet.R, quarter * block.to_pallet.t};
    }
  EXPECT_EQ(turned(), std::vector<double>(2, -90));
}

// The daybook and the label call it by another name.
TEST(Haul, APalletWithASpareSaysWhatAgainIs) {
  Planned p = three_blocks();
  const auto words = [&] {
    return all_words(pallet_sheets(p.brief, p.assembly, p.transport, 287, 200).at(0));
  };
  const std::string said = "copy 2 in the daybook";
  EXPECT_EQ(words().find(said), std::string::npos);
  p.transport.pallets.back().blocks.back().spare = true;
  EXPECT_NE(words().find(said), std::string::npos) << words();
}

TEST(Haul, NothingOfAPalletIsOffItsSheet) {
  Planned p = three_blocks();
  const Pallet one = p.transport.pallets.front();
  for (int i = 3; i <= 9; ++i) {
    p.transport.pallets.push_back(one);
    p.transport.pallets.back().id = "P" + std::to_string(i);
  }
  for (const double width : {174.0, 287.0}) {
    const std::vector<Sheet> sheets = pallet_sheets(p.brief, p.assembly, p.transport, width, 200);
    std::string all;
    for (const Sheet& sheet : sheets) {
      all += all_words(sheet);
      for (const auto& item : sheet.items)
        if (const auto* words = std::get_if<Words>(&item)) {
          const double wide = 0.56 * words->size_mm * static_cast<double>(words->text.size());
          EXPECT_LE(words->at.y(), sheet.height_mm) << words->text;
          if (words->anchor == Anchor::kStart) {
            EXPECT_LE(words->at.x() + wide, width) << words->text;
          }
        }
      for (const auto& item : sheet.items)
        if (const auto* shape = std::get_if<Shape>(&item))
          for (const auto& ring : shape->rings)
            for (const Vec2& at : ring) {
              EXPECT_GE(at.x(), 0);
              EXPECT_LE(at.x(), width);
              EXPECT_LE(at.y(), sheet.height_mm);
            }
    }
    for (int i = 1; i <= 9; ++i)
      EXPECT_NE(all.find("P" + std::to_string(i) + "\n"), std::string::npos) << i;
  }
}

double lowest_words(const Sheet& sheet) {
  double y = 0;
  for (const auto& item : sheet.items)
    if (const auto* words = std::get_if<Words>(&item)) y = std::max(y, words->at.y());
  return y;
}

TEST(Haul, TwoLorriesGoOnAPage) {
  const Planned p = planned();
  const Sheet small = lorry_sheet(p.brief, p.assembly, p.transport, 0, 174, 118);
  EXPECT_LE(small.height_mm, 118);
  EXPECT_LE(lowest_words(small), small.height_mm);
}

// A letter is taken 0.6 em wide, a little more than the mean.
TEST(Haul, NothingOfALorryIsCutOffOrRunsIntoTheNextColumn) {
  Planned p = planned();
  for (Pallet& pallet : p.transport.pallets)
    for (BeddedBlock& block : pallet.blocks)
      block.words = "on the bed it is printed on, " + block.id;
  const Sheet sheet = lorry_sheet(p.brief, p.assembly, p.transport, 0, 174);
  EXPECT_LE(lowest_words(sheet), sheet.height_mm);
  std::string all;
  for (const auto& item : sheet.items) {
    const auto* words = std::get_if<Words>(&item);
    if (words == nullptr) continue;
    all += words->text + " ";
    if (words->anchor != Anchor::kStart) continue;
    const double wide = 0.6 * words->size_mm * static_cast<double>(words->text.size());
    EXPECT_LE(words->at.x() + wide, 174) << words->text;
    if (words->text.starts_with("P1:")) {
      EXPECT_LE(words->at.x() + wide, 174 / 2) << words->text;
    }
  }
  EXPECT_NE(all.find("numbered as they are needed, the first on the right."), std::string::npos)
      << all;
}

TEST(Haul, GustsAreTheLeastAndTheGreatestOfTheBlocks) {
  LiftPlan plan;
  EXPECT_EQ(gusts_in_words(plan), "");
  for (const double gust : {5.0, 3.1, 8.8}) {
    BlockLift& lift = plan.lifts.emplace_back();
    lift.id = "v" + std::to_string(plan.lifts.size());
    lift.wind_m_s = gust;
  }
  EXPECT_NE(gusts_in_words(plan).find("from 3.1 m/s (v2) to 8.8 m/s (v3)"), std::string::npos);
  plan.lifts.resize(1);
  EXPECT_EQ(gusts_in_words(plan), ": 5.0 m/s");
}

TEST(Haul, TheFirstSentenceTellsOfCradlesAndOfTheLowestGust) {
  LiftPlan plan;
  EXPECT_EQ(lifting_summary(plan), "0 lifts.");
  for (const double gust : {5.0, 3.1, 4.0}) {
    BlockLift lift;
    lift.id = "b" + std::to_string(plan.lifts.size() + 1);
    lift.wind_m_s = gust;
    lift.utilisation = plan.utilisation = 0.5;
    plan.lifts.push_back(lift);
  }
  EXPECT_NE(lifting_summary(plan).find("3 lifts, all held by slings alone"), std::string::npos);
  plan.lifts[0].cradle = plan.lifts[2].cradle = true;
  const std::string text = lifting_summary(plan);
  EXPECT_EQ(text.find("3 lifts, 2 of them not held by slings alone"), 0U) << text;
  EXPECT_NE(text.find("3.1 m/s for b2"), std::string::npos) << text;
  EXPECT_LT(text.find("3.1 m/s"), text.find("every check is met")) << text;
  plan.lifts[0].strap_n = 1500;
  plan.lifts[2].strap_n = 2300;
  EXPECT_NE(lifting_summary(plan).find(
                "2 of them with a strap drawn over each sling, by hand to up to 2.30 kN"),
            std::string::npos)
      << lifting_summary(plan);
}

TEST(Haul, ThePagesAreTheSameEveryTime) {
  const Planned p = planned();
  const auto pages = [&] {
    Pages out("t", 0);
    add_lifting(out, p.brief, p.assembly, p.lifts);
    add_transport(out, p.brief, p.assembly, p.transport);
    return out.finish();
  };
  EXPECT_EQ(pages(), pages());
}

}  // namespace
}  // namespace skewback::deliver
