#include "brief/by_key.hpp"

#include <gtest/gtest.h>

#include "brief/keys.hpp"

namespace skewback {
namespace {

using Written = KeyFacts::Written;

TEST(ByKey, KnowsEveryKeyOfTheTable) {
  for (const Key& key : keys()) {
    std::string path = key.path;
    for (std::size_t at; (at = path.find("[].")) != std::string::npos;) path.replace(at, 2, "[2]");
    const auto facts = key_facts(path);
    ASSERT_TRUE(facts) << path;
    EXPECT_EQ(facts->unit, key.unit);
    EXPECT_EQ(facts->meaning, key.meaning);
  }
}

TEST(ByKey, MembersOfListsAreQuantities) {
  EXPECT_EQ(key_facts("plan.outline[3][1]")->written, Written::kQuantity);
  EXPECT_EQ(key_facts("plan.outline[3][1]")->unit, "m");
  EXPECT_EQ(key_facts("plan.outline[3]")->written, Written::kOther);
  EXPECT_EQ(key_facts("packing.stock[1]")->written, Written::kQuantity);
  EXPECT_EQ(key_facts("form.rise")->written, Written::kQuantity);
  EXPECT_EQ(key_facts("joints.friction")->written, Written::kNumber);
  EXPECT_EQ(key_facts("blocks.count")->written, Written::kWhole);
  EXPECT_EQ(key_facts("plan.support[1].id")->written, Written::kOther);
}

TEST(ByKey, RefusesWhatNoBriefHas) {
  for (const char* key : {"form.rice", "form.rise[1]", "plan.support.level", "plan.support[].level",
                          "plan.support[x].level", "plan.outline[1][2][3]", "form", "", "[", "a]["})
    EXPECT_FALSE(key_facts(key)) << key;
}

TEST(ByKey, NamesTheNearest) {
  EXPECT_EQ(nearest_key("form.rice"), "form.rise");
  EXPECT_EQ(nearest_key("plan.support[2].levle"), "plan.support[].level");
  EXPECT_EQ(
      nearest_key("qqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqqq"),
      "");
}

}  // namespace
}  // namespace skewback
