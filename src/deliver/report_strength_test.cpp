#include "deliver/report_strength.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "deliver/sample_pages.hpp"

namespace skewback::deliver {
namespace {

BlockFinding finding(int block, const std::string& check, double utilisation) {
  return {block, check, "full", utilisation * 2e6, 2e6, "Pa", utilisation, "somewhere", "a rule"};
}

Assembly two_blocks() {
  Assembly assembly;
  assembly.blocks.resize(2);
  assembly.blocks[0].id = "a";
  assembly.blocks[1].id = "b";
  return assembly;
}

BlockChecks some() {
  BlockChecks checks;
  checks.findings = {finding(0, "bed", 0.2), finding(0, "shear", 0.4), finding(1, "bed", 1.4),
                     finding(1, "shear", 0.4)};
  checks.worst = 2;
  checks.remarks = {"A remark."};
  return checks;
}

TEST(ReportStrength, WorstFirstAndTiesInOrder) {
  EXPECT_EQ(worst_findings(some(), 3), (std::vector<std::size_t>{2, 1, 3}));
}

TEST(ReportStrength, Json) {
  BlockChecks checks = some();
  checks.proposal = SectionProposal{0.06, 0.2, 1.4, 0.9, "words"};
  const auto json = strength_json(two_blocks(), checks);
  EXPECT_DOUBLE_EQ(json["worst_utilisation"].get<double>(), 1.4);
  ASSERT_EQ(json["blocks"].size(), 4U);
  EXPECT_EQ(json["blocks"][2]["id"], "b");
  EXPECT_EQ(json["blocks"][2]["check"], "bed");
  EXPECT_DOUBLE_EQ(json["proposal"]["leaf_m"].get<double>(), 0.06);
  EXPECT_EQ(json["remarks"][0], "A remark.");
  EXPECT_TRUE(strength_json(two_blocks(), {})["worst_utilisation"].is_null());
}

TEST(ReportStrength, PagesAreTheSameEveryTime) {
  BlockChecks checks = some();
  checks.findings[3].utilisation = std::numeric_limits<double>::infinity();
  expect_same_pages([&](Pages& pages) { add_strength(pages, {}, two_blocks(), checks); });
}

}  // namespace
}  // namespace skewback::deliver
