#include <gmock/gmock.h>

#include <cmath>
#include <set>

#include "brief/by_key.hpp"
#include "vary/amount.hpp"
#include "vary/sample_vary.hpp"

namespace skewback {
namespace {

using Plans = VaryFolder;

std::vector<std::string> shown(const VaryPlan& plan, std::uint64_t run) {
  std::vector<std::string> out;
  for (const VaryValue& v : values_of(plan, run)) out.push_back(v.shown);
  return out;
}

TEST_F(Plans, GridHasEveryCombinationOnce) {
  const auto plan = read(R"(
[[vary]]
key = "form.rise"
from = "1.2 m"
to = "1.6 m"
steps = 5
[[vary]]
key = "blocks.count"
values = [21, 23, 25]
)");
  ASSERT_TRUE(plan) << describe(plan.faults()[0]);
  ASSERT_EQ(runs_of(*plan), 15U);
  std::set<std::vector<std::string>> all;
  for (std::uint64_t run = 0; run < 15; ++run) all.insert(shown(*plan, run));
  EXPECT_EQ(all.size(), 15U);
  EXPECT_EQ(shown(*plan, 0), (std::vector<std::string>{"1.2 m", "21"}));
  EXPECT_EQ(shown(*plan, 4), (std::vector<std::string>{"1.3 m", "23"}));  // no 1.2999999999999998
  EXPECT_EQ(shown(*plan, 14), (std::vector<std::string>{"1.6 m", "25"}));
}

TEST_F(Plans, ListsGoSideBySide) {
  const auto plan = read(R"(
[[vary]]
key = "form.rise"
values = ["1.2 m", "5 ft"]
[[vary]]
key = "joints.friction"
values = [0.5, 0.7]
[runs]
how = "list"
)");
  ASSERT_TRUE(plan) << describe(plan.faults()[0]);
  ASSERT_EQ(runs_of(*plan), 2U);
  EXPECT_EQ(shown(*plan, 1), (std::vector<std::string>{"5 ft", "0.7"}));
  EXPECT_EQ(plan->varied[0].unit, "");  // two units: tables say SI
}

TEST_F(Plans, UnitsOfARangeAreBroughtTogether) {
  const auto plan = read(R"(
[[vary]]
key = "form.rise"
from = "100 cm"
to = "2 m"
steps = 3
)");
  ASSERT_TRUE(plan) << describe(plan.faults()[0]);
  EXPECT_EQ(shown(*plan, 1), std::vector<std::string>{"150 cm"});
}

constexpr const char* kRandom = R"(
[[vary]]
key = "form.rise"
spread = "even"
from = "1.2 m"
to = "1.6 m"
[[vary]]
key = "material.density"
spread = "normal"
middle = "2400 kg/m3"
deviation = "50 kg/m3"
[[vary]]
key = "blocks.count"
spread = "even"
from = 21
to = 25
[[vary]]
key = "plan.free_edges"
values = ["straight", "smooth"]
[runs]
how = "random"
count = 20000
seed = 7
)";

// Even over [a, b]: mean (a + b)/2, variance (b - a)^2/12; bounds of five standard errors.
TEST_F(Plans, SpreadsAreWhatTheySay) {
  const auto plan = read(kRandom);
  ASSERT_TRUE(plan) << describe(plan.faults()[0]);
  const double n = 20000;
  double rise = 0, density = 0, squares = 0;
  std::map<std::string, int> counts, edges;
  for (std::uint64_t run = 0; run < 20000; ++run) {
    const auto values = shown(*plan, run);
    const double r = split_amount(values[0])->value, d = split_amount(values[1])->value;
    ASSERT_GE(r, 1.2);
    ASSERT_LE(r, 1.6);
    rise += r / n;
    density += d / n;
    squares += (d - 2400) * (d - 2400) / n;
    ++counts[values[2]];
    ++edges[values[3]];
  }
  EXPECT_NEAR(rise, 1.4, 5 * 0.4 / std::sqrt(12 * n));
  EXPECT_NEAR(density, 2400, 5 * 50 / std::sqrt(n));
  EXPECT_NEAR(std::sqrt(squares), 50, 5 * 50 / std::sqrt(2 * n));
  ASSERT_EQ(counts.size(), 5U);
  for (const auto& [count, times] : counts)
    EXPECT_NEAR(times, n / 5, 5 * std::sqrt(n * 0.2 * 0.8)) << count;
  ASSERT_EQ(edges.size(), 2U);
  EXPECT_NEAR(edges["smooth"], n / 2, 5 * std::sqrt(n / 4));
}

TEST_F(Plans, RandomValuesDependOnTheRunAloneAndOnTheSeed) {
  const auto plan = read(kRandom);
  ASSERT_TRUE(plan);
  const auto before = shown(*plan, 1234);
  for (std::uint64_t run : {9ULL, 0ULL, 19999ULL}) (void)values_of(*plan, run);
  EXPECT_EQ(shown(*plan, 1234), before);
  VaryPlan other = *plan;
  other.seed = 8;
  EXPECT_NE(shown(other, 1234), before);
}

TEST_F(Plans, ValuesGoIntoTheBrief) {
  const auto plan = read(R"(
[[vary]]
key = "plan.support[2].level"
values = ["0.1 m"]
[[vary]]
key = "plan.outline[2][1]"
values = ["4.5 m"]
[[vary]]
key = "packing.most"
values = ["30 mm"]
[[vary]]
key = "joints.friction"
values = [0.7]
)");
  ASSERT_TRUE(plan) << describe(plan.faults()[0]);
  const auto text = brief_with(*plan, values_of(*plan, 0));
  ASSERT_TRUE(text) << describe(text.faults()[0]);
  const auto brief = read_brief_text(*text, plan->brief_file);
  ASSERT_TRUE(brief) << describe(brief.faults()[0]);
  EXPECT_DOUBLE_EQ(brief->plan.supports[1].level_m, 0.1);
  EXPECT_DOUBLE_EQ(brief->plan.supports[0].level_m, 0);
  EXPECT_DOUBLE_EQ(brief->packing.most_m, 0.03);  // a table that the brief does not have
  EXPECT_DOUBLE_EQ(brief->joints.friction, 0.7);
}

// The text written anew says the same as the text it came from.
TEST_F(Plans, NothingElseOfTheBriefChanges) {
  for (const char* name : {"drovers-hop", "wren-leat", "lantern-court", "tanyard"}) {
    const auto file = std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples" / name / "brief.toml";
    VaryPlan plan;
    plan.brief_file = file;
    plan.brief_text = text_of(file);
    const auto text = brief_with(plan, {});
    ASSERT_TRUE(text);
    const auto a = read_brief_text(plan.brief_text, file), b = read_brief_text(*text, file);
    ASSERT_TRUE(a && b) << name;
    ASSERT_EQ(a->plan.outline.size(), b->plan.outline.size());
    for (std::size_t i = 0; i < a->plan.outline.size(); ++i)
      EXPECT_EQ(a->plan.outline[i], b->plan.outline[i]);
    EXPECT_EQ(a->form.rise_m, b->form.rise_m);
    EXPECT_EQ(a->loads.people_pa, b->loads.people_pa);
    EXPECT_EQ(a->title, b->title);
    EXPECT_EQ(a->survey.has_value(), b->survey.has_value());
    // and written twice it is the same text
    plan.brief_text = *text;
    EXPECT_EQ(*brief_with(plan, {}), *text);
  }
}

TEST_F(Plans, FaultsNameLineKeyFoundAndExpected) {
  struct Bad {
    const char* text;
    std::vector<std::string> parts;
  };
  const std::vector<Bad> bad = {
      {"[[vary]]\nkey = \"form.rice\"\nvalues = [\"1 m\"]\n",
       {"over.toml:2:", "vary[1].key", "form.rice", "form.rise"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [1.4]\n",
       {"over.toml:3:", "vary[1].values[1]", "1.4", "a quantity"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1.4 kg\"]\n",
       {"over.toml:3:", "vary[1].values[1]", "1.4 kg"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalue = [\"1 m\"]\n",
       {"over.toml:3:", "vary[1].value", "did you mean \"values\"?"}},
      {"[[vary]]\nkey = \"form.rise\"\nfrom = \"1 m\"\nto = \"2 m\"\n",
       {"over.toml:1:", "vary[1].steps", "nothing"}},
      {"[[vary]]\nkey = \"blocks.count\"\nfrom = 21\nto = 24\nsteps = 3\n",
       {"over.toml:5:", "vary[1].steps", "22.5", "whole"}},
      {"[[vary]]\nkey = \"blocks.count\"\nvalues = [21.5]\n", {"over.toml:3:", "values[1]"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[runs]\nhow = \"gird\"\n",
       {"over.toml:5:", "runs.how", "gird", "did you mean \"grid\"?"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[runs]\nuntil = \"stnd\"\n",
       {"over.toml:5:", "runs.until", "stand"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[runs]\nfigures = [\"body..mass\"]\n",
       {"over.toml:5:", "runs.figures[1]", "dot"}},
      {"[[vary]]\nkey = \"form.rise\"\nspread = \"even\"\nfrom = \"1 m\"\nto = \"2 m\"\n",
       {"over.toml:3:", "vary[1].spread", "unknown key"}},
      {"[[vary]]\nkey = \"form.rise\"\nspread = \"even\"\nfrom = \"2 m\"\nto = \"1 m\"\n"
       "[runs]\nhow = \"random\"\ncount = 3\n",
       {"vary[1].to", "more than `from`"}},
      {"[[vary]]\nkey = \"form.rise\"\nspread = \"even\"\nfrom = \"1 m\"\nto = \"2 m\"\n"
       "[runs]\nhow = \"random\"\n",
       {"over.toml:6:", "runs.count", "how many"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[runs]\nfront = [\"body.mass_kg\"]\n",
       {"over.toml:5:", "runs.front", "less"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[[vary]]\nkey = \"form.rise\"\n"
       "values = [\"1 m\"]\n",
       {"over.toml:4:", "a second time"}},
      {"[[vary]]\nkey = \"form.rise\"\nvalues = [\"1 m\"]\n[tolerances]\ndraws = true\n",
       {"over.toml:1:", "beside [tolerances]"}},
      {"[tolerances]\ndraws = 0\n", {"over.toml:2:", "tolerances.draws"}},
      {"", {"vary", "one [[vary]] table"}},
      {"[[vary]\n", {"over.toml:1:", "not TOML"}},
  };
  for (const Bad& b : bad) {
    const auto plan = read(b.text);
    ASSERT_FALSE(plan) << b.text;
    std::string all;
    for (const Fault& fault : plan.faults()) all += describe(fault) + "\n";
    for (const std::string& part : b.parts)
      EXPECT_THAT(all, testing::HasSubstr(part)) << "for\n" << b.text;
  }
}

TEST_F(Plans, AllFaultsAtOnce) {
  const auto plan = read(
      "[[vary]]\nkey = \"form.rice\"\nvalues = [\"1 m\"]\n[[vary]]\nkey = \"form.rise\"\n"
      "values = [\"1 s\"]\n[runs]\nuntil = \"nowhere\"\n");
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.faults().size(), 3U);
}

TEST_F(Plans, TheHashKnowsBothTextsTheVersionAndFilesTheyName) {
  const std::string over = "[[vary]]\nkey = \"form.rise\"\nvalues = [\"1.5 m\"]\n";
  const std::string hash = read(over)->hash;
  EXPECT_EQ(read(over)->hash, hash);
  EXPECT_NE(read(over + "# \n")->hash, hash);
  EXPECT_NE(read_vary(here / "brief.toml", here / "over.toml", "other")->hash, hash);
  write("Drovers' Hop", "a file of the bridge's title, which the brief so names");
  EXPECT_NE(read(over)->hash, hash);
}

}  // namespace
}  // namespace skewback
