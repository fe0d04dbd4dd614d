#include "deliver/gentler.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "access/sample_bridge.hpp"
#include "deliver/report_access.hpp"

namespace skewback::deliver {
namespace {

using ::testing::HasSubstr;
using Json = nlohmann::json;

GentlerStudy small_study() {  // made up by hand, to be found again in the files
  GentlerStudy study{"Little arch <A & B>", "EUR", 1.0 / 12, {}, {"a remark"}};
  GentlerRow back;
  back.rise_m = 1.5;
  back.gradient = 0.4;
  back.thrust_n = 80e3;
  back.carbon_kg = 2500;
  back.money = 12345.5;
  back.live_factor = 3.25;
  back.stands = back.holds = back.step_free = true;
  GentlerRow ramps = back;
  ramps.kind = DeckKind::kRamps;
  ramps.gradient = 1.0 / 12;
  ramps.gradient_met = true;
  ramps.approach_m = 12.5;
  ramps.thrust_n = 91e3;
  GentlerRow none;
  none.kind = DeckKind::kFrames;
  none.rise_m = 1.5;
  none.failed = "form: no answer, \"really\"";
  study.rows = {back, none, ramps};
  return study;
}

TEST(GentlerFiles, TableHasOneLineForEachRowAndItsReason) {
  const std::string csv = gentler_csv(small_study());
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 4);
  EXPECT_THAT(csv, HasSubstr("on the back,1.5000,0.40000,no,yes"));
  EXPECT_THAT(csv, HasSubstr("\"form: no answer, \"\"really\"\"\"\r\n"));
  // as many fields in the failed row as in the head
  const auto line = [&](int n) {
    std::size_t at = 0;
    for (int i = 0; i < n; ++i) at = csv.find("\r\n", at) + 2;
    return csv.substr(at, csv.find("\r\n", at) - at);
  };
  const auto commas = [](const std::string& s) { return std::count(s.begin(), s.end(), ','); };
  EXPECT_EQ(commas(line(0)), commas(line(1)));
  EXPECT_EQ(commas(line(0)), commas(line(2)) - 1) << "one comma is in the reason";
}

TEST(GentlerFiles, JsonHoldsTheFigures) {
  const Json json = Json::parse(gentler_json(small_study()));
  ASSERT_EQ(json["rows"].size(), 3U);
  EXPECT_EQ(json["rows"][0]["thrust_n"], 80e3);
  EXPECT_EQ(json["rows"][0]["money"], 12345.5);
  EXPECT_TRUE(json["rows"][0]["depth_needed_m"].is_null());
  EXPECT_TRUE(json["rows"][1].contains("failed"));
  EXPECT_FALSE(json["rows"][1].contains("thrust_n"));
  EXPECT_EQ(json["rows"][2]["deck"], "ramps");
}

TEST(GentlerFiles, SheetShowsPricesWhereThereAreAnyAndStaysOnThePaper) {
  const Sheet sheet = gentler_sheet(small_study(), {297, 165});
  const std::string text = svg(sheet);
  EXPECT_THAT(text, HasSubstr("EUR"));
  EXPECT_THAT(text, HasSubstr("1 variant without a structure"));
  EXPECT_THAT(text, HasSubstr("Little arch &lt;A &amp; B&gt;"));
  for (const auto& item : sheet.items) {
    if (const auto* words = std::get_if<Words>(&item)) {
      EXPECT_GE(words->at.x(), 0) << words->text;
      EXPECT_LE(words->at.x(), 297) << words->text;
      EXPECT_LE(words->at.y(), 165) << words->text;
    }
  }
  GentlerStudy unpriced = small_study();
  for (GentlerRow& row : unpriced.rows) row.money.reset();
  EXPECT_THAT(svg(gentler_sheet(unpriced, {297, 165})), HasSubstr("t CO2e"));
}

TEST(GentlerFiles, AreTheSameEveryTime) {
  EXPECT_EQ(svg(gentler_sheet(small_study(), {297, 165})),
            svg(gentler_sheet(small_study(), {297, 165})));
}

TEST(Pages, ARowOfATableHasACellForEachHead) {
  Pages pages("trial", 0);
  EXPECT_NO_THROW(pages.table({{"what", 1}, {"kg", 1}}, {{{"block", "7"}, {}}}));
  EXPECT_THROW(pages.table({{"what", 1}, {"kg", 1}}, {{{"block"}, {}}}), std::logic_error);
  EXPECT_THROW(pages.table({{"what", 1}}, {{{"block", "7"}, {}}}), std::logic_error);
}

TEST(AccessFiles, JsonHoldsFindingsAndParts) {
  Brief brief = sample::straight_brief(0, 12, 6, 1);
  brief.walkway.width_m = 1.4;
  brief.walkway.weight_pa = 600;
  const AccessReport access =
      judge_access(brief, sample::slices(sample::parabola(12, 1.5, 0.3), 1));
  const Json json = Json::parse(access_json(access).dump());
  EXPECT_EQ(json["complies"], false);
  EXPECT_EQ(json["gradient_max"], access.gradient_max);
  EXPECT_EQ(json["findings"].size(), access.findings.size());
  EXPECT_EQ(json["parts"].size(), access.parts.size());
  EXPECT_TRUE(json["findings"].back()["at"].is_null()) << "rails are everywhere";
  const std::string text = svg(access_sheet(brief, access, 180));
  EXPECT_THAT(text, HasSubstr("west to meeting"));
  Pages pages("walk", 0);
  add_access(pages, brief, access);
  EXPECT_GT(pages.finish().size(), 2000U);
}

}  // namespace
}  // namespace skewback::deliver
