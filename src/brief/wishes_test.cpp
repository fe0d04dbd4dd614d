// Faults in what the form, the blocks, the walkway and the parapets are asked to be.

#include "brief/checks.hpp"
#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;

class BadWish : public ::testing::TestWithParam<Bad> {};

TEST_P(BadWish, IsReportedWhereItStands) { expect_fault(GetParam()); }

// under [form], as its last key
Bad form(const std::string& name, const std::string& lines, const std::string& at,
         const std::string& key, const std::string& says) {
  return {name, "mesh_size = \"0.2 m\"", "mesh_size = \"0.2 m\"\n" + lines, at, key, says};
}

std::string height(const std::string& at, const std::string& z) {
  return "[[form.height]]\nat = " + at + "\nz = " + z + "\n";
}

std::string thrust(const std::string& support) {
  return "[[form.thrust]]\nsupport = " + support + "\nmost = \"60 kN\"\n";
}

INSTANTIATE_TEST_SUITE_P(
    Form, BadWish,
    ::testing::Values(
        form("distance_negative", "edge_distance = \"-1 mm\"", "\"-1 mm\"", "form.edge_distance",
             "over 0"),
        form("evenness_large", "evenness = 101", "101", "form.evenness", "from 0.01 to 100"),
        form("height_without_z", "[[form.height]]\nat = [\"0 m\", \"0 m\"]", "[[form.height]]",
             "form.height[1].z", "found nothing"),
        form("height_outside", height("[\"0 m\", \"2 m\"]", "\"1 m\""), "[\"0 m\", \"2 m\"]",
             "form.height[1].at", "(0, 2) m, where there is nothing"),
        form("height_under_springings", height("[\"0 m\", \"0 m\"]", "\"-0.1 m\""), "\"-0.1 m\"",
             "form.height[1].z", "not above the lowest springing at 0 m"),
        form("height_twice",
             height("[\"0 m\", \"0 m\"]", "\"1 m\"") + height("[\"0 m\", \"0 mm\"]", "\"1.1 m\""),
             "[\"0 m\", \"0 mm\"]", "form.height[2].at", "the same place as form.height[1]"),
        form("under_flat_line", "[[form.stay_under]]\nline = [[\"0 m\", \"0 m\"]]",
             "[\"0 m\", \"0 m\"]]", "form.stay_under[1].line[1]", "a point, such as"),
        form("under_one_point", "[[form.stay_under]]\nline = [[\"0 m\", \"0 m\", \"2 m\"]]",
             "[[\"0 m\", \"0 m\", \"2 m\"]]", "form.stay_under[1].line", "a line of one point"),
        form("under_line_beside",
             "[[form.stay_under]]\nline = [[\"0 m\", \"2 m\", \"2 m\"], [\"1 m\", \"2 m\", \"2 "
             "m\"]]",
             "[[\"0 m\", \"2 m\"", "form.stay_under[1].line", "nowhere passes over the plan"),
        form("under_springings",
             "[[form.stay_under]]\nline = [[\"0 m\", \"2 m\", \"2 m\"], [\"1 m\", \"0 m\", \"0 "
             "m\"]]",
             "[\"1 m\", \"0 m\", \"0 m\"]", "form.stay_under[1].line[2]", "not above the lowest"),
        form("thrust_on_nothing", thrust("\"eats\""), "\"eats\"", "form.thrust[1].support",
             "did you mean \"east\"?"),
        form("thrust_twice", thrust("\"east\"") + "\n" + thrust("\"east\""), "",
             "form.thrust[2].support", "for the second time"),
        form("thrust_of_nothing", "[[form.thrust]]\nsupport = \"east\"\nmost = \"0 kN\"",
             "\"0 kN\"", "form.thrust[1].most", "over 0")),
    [](const auto& test) { return test.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Blocks, BadWish,
    ::testing::Values(Bad{"longer_than_long", "count = 23",
                          "length = \"0.4 m\"\nlength_min = \"0.5 m\"", "\"0.5 m\"",
                          "blocks.length_min", "0.5 m, over the `length` of 0.4 m"},
                      Bad{"least_and_count", "count = 23", "count = 23\nlength_min = \"0.5 m\"",
                          "\"0.5 m\"", "blocks.length_min", "both `length_min` and `count`"},
                      Bad{"no_width", "count = 23", "count = 23\nwidth_max = \"0 mm\"", "\"0 mm\"",
                          "blocks.width_max", "over 0"}),
    [](const auto& test) { return test.param.name; });

// under [walkway], where drovers-hop draws one line
Bad walk(const std::string& name, const std::string& lines, const std::string& at,
         const std::string& key, const std::string& says) {
  return {name, "weight = \"0.5 kPa\"", "weight = \"0.5 kPa\"\n" + lines, at, key, says};
}

const char* const kProfile = R"([["-4.5 m", "0 m", "0.4 m"], ["4.5 m", "0 m", "0.4 m"]])";

INSTANTIATE_TEST_SUITE_P(
    Walkway, BadWish,
    ::testing::Values(
        walk("two_profiles_one_line", "surface = [" + std::string(kProfile) + ", " + kProfile + "]",
             "[[[\"-4.5 m\"", "walkway.surface", "2 profiles for 1 walking lines"),
        walk("profile_elsewhere",
             R"(surface = [[["-4.5 m", "3 m", "0.4 m"], ["4.5 m", "3 m", "0.4 m"]]])",
             "[[\"-4.5 m\", \"3 m\"", "walkway.surface[1]", "3 m beside its walking line"),
        walk("profile_of_a_point", R"(surface = [[["-4.5 m", "3 m", "0.4 m"]]])",
             "[[\"-4.5 m\", \"3 m\"", "walkway.surface[1]", "a line of one point"),
        walk("step_drawn_upright",
             R"(surface = [[["-4.5 m", "0 m", "0.4 m"], ["-3 m", "0 m", "0.4 m"], )"
             R"(["-3 m", "0 m", "0.55 m"], ["4.5 m", "0 m", "0.4 m"]]])",
             "[\"-3 m\", \"0 m\", \"0.55 m\"]", "walkway.surface[1][3]",
             "a step of 0.15 m with both its edges at (-3, 0) m"),
        walk("step_that_can_be_drawn",
             R"(surface = [[["-3 m", "0 m", "0.4 m"], ["-3 m", "0 m", "0.55 m"]]])", "",
             "walkway.surface[1][2]", "set one of its edges 2 mm on along the walk"),
        walk("profile_point_twice",
             R"(surface = [[["-4.5 m", "0 m", "0.4 m"], ["4.5 m", "0 m", "0.4 m"], )"
             R"(["4.5 m", "0 m", "0.4 m"]]])",
             "", "walkway.surface[1][3]", "the same point twice"),
        walk("fill_up_to_nothing", "fill_density = \"1600 kg/m3\"", "\"1600 kg/m3\"",
             "walkway.fill_density", "no `surface` to fill up to"),
        Bad{"surface_without_walkway", "width = \"1.5 m\"\nweight = \"0.5 kPa\"",
            "surface = [" + std::string(kProfile) + "]", "[[[\"-4.5 m\"", "walkway.surface",
            "a surface of no width"},
        Bad{"walk_over_an_opening", "free_edges",
            "openings = [[[\"0 m\", \"-0.2 m\"], [\"0.3 m\", \"-0.2 m\"], [\"0 m\", \"0.2 m\"]]]\n"
            "free_edges",
            "[[\"-4.5 m\", \"0 m\"], [\"4.5 m\"", "walkway.lines[1]", "over an opening"}),
    [](const auto& test) { return test.param.name; });

Bad parapet(const std::string& name, const std::string& lines, const std::string& at,
            const std::string& key, const std::string& says) {
  return {name, "inset = \"0.1 m\"", "inset = \"0.1 m\"\n" + lines, at, key, says};
}

INSTANTIATE_TEST_SUITE_P(
    Parapet, BadWish,
    ::testing::Values(
        parapet("works_nowhere",
                "working = [\"east\", \"vest\"]\nupstand_height = \"0.2 m\"\n"
                "upstand_width = \"0.1 m\"",
                "\"vest\"", "parapet.working[2]", "did you mean \"west\"?"),
        parapet("works_twice",
                "working = [\"east\", \"east\"]\nupstand_height = \"0.2 m\"\n"
                "upstand_width = \"0.1 m\"",
                "", "parapet.working[2]", "for the second time"),
        parapet("works_without_height", "working = [\"east\"]\nupstand_width = \"0.1 m\"",
                "[\"east\"]", "parapet.working", "without upstand_height"),
        parapet("works_without_width", "working = [\"east\"]\nupstand_height = \"0.1 m\"",
                "[\"east\"]", "parapet.working", "without upstand_width"),
        parapet("works_dry",
                "working = [\"east\"]\nupstand_height = \"0.2 m\"\nupstand_width = \"0.1 m\"",
                "[\"east\"]", "parapet.working", "upstands on blocks that touch without pads"),
        parapet("upstand_nowhere", "upstand_width = \"0.1 m\"", "\"0.1 m\"\n\n[loads]",
                "parapet.upstand_width", "no legs that have one"),
        Bad{"inset_off_the_deck", "inset = \"0.1 m\"", "inset = \"0.95 m\"",
            "\"0.95 m\"\n\n[loads]", "parapet.inset", "where half the deck is 0.95 m"},
        parapet("upstands_meet",
                "working = [\"east\"]\nupstand_height = \"0.2 m\"\nupstand_width = \"0.95 m\"",
                "\"0.95 m\"\n\n[loads]", "parapet.upstand_width",
                "two upstands of 0.95 m on a springing line of 1.9 m"),
        parapet("a_name_of_none", "working = [\"e st\"]", "\"e st\"", "parapet.working[1]",
                "letters, digits"),
        parapet("a_lone_name", "working = \"east\"", "\"east\"\n\n[loads]", "parapet.working",
                "expected a list of names"),
        parapet("no_names", "working = []", "[]", "parapet.working", "an empty list")),
    [](const auto& test) { return test.param.name; });

TEST(Parapet, WorksOnJointsWithPads) {
  const std::string works =
      with("inset = \"0.1 m\"",
           "inset = \"0.1 m\"\nworking = [\"east\"]\nupstand_height = \"0.2 m\"\n"
           "upstand_width = \"0.1 m\"");
  const Result<Brief> brief = read_brief_text(
      with("friction = 0.6", "friction = 0.6\npad_thickness = \"6 mm\"", works), "some.toml");
  EXPECT_TRUE(brief.ok()) << all_of(brief.faults());
}

// Of -3.2 and -3.199 the difference rounds to over 1 mm, of -2.9 and -2.899 to under it.
TEST(Walkway, PointsAMillimetreApartAsWrittenAreTwo) {
  for (const auto& [lower, upper] : {std::pair("-3.2", "-3.199"), {"-2.9", "-2.899"}}) {
    const std::string text = with(
        "weight = \"0.5 kPa\"",
        std::string("weight = \"0.5 kPa\"\nsurface = [[[\"-4.5 m\", \"0 m\", \"0.4 m\"], [\"") +
            lower + " m\", \"0 m\", \"0.4 m\"], [\"" + upper +
            " m\", \"0 m\", \"0.55 m\"], [\"4.5 m\", \"0 m\", \"0.6 m\"]]]");
    const Result<Brief> brief = read_brief_text(text, "some.toml");
    EXPECT_TRUE(brief.ok()) << lower << "\n" << all_of(brief.faults());
  }
  Draft draft;
  EXPECT_TRUE(check_polygon({{-2.9, 0}, {-2.899, 0}, {3, 3}, {-3, 3}}, "plan.outline", draft));
  EXPECT_FALSE(check_polygon({{-2.9, 0}, {-2.8991, 0}, {3, 3}, {-3, 3}}, "plan.outline", draft));
}

}  // namespace
}  // namespace skewback
