#include "vary/figure.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace skewback {
namespace {

const auto kSummary = nlohmann::ordered_json::parse(R"({
  "ok": false, "body": {"mass_kg": 12.5, "none": null},
  "stand": {"cases": [
    {"id": "dead", "verdict": "stands", "load_factor": null},
    {"id": "full", "verdict": "undecided", "load_factor": 4.5},
    {"id": "half", "verdict": "stands", "load_factor": 3.25}]},
  "required": [{"name": "live_factor", "value": 3.25}],
  "grid": [[1, 2], [3, 4]]})");

double number(const std::string& path) { return find_figure(kSummary, path).number.value(); }

TEST(Figures, AreFoundByPath) {
  EXPECT_EQ(number("body.mass_kg"), 12.5);
  EXPECT_EQ(number("stand.cases[2].load_factor"), 4.5);
  EXPECT_EQ(number("stand.cases[half].load_factor"), 3.25);
  EXPECT_EQ(number("required[live_factor].value"), 3.25);
  EXPECT_EQ(number("grid[2][1]"), 3);
  EXPECT_EQ(find_figure(kSummary, "ok").text, "no");
}

TEST(Figures, AreFoldedOverLists) {
  EXPECT_EQ(number("stand.cases[least].load_factor"), 3.25);
  EXPECT_EQ(number("stand.cases[most].load_factor"), 4.5);
  EXPECT_EQ(number("stand.cases[sum].load_factor"), 7.75);
  EXPECT_EQ(number("stand.cases[count]"), 3);
  EXPECT_EQ(number("grid[most][least]"), 3);
  EXPECT_EQ(number("stand.load_factor"), 3.25);
  EXPECT_EQ(find_figure(kSummary, "stand.verdict").text, "undecided");
}

TEST(Figures, WhatIsNotThereIsEmpty) {
  for (const char* path :
       {"body", "body.none", "body.mass", "stand.cases[4].load_factor",
        "stand.cases[0].load_factor", "stand.cases[third].load_factor", "body.mass_kg.more",
        "body[1]", "stand.cases.load_factor", "stand.cases[least].reason"}) {
    EXPECT_FALSE(find_figure(kSummary, path).number) << path;
    EXPECT_EQ(find_figure(kSummary, path).text, "") << path;
  }
}

TEST(Figures, PathsAreChecked) {
  for (const char* path : {"ok", "body.b[1].c", "cut[x][y]", "stand.cases[v1.5].load_factor"})
    EXPECT_EQ(path_fault(path), "") << path;
  for (const char* path :
       {"", ".cut", "cut.", "cut..b", "cut[", "cut]", "cut[]", "[cut]", "cut[1]b", "cut.[1]"})
    EXPECT_NE(path_fault(path), "") << path;
  EXPECT_EQ(path_fault("bodi.mass_kg"), "a summary has no part bodi; did you mean body?");
}

}  // namespace
}  // namespace skewback
