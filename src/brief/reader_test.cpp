#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/keys.hpp"
#include "brief/sample_text.hpp"
namespace skewback {
namespace {

using namespace sample;

using ::testing::HasSubstr;

class BadValue : public ::testing::TestWithParam<Bad> {};

TEST_P(BadValue, IsReportedWhereItStands) { expect_fault(GetParam()); }

INSTANTIATE_TEST_SUITE_P(
    Each, BadValue,
    ::testing::Values(
        Bad{"missing_unit", "rise = \"1.8 m\"", "rise = \"1.8\"", "\"1.8\"", "form.rise",
            "add the unit"},
        Bad{"bare_number", "rise = \"1.8 m\"", "rise = 1.8", "1.8\n", "form.rise",
            "the bare number 1.8; expected a length with a unit"},
        Bad{"wrong_dimension", "rise = \"1.8 m\"", "rise = \"1.8 kPa\"", "\"1.8 kPa\"", "form.rise",
            "a pressure; expected a length"},
        Bad{"reciprocal_unit", "rise = \"1.8 m\"", "rise = \"1.8 m-1\"", "\"1.8 m-1\"", "form.rise",
            "expected a length"},
        Bad{"no_such_unit", "strength = \"40 MPa\"", "strength = \"40 Mpa\"", "\"40 Mpa\"",
            "material.strength", "capitals matter"},
        Bad{"milli_for_mega", "strength = \"40 MPa\"", "strength = \"40 mPa\"", "\"40 mPa\"",
            "material.strength", "from 0.1 MPa"},
        Bad{"negative_rise", "rise = \"1.8 m\"", "rise = \"-1.8 m\"", "\"-1.8 m\"", "form.rise",
            "over 0"},
        Bad{"zero_depth", "depth_crown = \"280 mm\"", "depth_crown = \"0 mm\"", "\"0 mm\"",
            "section.depth_crown", "over 0"},
        Bad{"nan_in_text", "rise = \"1.8 m\"", "rise = \"nan m\"", "\"nan m\"", "form.rise",
            "finite"},
        Bad{"nan_as_number", "friction = 0.6", "friction = nan", "nan", "joints.friction",
            "finite"},
        Bad{"infinity", "cap = 20", "cap = inf", "inf", "loads.cap", "finite"},
        Bad{"overflow", "rise = \"1.8 m\"", "rise = \"1e400 m\"", "\"1e400 m\"", "form.rise",
            "finite"},
        Bad{"decimal_comma", "rise = \"1.8 m\"", "rise = \"1,8 m\"", "\"1,8 m\"", "form.rise",
            "comma"},
        Bad{"a_date", "hollow = false", "hollow = 1979-05-27", "1979", "section.hollow", "a date"},
        Bad{"a_flag", "friction = 0.6", "friction = true", "true", "joints.friction", "found true"},
        Bad{"text_for_number", "friction = 0.6", "friction = \"0.6\"", "\"0.6\"", "joints.friction",
            "a plain number"},
        Bad{"real_for_whole", "count = 23", "count = 23.5", "23.5", "blocks.count",
            "a whole number"},
        Bad{"name_with_slash", "name = \"drovers-hop\"", "name = \"../up\"", "\"../up\"",
            "bridge.name", "letters, digits"},
        Bad{"unknown_key", "friction = 0.6", "fricton = 0.6", "fricton", "joints.fricton",
            "did you mean \"friction\"?"},
        Bad{"key_that_goes_on", "friction = 0.6", "friction = 0.6\nfriction_between_pads = 3",
            "friction_between_pads", "joints.friction_between_pads", "did you mean \"friction\"?"},
        Bad{"key_elsewhere", "rise = \"1.8 m\"", "rise = \"1.8 m\"\ndensity = \"1 kg/m3\"",
            "density", "form.density", "move it under [material]"},
        Bad{"unknown_table", "[soil]", "[soll]", "soll", "soll", "did you mean \"soil\"?"},
        Bad{"missing_key", "density = \"2400 kg/m3\"", "", "[material]", "material.density",
            "add a line such as density = "},
        Bad{"missing_length", "rise = \"1.8 m\"", "", "[form]", "form.rise",
            "expected a length such as \"1.55 m\""},
        Bad{"missing_name", "name = \"drovers-hop\"", "", "[bridge]", "bridge.name",
            "expected a name such as "},
        Bad{"missing_table", "[form]\nrise = \"1.8 m\"\nmesh_size = \"0.2 m\"", "", "", "form",
            "add [form]"},
        Bad{"table_for_value", "friction = 0.6", "friction = {a = 1}", "{a", "joints.friction",
            "a table"},
        Bad{"single_brackets", "[[ground.tie]]", "[ground.tie]", "[ground.tie]", "ground.tie",
            "double brackets"},
        Bad{"choice", "free_edges = \"straight\"", "free_edges = \"strait\"", "\"strait\"",
            "plan.free_edges", "did you mean \"straight\"?"},
        Bad{"syntax", "rise = \"1.8 m\"", "rise = \"1.8 m", "", "", "does not end on its line"},
        Bad{"twice", "cap = 20", "cap = 20\ncap = 21", "", "", "a key that its table has already"}),
    [](const auto& test) { return test.param.name; });

TEST(Brief, ReportsAllFaultsAtOnceInTheirOrder) {
  std::string text = with("rise = \"1.8 m\"", "rise = 1.8");
  text = with("friction = 0.6", "fricton = 0.6", text);
  text = with("strength = \"40 MPa\"", "strength = \"40 m\"", text);
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  ASSERT_FALSE(brief.ok());
  ASSERT_EQ(brief.faults().size(), 3u) << all_of(brief.faults());
  EXPECT_EQ(brief.faults()[0].key, "form.rise");
  EXPECT_EQ(brief.faults()[1].key, "material.strength");
  EXPECT_EQ(brief.faults()[2].key, "joints.fricton");
}

TEST(Brief, OfTwoSupportsOfOneNameOnlyThatIsTold) {
  const Result<Brief> brief = read_brief_text(with("id = \"east\"", "id = \"west\""), "some.toml");
  ASSERT_FALSE(brief.ok());
  ASSERT_EQ(brief.faults().size(), 1u) << all_of(brief.faults());
  EXPECT_EQ(brief.faults()[0].key, "plan.support[2].id");
}

TEST(Brief, FilesThatAreNone) {
  const auto says = [](const Result<Brief>& r) {
    return r.ok() ? "read" : describe(r.faults().front());
  };
  EXPECT_THAT(says(read_brief(source("examples"))), HasSubstr("a directory"));
  EXPECT_THAT(says(read_brief(source("examples/none.toml"))), HasSubstr("no such file"));
  EXPECT_THAT(says(read_brief("/dev/null")), HasSubstr("not an ordinary file"));
  EXPECT_THAT(says(read_brief_text("", "some.toml")), HasSubstr("an empty file"));
  EXPECT_THAT(says(read_brief_text("# nothing\n\n", "some.toml")), HasSubstr("an empty file"));
  EXPECT_THAT(says(read_brief_text("[bridge]\nname = \"\xC3\xA9\xFF\"\n", "some.toml")),
              HasSubstr("some.toml:2:10: found a byte that is not UTF-8"));
  EXPECT_THAT(says(read_brief_text(std::string(2000, '['), "some.toml")), HasSubstr("not TOML"));
}

TEST(Brief, DamagedFilesNeverCrashIt) {
  Dice dice;
  int read = 0, refused = 0;
  const std::string whole[] = {drovers_hop(), file_text(source("examples/wren-leat/brief.toml"))};
  for (int k = 0; k < 400; ++k) {
    const Result<Brief> brief = read_brief_text(mutated(whole[k % 2], dice), "some.toml");
    ++(brief.ok() ? read : refused);
    if (!brief.ok()) {
      EXPECT_FALSE(describe(brief.faults().front()).empty());
    }
  }
  EXPECT_GT(read, 0);  // damage in comments or harmless digits
  EXPECT_GT(refused, 100);
}

// "6000 L/min" is 0.1 m3/s but for rounding.
TEST(Range, HoldsALimitThatAUnitRounds) {
  EXPECT_TRUE(Range::over(0, 0.1).holds(0.1 * (1 + 2e-16)));
  EXPECT_FALSE(Range::over(0, 0.1).holds(0.1001));
  EXPECT_FALSE(Range::over(0, 0.1).holds(0));
  EXPECT_FALSE(Range::over(0.001, 1).holds(0.001 * (1 + 2e-16)));
  EXPECT_TRUE(Range::within(-1, 1).holds(-1));
  EXPECT_FALSE(Range::within(-1, 1).holds(-1.0001));
  EXPECT_TRUE(Range{}.holds(1e300));
}

}  // namespace
}  // namespace skewback
