#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "lodge/compare_parts.hpp"

namespace skewback::lodge {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<Change> between(const std::string& before, const std::string& now) {
  Dossier a, b;
  a.brief.text = before;
  b.brief.text = now;
  return changes(a, b);
}
std::vector<std::string> said(const std::string& before, const std::string& now) {
  std::vector<std::string> all;
  for (const Change& c : between(before, now)) all.push_back(c.says);
  return all;
}

TEST(KeyChanges, OldAndNewText) {
  const auto list = between("[form]\nrise = \"1.55 m\"\nmesh_size = \"0.2 m\"\n",
                            "# thinner\n[form]\nmesh_size = \"0.2 m\"\nrise = \"1.62 m\" # more\n");
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].says, "form.rise is 1.62 m, it was 1.55 m");
  EXPECT_EQ(list[0].of, "brief");
  EXPECT_EQ(list[0].kind, "key");
  EXPECT_EQ(list[0].id, "form.rise");
}

TEST(KeyChanges, TheSameInOtherUnitsIsNoChange) {
  EXPECT_THAT(said("[form]\nrise = \"1.55 m\"\n", "[form]\nrise = \"1550 mm\"\n"), IsEmpty());
  EXPECT_THAT(said("[joints]\nfriction = 1\n", "[joints]\nfriction = 1.0\n"), IsEmpty());
  EXPECT_THAT(said("[bridge]\nname = \"1 m\"\n", "[bridge]\nname = \"1000 mm\"\n"),
              ElementsAre("bridge.name is 1000 mm, it was 1 m"));
}

TEST(KeyChanges, GivenAndLeftOut) {
  EXPECT_THAT(said("[loads]\ncap = 20\n", "[loads]\nsnow = \"0.6 kPa\"\n"),
              ElementsAre("loads.snow is given: 0.6 kPa, it was left out",
                          "loads.cap is left out, it was 20"));
}

TEST(KeyChanges, MembersOfListsByNumber) {
  EXPECT_THAT(said("[plan]\noutline = [[\"0 m\", \"1 m\"], [\"2 m\", \"3 m\"]]\n",
                   "[plan]\noutline = [[\"0 m\", \"1 m\"], [\"2 m\", \"4 m\"]]\n"),
              ElementsAre("plan.outline[2] is [2 m, 4 m], it was [2 m, 3 m]"));
  EXPECT_THAT(said("[plan]\noutline = [[\"0 m\", \"1 m\"]]\n",
                   "[plan]\noutline = [[\"0 m\", \"1 m\"], [\"2 m\", \"4 m\"]]\n"),
              ElementsAre("plan.outline is [[0 m, 1 m], [2 m, 4 m]], it was [[0 m, 1 m]]"));
}

TEST(KeyChanges, TablesOfAListByTheirIds) {
  const std::string a = "[[plan.support]]\nid = \"a\"\nlevel = \"0 m\"\n";
  const std::string b = "[[plan.support]]\nid = \"b\"\nlevel = \"0 m\"\n";
  const std::string b_up = "[[plan.support]]\nid = \"b\"\nlevel = \"0.1 m\"\n";
  EXPECT_THAT(said(a + b, b + a), IsEmpty());
  EXPECT_THAT(said(a + b, b_up + a), ElementsAre("plan.support[1].level is 0.1 m, it was 0 m"));
  EXPECT_THAT(said(a, a + b), ElementsAre("plan.support[2] is new: id b, level 0 m"));
  EXPECT_THAT(said(a + b, b), ElementsAre("plan.support[1] is gone, it was: id a, level 0 m"));
}

TEST(KeyChanges, InTheOrderOfTheNewerText) {
  EXPECT_THAT(said("[section]\nleaf = \"45 mm\"\n[blocks]\ncount = 3\n",
                   "[section]\nleaf = \"50 mm\"\n[blocks]\ncount = 4\n"),
              ElementsAre("section.leaf is 50 mm, it was 45 mm", "blocks.count is 4, it was 3"));
}

TEST(KeyChanges, LongTextIsCutBetweenLetters) {
  std::string long_one;
  for (int i = 0; i < 80; ++i) long_one += "\u00e4";
  const auto list = said("[bridge]\ntitle = \"x\"\n", "[bridge]\ntitle = \"x" + long_one + "\"\n");
  ASSERT_EQ(list.size(), 1u);
  EXPECT_NO_THROW((void)nlohmann::json(list[0]).dump());  // throws on half a letter
  EXPECT_NE(list[0].find("\u2026"), std::string::npos);
}

TEST(KeyChanges, NoBriefNoWords) {
  EXPECT_THAT(said("", ""), IsEmpty());
  EXPECT_THAT(said("this is not [a brief", "[form]\nrise = \"1 m\"\n"), IsEmpty());
}

}  // namespace
}  // namespace skewback::lodge
