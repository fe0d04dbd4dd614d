#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/outline.hpp"
#include "brief/sample_text.hpp"
namespace skewback {
namespace {

using namespace sample;

using ::testing::HasSubstr;

class BadPlan : public ::testing::TestWithParam<Bad> {};

TEST_P(BadPlan, IsReportedWhereItStands) { expect_fault(GetParam()); }

INSTANTIATE_TEST_SUITE_P(
    Each, BadPlan,
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
        Bad{"opening_at_the_edge", "free_edges",
            "openings = [[[\"0 m\", \"0 m\"], [\"1 m\", \"0 m\"], [\"0 m\", \"0.92 "
            "m\"]]]\nfree_edges",
            "[[\"0 m\", \"0 m\"], [\"1 m\"", "plan.openings[1]", "0.03 m from the outline"},
        Bad{"openings_overlap", "[[plan.support]]",
            "[[plan.round_opening]]\ncentre = [\"0 m\", \"0 m\"]\ndiameter = \"1 m\"\n"
            "[[plan.round_opening]]\ncentre = [\"0.5 m\", \"0 m\"]\ndiameter = \"1 m\"\n"
            "[[plan.support]]",
            "", "plan.round_opening[2]", "overlaps another"},
        Bad{"round_opening_outside", "[[plan.support]]",
            "[[plan.round_opening]]\ncentre = [\"0 m\", \"0.5 m\"]\ndiameter = \"1 m\"\n"
            "[[plan.support]]",
            "[[plan.round_opening]]", "plan.round_opening[1]", "outside the outline"},
        Bad{"round_opening_of_nothing", "[[plan.support]]",
            "[[plan.round_opening]]\ncentre = [\"0 m\", \"0.5 m\"]\ndiameter = \"0 m\"\n"
            "[[plan.support]]",
            "\"0 m\"\n[[plan.support]]", "plan.round_opening[1].diameter", "over 0"},
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

}  // namespace
}  // namespace skewback
