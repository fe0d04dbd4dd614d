#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;

const std::string& wren_leat() {
  static const std::string text =
      with("post = \"120 mm\"\n", "", file_text(source("examples/wren-leat/brief.toml")));
  return text;
}

/// A line added under a table of the brief, at fault where it stands.
Bad line(const std::string& name, const std::string& table, const std::string& key,
         const std::string& value, const std::string& says) {
  return {name,  "[" + table + "]", "[" + table + "]\n" + key + " = " + value,
          value, table + "." + key, says};
}

class BadWorks : public ::testing::TestWithParam<Bad> {};
TEST_P(BadWorks, IsReportedWhereItStands) { expect_fault(GetParam(), wren_leat()); }

INSTANTIATE_TEST_SUITE_P(
    Each, BadWorks,
    ::testing::Values(
        line("straps_nearly_level", "transport", "strap_angle", "\"1 degree\"",
             "from 30 degrees to 90 degrees"),
        line("timber_stronger_than_tested", "centring", "k_mod", "1.99", "up to 1.1"),
        line("beds_like_glue", "transport", "bed_friction", "1.99", "up to 1"),
        Bad{"seats_like_glue", "friction = 0.3\n", "friction = 1.99\n", "1.99", "centring.friction",
            "from 0 to 1"},
        line("crane_in_the_sky", "lifting", "crane_level", "\"50 m\"",
             "within 30 m of a support's level"),
        line("crane_down_a_shaft", "lifting", "crane_level", "\"-45 m\"",
             "off the level of the nearest support"),
        Bad{"lorry_for_no_block", "lorry_load = \"8 t\"", "lorry_load = \"100 kg\"", "\"100 kg\"",
            "transport.lorry_load", "`blocks.mass_max` on its pallet at least, 475"},
        line("settles_past_its_travel", "centring", "settlement", "\"47 mm\"",
             "of settlement of a foot that goes down by 0.04 m"),
        Bad{"step_past_what_goes_down", "strike_step = \"0.5 mm\"", "strike_step = \"41 mm\"",
            "\"41 mm\"", "centring.strike_step", "no more than two thirds of centring.travel"},
        Bad{"sheets_of_veneer", "sheet_thickness = \"20.6 mm\"", "sheet_thickness = \"0.51 mm\"",
            "\"0.51 mm\"", "centring.sheet_thickness", "from 6 mm to 100 mm"},
        line("timber_sold_as_sticks", "centring", "stock_length", "\"330 mm\"",
             "from 0.5 m to 20 m"),
        line("sawn_by_an_axe", "centring", "saw_kerf", "\"40 mm\"", "from 0 mm to 20 mm"),
        line("posts_of_sticks", "centring", "post", "\"10 mm\"", "from 38 mm"),
        line("ribs_side_by_side", "centring", "rib_spacing", "\"10 mm\"", "from 0.15 m"),
        line("cross_ribs_side_by_side", "centring", "cross_spacing", "\"10 mm\"", "from 0.15 m"),
        line("laggings_thicker_than_ribs", "centring", "lagging_thickness", "\"500 mm\"",
             "from 6 mm to 150 mm"),
        line("laggings_of_wire", "centring", "lagging_width", "\"1 mm\"", "from 20 mm"),
        line("ribs_of_wire", "centring", "rib_depth", "\"10 mm\"", "from 0.05 m"),
        line("ribs_deeper_than_the_sheet", "centring", "rib_depth", "\"5 m\"",
             "less than the shorter side of the sheet it is cut from, 1.22 m"),
        line("sheets_for_no_rib", "centring", "sheet_length", "\"30 cm\"",
             "more than a rib's depth (centring.rib_depth)"),
        // cured for 7 days
        line("placed_before_it_is_off_the_table", "lifting", "site_age", "\"24 h\"",
             "1 days, and blocks leave the table after `print.curing` of 7 days"),
        Bad{"placed_younger_than_told_of_the_table", "[lifting]",
            "[lifting]\ntable_age = \"3 days\"\nsite_age = \"2 days\"", "\"2 days\"",
            "lifting.site_age", "leave the table after `lifting.table_age` of 3 days"}),
    [](const auto& test) { return test.param.name; });

Faults faults_with(const std::string& from, const std::string& to, const std::string& text) {
  const Result<Brief> brief = read_brief_text(with(from, to, text), "some.toml");
  return brief.ok() ? Faults{} : brief.faults();
}

Faults faults_of(const std::string& under, const std::string& lines,
                 const std::string& text = wren_leat()) {
  return faults_with(under, under + "\n" + lines, text);
}

TEST(BriefOfWorks, OneMistakeIsOneFault) {
  for (const char* lines : {"rib_depth = \"5 m\"", "rib_depth = \"2 m\"", "sheet_width = \"20 cm\"",
                            "sheet_length = \"20 cm\"\nsheet_width = \"20 cm\"",
                            "travel = \"0.3 mm\"", "travel = \"-6 m\"\nsettlement = \"45 mm\""}) {
    const Faults faults = faults_of("[centring]", lines);
    EXPECT_EQ(faults.size(), 1u) << lines << "\n" << all_of(faults);
  }
  EXPECT_EQ(faults_of("[lifting]", "table_age = \"-1 s\"\nsite_age = \"1 day\"").size(), 1u);
  const std::string light = with("lorry_load = \"8 t\"", "lorry_load = \"20 kg\"", wren_leat());
  EXPECT_EQ(faults_of("[spares]", "", light).size(), 1u);
}

TEST(BriefOfWorks, WhatIsOddButCanBeDoneIsTaken) {
  for (const auto& [under, lines] :
       {std::pair{"[centring]", "k_mod = 1.1\npost = \"38 mm\"\nsettlement = \"40 mm\""},
        {"[centring]", "rib_depth = \"1.19 m\""},
        {"[transport]", "strap_angle = \"30 degrees\"\nbed_friction = 0.6"},
        {"[lifting]", "site_age = \"7 days\"\ncrane_level = \"-12 m\""},
        {"[lifting]", "table_age = \"3 days\"\nsite_age = \"4 days\""}})
    EXPECT_EQ(all_of(faults_of(under, lines)), "") << lines;
}

// Blocks that are not printed are 28 days old in the yard unless the brief says otherwise.
TEST(BriefOfWorks, CastBlocksAreOldUnlessTold) {
  const auto with_lifting = [](const std::string& lines) {
    return faults_with("[centring]", "[lifting]\n" + lines + "\n[centring]", drovers_hop());
  };
  const Faults young = with_lifting("site_age = \"14 days\"");
  ASSERT_EQ(young.size(), 1u) << all_of(young);
  EXPECT_EQ(young.front().key, "lifting.site_age");
  EXPECT_THAT(young.front().found, testing::HasSubstr("28 days, as nothing is printed"));
  EXPECT_TRUE(with_lifting("site_age = \"14 days\"\ntable_age = \"12 days\"").empty());
}

}  // namespace
}  // namespace skewback
