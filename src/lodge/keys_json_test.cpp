// What the slip "change it" lists: each key as it stands in the text, or its default.
#include "lodge/keys_json.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;

const char* const kText = R"([bridge]
name = "x"
[plan]
outline = [["0 m", "1.5 m"], ["4 m", "0 m"]]
[[plan.support]]
id = "west"
level = "0.2 m"
[[plan.support]]
id = "east"
[form]
rise = "1550 mm" # of it
[blocks]
mass_max = "0.4 t"
count = 23
[joints]
friction = 0.6
)";

Json key(const Json& groups, const std::string& name) {
  for (const Json& group : groups)
    for (const Json& entry : group.at("keys"))
      if (entry.at("key") == name) return entry;
  return nullptr;
}

TEST(KeyGroups, ATextAsItStandsAndItsValueInSi) {
  const Json groups = key_groups(kText);
  const Json rise = key(groups, "form.rise");
  EXPECT_EQ(rise.at("text"), "\"1550 mm\"");
  EXPECT_NEAR(rise.at("value").get<double>(), 1.55, 1e-12);
  EXPECT_EQ(rise.at("unit"), "m");
  EXPECT_EQ(rise.at("written"), "quantity");
  EXPECT_EQ(rise.at("given"), true);
  EXPECT_NEAR(key(groups, "joints.friction").at("value").get<double>(), 0.6, 1e-12);
  EXPECT_EQ(key(groups, "joints.friction").at("written"), "number");
  EXPECT_TRUE(key(groups, "bridge.name").at("value").is_null());
  EXPECT_EQ(key(groups, "blocks.count").at("written"), "whole");
  EXPECT_EQ(key(groups, "blocks.count").at("value").dump(), "23");
}

TEST(KeyGroups, MembersOfListsAreCountedFromOne) {
  const Json groups = key_groups(kText);
  EXPECT_NEAR(key(groups, "plan.outline[1][2]").at("value").get<double>(), 1.5, 1e-12);
  EXPECT_NEAR(key(groups, "plan.outline[2][1]").at("value").get<double>(), 4, 1e-12);
  EXPECT_TRUE(key(groups, "plan.outline[0][1]").is_null());
  EXPECT_NEAR(key(groups, "plan.support[1].level").at("value").get<double>(), 0.2, 1e-12);
  EXPECT_EQ(key(groups, "plan.support[2].id").at("text"), "\"east\"");
  EXPECT_EQ(key(groups, "plan.support[2].level").at("given"), false);
  EXPECT_TRUE(key(groups, "plan.support[3].id").is_null());
}

TEST(KeyGroups, WhatIsLeftOutShowsItsDefault) {
  std::size_t defaults = 0;
  const Json groups = key_groups(kText);
  for (const Json& group : groups) {
    EXPECT_FALSE(group.at("keys").empty()) << group.at("name");
    for (const Json& entry : group.at("keys")) {
      if (entry.at("given") == true || entry.at("text") == "") continue;
      ++defaults;
    }
  }
  EXPECT_GT(defaults, 20u);
}

TEST(KeyGroups, EachKeyOnceAndThePlanFirst) {
  const Json groups = key_groups(kText);
  EXPECT_EQ(groups.at(0).at("name"), "plan");
  EXPECT_EQ(groups.at(1).at("name"), "form");
  std::vector<std::string> keys;
  for (const Json& group : groups)
    for (const Json& entry : group.at("keys")) keys.push_back(entry.at("key"));
  std::ranges::sort(keys);
  EXPECT_EQ(std::ranges::adjacent_find(keys), keys.end());
}

TEST(KeyGroups, TheMarkOfUtf8IsNoPartOfAText) {
  const Json groups = key_groups("\xEF\xBB\xBF" + std::string("[form]\nrise = \"2 m\"\n"));
  EXPECT_EQ(key(groups, "form.rise").at("text"), "\"2 m\"");
}

}  // namespace
}  // namespace skewback::lodge
