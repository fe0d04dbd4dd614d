#include "brief/brief.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>

#include "brief/outline.hpp"
#include "brief/values.hpp"

namespace skewback {
namespace {

using ::testing::HasSubstr;

std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::filesystem::path source(const std::string& path) {
  return std::filesystem::path(SKEWBACK_SOURCE_DIR) / path;
}

const std::string& drovers_hop() {
  static const std::string text = file_text(source("examples/drovers-hop/brief.toml"));
  return text;
}

// The example with its first `from` written as `to`.
std::string with(const std::string& from, const std::string& to,
                 const std::string& text = drovers_hop()) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << "the example no longer has: " << from;
  return at == std::string::npos ? text : text.substr(0, at) + to + text.substr(at + from.size());
}

// Where `what` stands in the text, as an editor shows it.
Spot spot_in(const std::string& text, const std::string& what) {
  const auto at = text.find(what);
  EXPECT_NE(at, std::string::npos) << what;
  const std::string head = text.substr(0, at);
  const auto start = head.rfind('\n') == std::string::npos ? 0 : head.rfind('\n') + 1;
  return {1 + static_cast<int>(std::count(head.begin(), head.end(), '\n')),
          1 + static_cast<int>(head.size() - start)};
}

std::string all_of(const Faults& faults) {
  std::string text;
  for (const Fault& f : faults) text += describe(f) + "\n";
  return text;
}

struct Bad {
  std::string name;
  std::string from, to;   // the change that spoils the example
  std::string at;         // the fault is reported where this stands; empty: anywhere
  std::string key, says;  // of one fault
};

class BadBrief : public ::testing::TestWithParam<Bad> {};

TEST_P(BadBrief, IsReportedWhereItStands) {
  const Bad& bad = GetParam();
  const std::string text = with(bad.from, bad.to);
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  ASSERT_FALSE(brief.ok());
  for (const Fault& fault : brief.faults()) {
    const bool here = fault.key == bad.key && describe(fault).find(bad.says) != std::string::npos;
    if (!here) continue;
    EXPECT_EQ(fault.file, "some.toml");
    EXPECT_FALSE(fault.found.empty());
    EXPECT_FALSE(fault.expected.empty());
    if (bad.at.empty()) return;
    const Spot spot = spot_in(text, bad.at);
    EXPECT_EQ(fault.line, spot.line) << describe(fault);
    EXPECT_EQ(fault.column, spot.column) << describe(fault);
    return;
  }
  FAIL() << "no fault of " << bad.key << " says: " << bad.says << "\n" << all_of(brief.faults());
}

INSTANTIATE_TEST_SUITE_P(
    Values, BadBrief,
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
        Bad{"key_elsewhere", "rise = \"1.8 m\"", "rise = \"1.8 m\"\ndensity = \"1 kg/m3\"",
            "density", "form.density", "move it under [material]"},
        Bad{"unknown_table", "[centring]", "[centering]", "centering", "centering",
            "did you mean \"centring\"?"},
        Bad{"missing_key", "density = \"2400 kg/m3\"", "", "[material]", "material.density",
            "add a line such as density = "},
        Bad{"missing_table", "[form]\nrise = \"1.8 m\"\nmesh_size = \"0.2 m\"", "", "", "form",
            "add [form]"},
        Bad{"table_for_value", "friction = 0.6", "friction = {a = 1}", "{a", "joints.friction",
            "a table"},
        Bad{"single_brackets", "[[ground.tie]]", "[ground.tie]", "[ground.tie]", "ground.tie",
            "double brackets"},
        Bad{"choice", "free_edges = \"straight\"", "free_edges = \"strait\"", "\"strait\"",
            "plan.free_edges", "did you mean \"straight\"?"},
        Bad{"syntax", "rise = \"1.8 m\"", "rise = \"1.8 m", "", "", "not TOML"},
        Bad{"twice", "cap = 20", "cap = 20\ncap = 21", "", "", "not TOML"}),
    [](const auto& test) { return test.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Between, BadBrief,
    ::testing::Values(
        Bad{"leaves_fill_depth", "hollow = false", "hollow = true\nleaf = \"140 mm\"", "\"280 mm\"",
            "section.depth_crown", "no more than two leaves of 0.14 m"},
        Bad{"webs_touch", "hollow = false", "hollow = true\nweb_spacing = \"45 mm\"", "\"45 mm\"",
            "section.web_spacing", "greater than the web"},
        Bad{"layers", "layer_min = \"6 mm\"", "layer_min = \"14 mm\"", "\"14 mm\"",
            "print.layer_min", "less than layer_max"},
        Bad{"length_and_count", "count = 23", "count = 23\nlength = \"0.4 m\"", "23\n",
            "blocks.count", "both `length` and `count`"},
        Bad{"neither_length_nor_count", "count = 23", "", "[blocks]", "blocks", "neither"},
        Bad{"tie_to_nowhere", "to = \"east\"", "to = \"eats\"", "\"eats\"", "ground.tie[1].to",
            "did you mean \"east\"?"},
        Bad{"tie_to_itself", "to = \"east\"", "to = \"west\"", "", "ground.tie[1].to", "to itself"},
        Bad{"rods_in_one_place", "spacing = \"1.2 m\"", "spacing = \"0 m\"", "",
            "ground.tie[1].spacing", "in one place"},
        Bad{"no_walkway", "width = \"1.5 m\"", "width = \"0 m\"", "\"0 m\"\nweight",
            "walkway.width", "people and no walkway"},
        Bad{"walk_outside", "[[[\"-4.5 m\", \"0 m\"]", "[[[\"-5 m\", \"0 m\"]", "[\"-5 m\"",
            "walkway.lines[1][1]", "0.5 m outside"},
        Bad{"fine_mesh", "mesh_size = \"0.2 m\"", "mesh_size = \"10 mm\"", "\"10 mm\"",
            "form.mesh_size", "points"},
        Bad{"survey_of_nothing", "[print]",
            "[[survey.point]]\nsupport = \"north\"\nmark = \"left\"\nmeasured = [\"0 m\", \"0 m\", "
            "\"0 m\"]\n"
            "[print]",
            "\"north\"", "survey.point[1].support", "no support is called"},
        Bad{"survey_of_half", "[print]",
            "[[survey.point]]\nsupport = \"west\"\nmark = \"left\"\nmeasured = [\"0 m\", \"0 m\", "
            "\"0 m\"]\n"
            "[print]",
            "", "survey", "no measured right, back of support \"west\""}),
    [](const auto& test) { return test.param.name; });

INSTANTIATE_TEST_SUITE_P(
    Plan, BadBrief,
    ::testing::Values(
        Bad{"self_crossing", "[\"4.5 m\", \"0.95 m\"], [\"-4.5 m\", \"0.95 m\"],",
            "[\"-4.5 m\", \"0.95 m\"], [\"4.5 m\", \"0.95 m\"],", "[\"4.5 m\", \"-0.95 m\"]",
            "plan.outline[2]",
            "the side from (4.5, -0.95) m to (-4.5, 0.95) m crosses or touches the side from (4.5, "
            "0.95) m "
            "to (-4.5, -0.95) m"},
        Bad{"closed_twice", "[\"-4.5 m\", \"0.95 m\"],\n]",
            "[\"-4.5 m\", \"0.95 m\"], [\"-4.5 m\", \"-0.95 m\"]]", "[\"-4.5 m\", \"-0.95 m\"]",
            "plan.outline[1]", "not repeated"},
        Bad{"point_of_three", "[\"4.5 m\", \"0.95 m\"]", "[\"4.5 m\", \"0.95 m\", \"0 m\"]",
            "[\"4.5 m\", \"0.95 m\", \"0 m\"]", "plan.outline[3]", "a list of 3; expected a point"},
        Bad{"support_off_outline", "ends = [[\"-4.5 m\", \"0.95 m\"]",
            "ends = [[\"-4.75 m\", \"0.9 m\"]", "[\"-4.75 m\"", "plan.support[1].ends[1]",
            "(-4.75, 0.9) m, 0.25 m off the outline; expected a point on the outline; the nearest "
            "is (-4.5, "
            "0.9) m"},
        Bad{"ids_repeat", "id = \"east\"", "id = \"west\"", "", "plan.support[2].id",
            "for the second time"},
        Bad{"one_support",
            "[[plan.support]]\nid = \"east\"\nends = [[\"4.5 m\", \"-0.95 m\"], [\"4.5 m\", "
            "\"0.95 m\"]]\nlevel = \"0 m\"",
            "", "[[plan.support]]", "plan.support", "two or more"},
        Bad{"support_round_a_corner",
            "ends = [[\"-4.5 m\", \"0.95 m\"], [\"-4.5 m\", \"-0.95 m\"]]",
            "ends = [[\"-4.5 m\", \"0 m\"], [\"-4 m\", \"0.95 m\"]]", "[[\"-4.5 m\", \"0 m\"]",
            "plan.support[1].ends", "not straight"},
        Bad{"supports_touch", "ends = [[\"4.5 m\", \"-0.95 m\"], [\"4.5 m\", \"0.95 m\"]]",
            "ends = [[\"-4.5 m\", \"0.95 m\"], [\"4.5 m\", \"0.95 m\"]]", "",
            "plan.support[1].ends", "\"west\" touching or overlapping \"east\""},
        Bad{"opening_outside", "free_edges",
            "openings = [[[\"0 m\", \"0 m\"], [\"1 m\", \"0 m\"], [\"0 m\", \"2 m\"]]]\nfree_edges",
            "[[\"0 m\", \"0 m\"], [\"1 m\"", "plan.openings[1]", "outside the outline"},
        Bad{"meeting_outside", "free_edges", "meeting = [\"0 m\", \"1 m\"]\nfree_edges",
            "[\"0 m\", \"1 m\"]", "plan.meeting", "0.05 m outside"}),
    [](const auto& test) { return test.param.name; });

TEST(Brief, ArmWithoutSupportIsReported) {
  const std::string text = file_text(source("examples/wren-leat/brief.toml"));
  const auto from = text.find("[[plan.support]]\nid = \"towpath\""), to = text.find("[form]");
  std::string spoilt = text.substr(0, from) + text.substr(to);
  const Result<Brief> brief = read_brief_text(spoilt, "some.toml");
  ASSERT_FALSE(brief.ok());
  const auto& faults = brief.faults();
  EXPECT_THAT(all_of(faults), HasSubstr("reaches where nothing holds it up"));
  // the far corner is the one reported: the towpath's left end is the farther from the line
  // orchard-yard (by hand: 8.4 m against 8.0 m)
  EXPECT_EQ(faults.front().line, spot_in(spoilt, "[\"5.740 m\"").line) << all_of(faults);
  EXPECT_EQ(faults.front().column, spot_in(spoilt, "[\"5.740 m\"").column) << all_of(faults);
}

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

TEST(Brief, DroversHopReads) {
  const Result<Brief> read = read_brief(source("examples/drovers-hop/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Brief& b = *read;
  EXPECT_EQ(b.name, "drovers-hop");
  EXPECT_EQ(b.text, drovers_hop());
  EXPECT_NEAR(area(b.plan.outline), 9.0 * 1.9, 1e-12);  // by hand
  ASSERT_EQ(b.plan.supports.size(), 2u);
  EXPECT_EQ(b.plan.supports[0].a, Vec2(-4.5, 0.95));
  EXPECT_EQ(b.plan.supports[0].b, Vec2(-4.5, -0.95));
  EXPECT_DOUBLE_EQ(b.form.rise_m, 1.8);
  EXPECT_DOUBLE_EQ(b.section.depth_crown_m, 0.28);
  EXPECT_DOUBLE_EQ(b.material.fck_pa, 40e6);
  EXPECT_DOUBLE_EQ(b.parapet.weight_n_per_m, 500);
  EXPECT_EQ(b.blocks.count, 23);
  ASSERT_EQ(b.ground.ties.size(), 1u);
  EXPECT_EQ(b.ground.ties[0].from, 0);
  EXPECT_EQ(b.ground.ties[0].to, 1);
  EXPECT_FALSE(b.survey.has_value());
}

// Width of the deck across a leg, `along` metres from the meeting (the origin).
double width_across(const Polygon& outline, const Vec2& direction, double along) {
  const Vec2 across(-direction.y(), direction.x()), at = along * direction;
  double left = HUGE_VAL, right = HUGE_VAL;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i] - at, b = outline[(i + 1) % outline.size()] - at;
    const double ua = a.dot(direction), ub = b.dot(direction);
    if ((ua > 0) == (ub > 0)) continue;
    const double v = (a + ua / (ua - ub) * (b - a)).dot(across);
    (v > 0 ? left : right) = std::min(v > 0 ? left : right, std::abs(v));
  }
  return left + right;
}

TEST(Brief, WrenLeatHasTheDrawnWidths) {
  const Result<Brief> read = read_brief(source("examples/wren-leat/brief.toml"));
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Plan& plan = read->plan;
  ASSERT_EQ(plan.supports.size(), 3u);
  EXPECT_GT(area(plan.outline), 0);
  EXPECT_FALSE(crossing_sides(plan.outline).has_value());
  const double legs[] = {6.4, 5.6, 6.0};  // m, of the scenario: yard, orchard, towpath
  for (std::size_t k = 0; k < 3; ++k) {
    const Support& s = plan.supports[k];
    const Vec2 middle = 0.5 * (s.a + s.b);
    EXPECT_NEAR((s.b - s.a).norm(), 2.6, 2e-3) << s.id;
    EXPECT_NEAR(middle.norm(), legs[k], 2e-3) << s.id;
    double waist = HUGE_VAL;
    for (double along = 1.5; along < legs[k] - 0.1; along += 0.02)
      waist = std::min(waist, width_across(plan.outline, middle.normalized(), along));
    EXPECT_GT(waist, 1.6) << s.id;
    EXPECT_LT(waist, 1.8) << s.id;
  }
}

TEST(Brief, EdgesAndOutlineAreOneRing) {
  const Result<Brief> read = read_brief(source("examples/wren-leat/brief.toml"));
  ASSERT_TRUE(read.ok());
  const Plan& plan = read->plan;
  std::size_t points = 0;
  for (std::size_t k = 0; k < plan.free_edges.size(); ++k) {
    const FreeEdge& edge = plan.free_edges[k];
    EXPECT_EQ(edge.line.front(), plan.supports[static_cast<std::size_t>(edge.from)].b);
    EXPECT_EQ(edge.line.back(), plan.supports[static_cast<std::size_t>(edge.to)].a);
    points += edge.line.size();
    for (std::size_t i = 1; i < edge.line.size(); ++i)
      EXPECT_LT((edge.line[i] - edge.line[i - 1]).norm(), 0.06);
  }
  EXPECT_EQ(plan.outline.size(), points);
}

TEST(Brief, ClockwiseOutlineAndSwappedEndsMeanTheSame) {
  std::string text = with(
      "[\"-4.5 m\", \"-0.95 m\"], [\"4.5 m\", \"-0.95 m\"], [\"4.5 m\", \"0.95 m\"], [\"-4.5 m\", "
      "\"0.95 m\"]",
      "[\"-4.5 m\", \"0.95 m\"], [\"4.5 m\", \"0.95 m\"], [\"4.5 m\", \"-0.95 m\"], [\"-4.5 m\", "
      "\"-0.95 m\"]");
  text = with("ends = [[\"-4.5 m\", \"0.95 m\"], [\"-4.5 m\", \"-0.95 m\"]]",
              "ends = [[\"-4.5 m\", \"-0.95 m\"], [\"-4.5 m\", \"0.95 m\"]]", text);
  const Result<Brief> a = read_brief_text(drovers_hop(), "a"), b = read_brief_text(text, "b");
  ASSERT_TRUE(a.ok() && b.ok()) << all_of(b.faults());
  EXPECT_EQ(a->plan.outline, b->plan.outline);
  EXPECT_EQ(a->plan.supports[0].a, b->plan.supports[0].a);
}

TEST(Brief, WalkingLinesDefaultToTheMeeting) {
  const std::string text = file_text(source("examples/wren-leat/brief.toml"));
  const auto from = text.find("lines = ["), to = text.find("[parapet]");
  const Result<Brief> read = read_brief_text(text.substr(0, from) + text.substr(to), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  ASSERT_EQ(read->walkway.lines.size(), 3u);
  EXPECT_NEAR((read->walkway.lines[0].front() - Vec2(-0.2235, 6.396)).norm(), 0, 1e-3);
  EXPECT_EQ(read->walkway.lines[0].back(), Vec2(0, 0));
}

TEST(Brief, TheKeysOutsideTheExamplesAreReadToo) {
  std::string survey = "[survey]\npacker_max = \"1 in\"\n";
  for (const char* support : {"west", "east"})
    for (const char* mark : {"left", "right", "back"})
      survey += "[[survey.point]]\nsupport = \"" + std::string(support) + "\"\nmark = \"" + mark +
                "\"\nmeasured = [\"4.9 m\", \"0 m\", \"-14 mm\"]\n";
  const std::string opening =
      "openings = [[[\"0 m\", \"0 m\"], [\"1 m\", \"0 m\"], [\"0 m\", \"0.5 m\"]]]\n";
  const std::string text = with("[print]", "[required]\nlive_factor = 1.5\n" + survey + "[print]",
                                with("free_edges", opening + "free_edges"));
  const Result<Brief> read = read_brief_text(text, "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  EXPECT_DOUBLE_EQ(read->required.live_factor, 1.5);
  ASSERT_TRUE(read->survey.has_value());
  EXPECT_DOUBLE_EQ(read->survey->packer_max_m, 0.0254);
  EXPECT_EQ(read->survey->points.at(5).support, "east");
  EXPECT_EQ(read->survey->points.at(5).mark, "back");
  EXPECT_EQ(read->survey->points.at(5).measured, Vec3(4.9, 0, -0.014));
  ASSERT_EQ(read->plan.openings.size(), 1u);
  EXPECT_NEAR(area(read->plan.openings[0]), -0.25, 1e-12);  // clockwise
}

TEST(Reference, PageIsUpToDate) {
  EXPECT_EQ(file_text(source("docs/brief.md")), brief_reference())
      << "make it again: skewback --keys > docs/brief.md";
}

// Every example in the table is one that its own row accepts.
TEST(Reference, ExamplesAreValid) {
  const Units units;
  for (const Key& key : keys()) {
    Draft draft;
    const Heading* heading = find_heading(section_of(key.path));
    ASSERT_NE(heading, nullptr) << key.path;
    if (heading->resize != nullptr) heading->resize(draft, 1);
    const toml::table table = toml::parse("x = " + key.example);
    read_value(*table.get("x"), key, 0, key.path, units, draft);
    EXPECT_TRUE(draft.faults.empty()) << all_of(draft.faults);
    EXPECT_FALSE(key.meaning.empty()) << key.path;
  }
}

// Same sequence on every machine: xorshift (Marsaglia 2003), seed fixed.
struct Dice {
  std::uint64_t state = 88172645463325252ull;
  std::size_t roll(std::size_t n) {
    state ^= state << 13, state ^= state >> 7, state ^= state << 17;
    return static_cast<std::size_t>(state % n);
  }
};

std::string mutated(std::string text, Dice& dice) {
  static const char kBytes[] = "\"[]{}=.,-+0e9m \n#x\xC3\xA9\xFF\t\\'";
  for (std::size_t n = 1 + dice.roll(6); n > 0 && !text.empty(); --n) {
    const std::size_t at = dice.roll(text.size()), length = 1 + dice.roll(12);
    switch (dice.roll(4)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, 1, kBytes[dice.roll(sizeof kBytes - 1)]);
        break;
      case 2:
        text[at] = kBytes[dice.roll(sizeof kBytes - 1)];
        break;
      default:
        text.insert(dice.roll(text.size()), text.substr(at, length * 8));
        break;
    }
  }
  return text;
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

}  // namespace
}  // namespace skewback
