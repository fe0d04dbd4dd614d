#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;

class BadTogether : public ::testing::TestWithParam<Bad> {};

TEST_P(BadTogether, IsReportedWhereItStands) { expect_fault(GetParam()); }

TEST(Depths, PlatesNoThickerThanTheirPads) {
  expect_fault({"plates", "depth_crown = \"280 mm\"", "depth_crown = \"15 mm\"", "\"15 mm\"",
                "section.depth_crown", "over twice the thickness of a pad"},
               with("friction = 0.6", "friction = 0.6\npad_thickness = \"8 mm\"", drovers_hop()));
}

INSTANTIATE_TEST_SUITE_P(
    Each, BadTogether,
    ::testing::Values(
        Bad{"leaves_fill_depth", "hollow = false", "hollow = true\nleaf = \"140 mm\"", "\"280 mm\"",
            "section.depth_crown", "no more than two leaves of 0.14 m"},
        Bad{"a_wall", "depth_springing = \"280 mm\"", "depth_springing = \"3.5 m\"", "\"3.5 m\"",
            "section.depth_springing", "at most a third"},
        Bad{"webs_touch", "hollow = false", "hollow = true\nweb_spacing = \"45 mm\"", "\"45 mm\"",
            "section.web_spacing", "greater than the web"},
        Bad{"length_and_count", "count = 23", "count = 23\nlength = \"0.4 m\"", "23\n",
            "blocks.count", "both `length` and `count`"},
        Bad{"neither_length_nor_count", "count = 23", "", "[blocks]", "blocks", "neither"},
        Bad{"tie_to_nowhere", "to = \"east\"", "to = \"eats\"", "\"eats\"", "ground.tie[1].to",
            "did you mean \"east\"?"},
        Bad{"tie_over_the_springing", "level = \"-0.3 m\"", "level = \"0.15 m\"", "\"0.15 m\"",
            "ground.tie[1].level", "above the springing"},
        Bad{"tie_under_the_footing", "level = \"-0.3 m\"", "level = \"-0.75 m\"", "\"-0.75 m\"",
            "ground.tie[1].level", "below the footing"},
        Bad{"tie_under_the_higher_footing", "level = \"0 m\"", "level = \"0.3 m\"", "\"-0.3 m\"",
            "ground.tie[1].level", "below the footing of \"west\", whose underside is at -0.2 m"},
        // 1.9 m of springing and 0.825 m beyond each end
        Bad{"rods_beside_the_footing", "spacing = \"1.2 m\"", "spacing = \"3.56 m\"", "\"3.56 m\"",
            "ground.tie[1].spacing", "at most 3.55 m"},
        Bad{"soil_over_the_springing", "[soil]", "[soil]\ncover = \"0.51 m\"", "\"0.51 m\"",
            "soil.cover", "at most 0.5 m"},
        Bad{"heavy_lighter_than_light", "[soil]", "[factors]\ndead_high = 0.9\n[soil]", "0.9\n",
            "factors.dead_high", "no less than `dead_low`"},
        Bad{"no_weight", "[soil]", "[factors]\ndead_high = 0\ndead_low = 0\n[soil]", "0\ndead_low",
            "factors.dead_high", "over 0"},
        Bad{"tie_to_itself", "to = \"east\"", "to = \"west\"", "", "ground.tie[1].to", "to itself"},
        Bad{"rods_in_one_place", "spacing = \"1.2 m\"", "spacing = \"0 m\"", "",
            "ground.tie[1].spacing", "in one place"},
        Bad{"no_walkway", "width = \"1.5 m\"", "width = \"0 m\"", "\"0 m\"\nweight",
            "walkway.width", "has no width"},
        Bad{"walk_outside", "[[[\"-4.5 m\", \"0 m\"]", "[[[\"-5 m\", \"0 m\"]", "[\"-5 m\"",
            "walkway.lines[1][1]", "0.5 m outside"},
        Bad{"fine_mesh", "mesh_size = \"0.2 m\"", "mesh_size = \"10 mm\"", "\"10 mm\"",
            "form.mesh_size", "points"},
        Bad{"drained_soil_of_nothing", "friction_angle = \"32 degrees\"", "", "\"drained\"",
            "soil.kind", "some strength"},
        Bad{"undrained_soil_of_nothing", "kind = \"drained\"",
            "kind = \"undrained\"\nundrained_strength = \"0 kPa\"", "\"0 kPa\"",
            "soil.undrained_strength", "some undrained strength"},
        Bad{"critical_angle_over_the_peak", "friction_angle_critical = \"30 degrees\"",
            "friction_angle_critical = \"33 degrees\"", "\"33 degrees\"",
            "soil.friction_angle_critical", "no more than `friction_angle`"},
        Bad{"ramps_steeper_than_allowed", "[access]", "[access]\nramp_from = 0.1", "0.1\n",
            "access.ramp_from", "`ramp_from` no more than `gradient_max`"},
        Bad{"lorry_without_a_crane", "[soil]", "[lifting]\nlorry = [\"3 m\", \"12 m\"]\n[soil]",
            "[\"3 m\"", "lifting.lorry", "where the crane stands first"},
        Bad{"weekday_unknown", "[soil]", "[programme]\nweek = [\"mon\", \"fry\"]\n[soil]",
            "\"fry\"", "programme.week[2]", "each once"},
        Bad{"weekday_twice", "[soil]", "[programme]\nweek = [\"mon\", \"mon\"]\n[soil]",
            "\"mon\", \"mon\"", "programme.week[1]", "each once"},
        Bad{"no_such_holiday", "[soil]", "[programme]\nholidays = [\"2027-02-29\"]\n[soil]",
            "\"2027-02-29\"", "programme.holidays[1]", "a date, year-month-day"},
        Bad{"blocks_of_pads", "count = 23\n\n[joints]\nfriction = 0.6",
            "length = \"8 mm\"\n\n[joints]\nfriction = 0.6\npad_thickness = \"8 mm\"", "\"8 mm\"",
            "blocks.length", "longer than a pad is thick"},
        Bad{"crumbs", "mass_max = \"700 kg\"", "mass_max = \"1 kg\"", "\"1 kg\"", "blocks.mass_max",
            "at most 5000 blocks"},
        Bad{"slices_between_pads", "count = 23\n\n[joints]\nfriction = 0.6",
            "count = 23\nwidth_max = \"15 mm\"\n\n[joints]\nfriction = 0.6\npad_thickness = \"8 "
            "mm\"",
            "\"15 mm\"", "blocks.width_max", "over twice the thickness of a pad"},
        Bad{"upstands_over_the_edge", "inset = \"0.1 m\"",
            "inset = \"20 mm\"\nworking = [\"west\"]\nupstand_height = \"250 mm\"\n"
            "upstand_width = \"120 mm\"",
            "\"20 mm\"", "parapet.inset", "at least half their width"},
        Bad{"holiday_in_another_order", "[soil]",
            "[programme]\nholidays = [\"26.03.2027\"]\n[soil]", "\"26.03.2027\"",
            "programme.holidays[1]", "such as [\"2027-03-26\""},
        Bad{"journey_of_two", "[soil]", "[transport]\njourney = [\"1 day\", \"2 day\"]\n[soil]",
            "[\"1 day\"", "transport.journey", "a list of 3, such as [\"1 day\""},
        Bad{"steps_longer_than_a_foot_goes", "strike_step = \"0.4 mm\"",
            "strike_step = \"900 mm\"\ntravel = \"50 mm\"", "\"900 mm\"", "centring.strike_step",
            "of a foot that goes down by 0.0333 m"},
        Bad{"ground_over_the_bridge", "[centring]", "[centring]\nground_level = \"5 m\"", "\"5 m\"",
            "centring.ground_level", "whose top is near 1.8 m"},
        Bad{"ground_a_mine_deep", "[centring]", "[centring]\nground_level = \"-900 m\"",
            "\"-900 m\"", "centring.ground_level", "no more than 50 m under"},
        Bad{"pallets_longer_than_the_lorry", "[soil]",
            "[transport]\nlorry_length = \"1.05 m\"\n[soil]", "\"1.05 m\"",
            "transport.lorry_length", "for pallets of 1.2 m"},
        Bad{"chart_in_newtons", "[soil]",
            "[lifting]\ncrane = [\"0 m\", \"9 m\"]\n[[lifting.chart]]\nradius = \"3 m\"\n"
            "capacity = \"2.6 kN\"\n[[lifting.chart]]\nradius = \"4 m\"\ncapacity = \"1300 kg\"\n"
            "[soil]",
            "\"2.6 kN\"", "lifting.chart[1].capacity", "kg"},
        // 1.8 m over half of 9 m is 1 in 2.5; 1:12 of 4.5 m is 0.375 m
        Bad{"climb_too_steep", "[access]", "[access]\nrequired = true", "true", "access.required",
            "a rise of 1.8 m over 4.5 m of walk, 1 in 2.5"},
        Bad{"climb_most", "[access]", "[access]\nrequired = true", "", "access.required",
            "at most 0.375 m"},
        Bad{"survey_of_nothing", "[soil]",
            "[[survey.point]]\nsupport = \"north\"\nmark = \"left\"\nmeasured = [\"0 m\", \"0 m\", "
            "\"0 m\"]\n"
            "[soil]",
            "\"north\"", "survey.point[1].support", "no support is called"},
        Bad{"survey_of_half", "[soil]",
            "[[survey.point]]\nsupport = \"west\"\nmark = \"left\"\nmeasured = [\"0 m\", \"0 m\", "
            "\"0 m\"]\n"
            "[soil]",
            "", "survey", "no measured right, back of support \"west\""}),
    [](const auto& test) { return test.param.name; });

TEST(Brief, WalkingLinesDefaultToTheMeeting) {
  const std::string text = file_text(source("examples/wren-leat/brief.toml"));
  const auto from = text.find("lines = ["), to = text.find("[parapet]");
  const Result<Brief> read = read_brief_text(text.substr(0, from) + text.substr(to), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  ASSERT_EQ(read->walkway.lines.size(), 3u);
  EXPECT_NEAR((read->walkway.lines[0].front() - Vec2(-0.2235, 6.396)).norm(), 0, 1e-3);
  EXPECT_EQ(read->walkway.lines[0].back(), Vec2(0, 0));
}

Faults faults_of(const std::string& from, const std::string& to) {
  const Result<Brief> brief = read_brief_text(
      with(from, to, file_text(source("examples/wren-leat/brief.toml"))), "some.toml");
  EXPECT_FALSE(brief.ok()) << to;
  return brief.ok() ? Faults{} : brief.faults();
}

TEST(Brief, TimesAreSaidInAUnitOfTheirSize) {
  for (const auto& [written, said] :
       {std::pair{"[\"60 min\", \"50 min\", \"90 min\"]", "60, 50, 90 minutes"},
        {"[\"8 h\", \"6 h\", \"9 h\"]", "8, 6, 9 hours"},
        {"[\"8 day\", \"6 day\", \"9 day\"]", "8, 6, 9 days"}}) {
    const Faults faults =
        faults_of("holidays = [", std::string("placing = ") + written + "\nholidays = [");
    ASSERT_EQ(faults.size(), 1u) << all_of(faults);
    EXPECT_EQ(faults.front().found, said);
  }
}

TEST(Brief, OneMistakeIsOneFault) {
  const std::string holidays = "holidays = [\"2027-03-26\", ";
  for (const auto& [from, to, key] : {
           std::array<std::string, 3>{holidays, "holidays = [5, ", "programme.holidays[1]"},
           {"week = [\"mon\", ", "week = [5, ", "programme.week[1]"},
           {"friction_angle = \"32 degrees\"", "friction_angle = \"-32 degrees\"",
            "soil.friction_angle"},
           {"[access]", "[access]\nrequired = true\ngradient_max = \"1:20\"\nramp_from = 0.1",
            "access.gradient_max"},
           {"[soil]", "[rates]\nplywood_per_sheet = -4\n[soil]", "rates.plywood_per_sheet"},
           {"[soil]", "[rates]\nplywood_per_sheet = \"95\"\n[soil]", "rates.plywood_per_sheet"},
       }) {
    const Faults faults = faults_of(from, to);
    ASSERT_EQ(faults.size(), 1u) << to << "\n" << all_of(faults);
    EXPECT_EQ(faults.front().key, key);
  }
  // and a mistake beside it is still seen
  EXPECT_EQ(faults_of(holidays, "holidays = [5, \"x\", ").size(), 2u);
}

TEST(Brief, RodsOfTwoTiesInOnePlace) {
  const std::string second = "from = \"orchard\"\nto = \"towpath\"";
  const Faults faults = faults_of(second, "from = \"orchard\"\nto = \"yard\"");
  ASSERT_EQ(faults.size(), 1u) << all_of(faults);
  EXPECT_EQ(faults.front().key, "ground.tie[2]");
  EXPECT_NE(faults.front().found.find("yard-orchard"), std::string::npos);
  // one rod between two is in a place of its own
  const std::string text = file_text(source("examples/wren-leat/brief.toml"));
  EXPECT_TRUE(
      read_brief_text(with(second + "\nrods = 2\nspacing = \"1.2 m\"",
                           "from = \"orchard\"\nto = \"yard\"\nrods = 1\nspacing = \"0 m\"", text),
                      "some.toml")
          .ok());
}

// What just fits is taken: rods on the footing's corners, soil up to the springing. Along the line
// of "east" from its ends, 1.9 m + 2 x 0.825 m.
TEST(Brief, RodsAndSoilThatJustFitTheFooting) {
  const std::string wide = with("spacing = \"1.2 m\"", "spacing = \"3.55 m\"");
  const auto brief =
      read_brief_text(with("[soil]", "[soil]\ncover = \"0.5 m\"", wide), "some.toml");
  EXPECT_TRUE(brief.ok()) << all_of(brief.faults());
}

class BadPrint : public testing::TestWithParam<Bad> {};
TEST_P(BadPrint, IsReportedWhereItStands) {
  expect_fault(GetParam(), file_text(source("examples/wren-leat/brief.toml")));
}
INSTANTIATE_TEST_SUITE_P(
    Each, BadPrint,
    testing::Values(Bad{"layers", "layer_min = \"6 mm\"", "layer_min = \"14 mm\"", "\"14 mm\"",
                        "print.layer_min", "less than layer_max"},
                    Bad{"no_such_bead", "bead = \"45 mm\"", "bead = \"80 mm\"", "\"80 mm\"",
                        "print.bead", "between bead_min (20 mm) and bead_max (60 mm)"},
                    Bad{"speeds_crossed", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\nspeed_min = \"0.3 m/s\"", "\"0.3 m/s\"",
                        "print.speed_min", "less than speed_max"},
                    Bad{"too_much_flow", "flow = \"5 L/min\"", "flow = \"40 L/min\"",
                        "\"40 L/min\"", "print.flow", "no more than speed_max"},
                    Bad{"no_step_to_speak_of", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\nstep = \"1 mm\"", "\"1 mm\"", "print.step",
                        "over 1 mm and up to 1000 mm"},
                    Bad{"mix_lighter_than_water", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\nfresh_density = \"10 kg/m3\"", "\"10 kg/m3\"",
                        "print.fresh_density", "over 500 kg/m3 and up to 5000 kg/m3"},
                    Bad{"reach_inside_out", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\nreach_max = \"0.5 m\"", "\"0.5 m\"",
                        "print.reach_max", "less than reach_max"},
                    Bad{"robot_out_of_reach", "robot = [\"0 m\", \"-1.9 m\", \"0.6 m\"]",
                        "robot = [\"0 m\", \"-4.9 m\", \"0.6 m\"]", "[\"0 m\", \"-4.9 m\"",
                        "print.robot", "reach_max (3.1 m)"},
                    Bad{"beds_done_twice", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\notherwise = [\"cast\", \"cast\"]", "[\"cast\"",
                        "print.otherwise", "each once"},
                    Bad{"ribbons_on_edge", "layer_max = \"14 mm\"", "layer_max = \"90 mm\"",
                        "\"90 mm\"", "print.layer_max", "no thicker than the bead is wide"},
                    Bad{"webs_run_through", "layer_min = \"6 mm\"",
                        "layer_min = \"6 mm\"\noverlap = \"30 mm\"", "\"30 mm\"", "print.overlap",
                        "half of the bead"},
                    Bad{"bead_wider_than_the_leaf", "bead = \"45 mm\"", "bead = \"50 mm\"",
                        "\"50 mm\"", "print.bead", "no wider than the leaf"}),
    [](const auto& each) { return each.param.name; });

class BadSite : public testing::TestWithParam<Bad> {};
TEST_P(BadSite, IsReportedWhereItStands) {
  expect_fault(GetParam(), file_text(source("examples/wren-leat/brief.toml")));
}
INSTANTIATE_TEST_SUITE_P(
    Each, BadSite,
    testing::Values(Bad{"crane_on_the_deck", "crane = [\"5.2 m\", \"6.0 m\"]",
                        "crane = [\"0 m\", \"0.5 m\"]", "[\"0 m\", \"0.5 m\"]", "lifting.crane",
                        "a place beside the plan"},
                    Bad{"lorry_on_the_deck", "lorry = [\"8.5 m\", \"9.0 m\"]",
                        "lorry = [\"0.1 m\", \"0.5 m\"]", "[\"0.1 m\", \"0.5 m\"]", "lifting.lorry",
                        "a place beside the plan"},
                    Bad{"lorry_in_the_crane", "lorry = [\"8.5 m\", \"9.0 m\"]",
                        "lorry = [\"5.2 m\", \"6.1 m\"]", "[\"5.2 m\", \"6.1 m\"]", "lifting.lorry",
                        "beside the crane"},
                    Bad{"hook_below_the_crown", "hook_max = \"14 m\"", "hook_max = \"0.1 m\"",
                        "\"0.1 m\"", "lifting.hook_max", "over the bridge"},
                    Bad{"lorry_full_of_pallet", "lorry_load = \"8 t\"",
                        "lorry_load = \"200 kg\"\npallet_mass = \"5 t\"", "\"5 t\"",
                        "transport.pallet_mass", "room for a block"},
                    Bad{"older_than_it_is", "[lifting]", "[lifting]\ntable_age = \"20 days\"",
                        "\"20 days\"", "lifting.table_age", "no more than `print.curing`"},
                    Bad{"placed_older_than_it_is", "[lifting]", "[lifting]\nsite_age = \"20 days\"",
                        "\"20 days\"", "lifting.site_age", "shortest `transport.journey`"},
                    Bad{"no_date", "date = \"2027-02-22\"", "date = \"yesterday\"", "\"yesterday\"",
                        "site.date", "year-month-day"}),
    [](const auto& each) { return each.param.name; });

}  // namespace
}  // namespace skewback
