#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "lodge/desk.hpp"
#include "lodge/toml_places.hpp"

namespace skewback::lodge {
namespace {

using ::testing::HasSubstr;

std::string demo(const std::string& name) {
  std::ifstream in(std::string(SKEWBACK_SOURCE_DIR) + "/examples/" + name + "/brief.toml",
                   std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string patched(const std::string& text, const std::string& key, const std::string& value) {
  const Result<std::string> out = patch_text(text, {{key, value}}, "b.toml");
  if (!out) ADD_FAILURE() << key << ": " << describe(out.faults().front());
  return out ? *out : "";
}

std::string refusal(const std::string& text, const std::string& key, const std::string& value) {
  const Result<std::string> out = patch_text(text, {{key, value}}, "b.toml");
  if (out) {
    ADD_FAILURE() << key << " was changed to:\n" << *out;
    return "";
  }
  EXPECT_EQ(out.faults().front().file, "b.toml");
  return out.faults().front().found;
}

// Every value in a text by its key, lists and their members too.
void values(const toml::node& node, const std::string& key, std::vector<std::string>& list) {
  if (const toml::table* table = node.as_table()) {
    if (table->is_inline()) list.push_back(key);
    for (const auto& [name, inner] : *table)
      values(inner, (key.empty() ? "" : key + ".") + std::string(name.str()), list);
  } else if (const toml::array* array = node.as_array()) {
    const bool headers = !array->empty() && array->get(0)->is_table();
    if (!headers) list.push_back(key);
    for (std::size_t i = 0; i < array->size(); ++i)
      values(*array->get(i), key + "[" + std::to_string(i + 1) + "]", list);
  } else {
    list.push_back(key);
  }
}

// The tree with one value put in place of another, by the library's own means.
toml::table with(toml::table root, const std::string& key, const toml::node& value) {
  const std::vector<Step> steps = *steps_of(key);
  const std::vector<Step> holder(steps.begin(), steps.end() - 1);
  auto* parent = const_cast<toml::node*>(find_node(root, holder));
  if (steps.back().number > 0) {
    parent->as_array()->replace(
        parent->as_array()->begin() + static_cast<std::ptrdiff_t>(steps.back().number - 1), value);
  } else {
    parent->as_table()->insert_or_assign(steps.back().name, value);
  }
  return root;
}

void only_that_changes(const std::string& text, const std::string& key, const std::string& value) {
  const std::string now = patched(text, key, value);
  const toml::table before = toml::parse(text), after = toml::parse(now);
  const toml::table wanted = toml::parse("v = " + value);
  EXPECT_TRUE(same(after, with(before, key, *wanted.get("v")))) << key;
  // bytes before and behind the value as they were
  const Lines lines(text);
  const Span span = lines.span(find_node(before, *steps_of(key))->source());
  EXPECT_EQ(now, text.substr(0, span.begin) + value + text.substr(span.end)) << key;
}

TEST(PatchText, ChangesEachValueOfTheDemosAndNothingElse) {
  int tried = 0;
  for (const char* name : {"wren-leat", "drovers-hop"}) {
    const std::string text = demo(name);
    std::string crlf;
    for (const char c : text) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    std::vector<std::string> keys;
    values(toml::parse(text), "", keys);
    for (const std::string& key : keys) {
      only_that_changes(text, key, "\"7.125 mé\"");
      only_that_changes(crlf, key, "[\"1 m\", -2]");
      ++tried;
    }
  }
  EXPECT_GT(tried, 400);
}

TEST(PatchText, SameAsBeforeGivesTheSameBytes) {
  const std::string text = demo("wren-leat");
  EXPECT_EQ(patched(text, "form.rise", "\"1.55 m\""), text);
  EXPECT_EQ(*patch_text(text, {}, "b.toml"), text);
}

const char* const kText = R"(# head
[plan]   # drawn
outline = [ # in plan
  ["0 m", "0 m"], # first, with a comma
  ["4 m", "0 m"],
]
meeting = ["0 m", "0 m"]

# the supports
[[plan.support]]
id = "a"   # left
[[plan.support]]
  id = "b"

[form]
rise = "1 m" # of it

# soil, below
[soil]
site.turn = "3 degrees"
box = { x = 1, y = 2 }
last = 1)";

TEST(PatchText, KeepsCommentsBesideTheValue) {
  EXPECT_THAT(patched(kText, "form.rise", "\"2 m\""), HasSubstr("rise = \"2 m\" # of it\n"));
  EXPECT_THAT(patched(kText, "plan.support[1].id", "\"z\""), HasSubstr("id = \"z\"   # left\n"));
  EXPECT_THAT(patched(kText, "plan.outline[1][2]", "\"9 m\""),
              HasSubstr("[\"0 m\", \"9 m\"], # first, with a comma\n"));
}

TEST(PatchText, PutsAKeyAtTheEndOfItsTable) {
  EXPECT_THAT(patched(kText, "form.mesh_size", "\"0.2 m\""),
              HasSubstr("rise = \"1 m\" # of it\nmesh_size = \"0.2 m\"\n\n# soil, below\n[soil]"));
  EXPECT_THAT(
      patched(kText, "plan.free_edges", "\"straight\""),
      HasSubstr("meeting = [\"0 m\", \"0 m\"]\nfree_edges = \"straight\"\n\n# the supports"));
  EXPECT_THAT(patched(kText, "plan.support[2].level", "\"1 m\""),
              HasSubstr("  id = \"b\"\n  level = \"1 m\"\n\n[form]"));
  EXPECT_THAT(patched(kText, "soil.kind", "\"drained\""),
              HasSubstr("last = 1\nkind = \"drained\"\n"));
  EXPECT_EQ(patched("[form]", "form.rise", "1"), "[form]\nrise = 1\n");
  EXPECT_EQ(patched("[form]\r\n[soil]\r\n", "form.rise", "1"), "[form]\r\nrise = 1\r\n[soil]\r\n");
  EXPECT_EQ(patched("# a\n[form]\nr = 1\n", "top", "1"), "top = 1\n# a\n[form]\nr = 1\n");
}

TEST(PatchText, PutsATableAtTheEnd) {
  EXPECT_THAT(patched(kText, "joints.friction", "0.6"),
              HasSubstr("last = 1\n\n[joints]\nfriction = 0.6\n"));
  EXPECT_THAT(patched(kText, "plan.support[3].id", "\"c\""),
              HasSubstr("last = 1\n\n[[plan.support]]\nid = \"c\"\n"));
  EXPECT_THAT(patched(kText, "ground.tie[1].id", "\"t\""),
              HasSubstr("\n[[ground.tie]]\nid = \"t\"\n"));
  // [lifting] is there only as part of another header
  EXPECT_EQ(patched("[[lifting.chart]]\nr = 1\n", "lifting.hook_max", "2"),
            "[[lifting.chart]]\nr = 1\n\n[lifting]\nhook_max = 2\n");
  const Result<std::string> both =
      patch_text(kText, {{"joints.friction", "0.6"}, {"joints.pad_thickness", "\"8 mm\""}}, "b");
  ASSERT_TRUE(both.ok());
  EXPECT_THAT(*both, HasSubstr("[joints]\nfriction = 0.6\npad_thickness = \"8 mm\"\n"));
}

TEST(PatchText, DotsAndTablesOnOneLine) {
  EXPECT_THAT(patched(kText, "soil.site.turn", "1"), HasSubstr("site.turn = 1\n"));
  EXPECT_THAT(patched(kText, "soil.box.y", "5"), HasSubstr("box = { x = 1, y = 5 }\n"));
  EXPECT_THAT(patched(kText, "soil.box.z", "5"), HasSubstr("box = { x = 1, y = 2, z = 5 }\n"));
  EXPECT_THAT(refusal(kText, "soil.site.date", "1"), HasSubstr("dots"));
  EXPECT_THAT(refusal(kText, "soil.box.x", ""), HasSubstr("one line"));
}

TEST(PatchText, AddsAndTakesOutMembersOfLists) {
  EXPECT_THAT(patched(kText, "plan.outline[3]", "[\"4 m\", \"2 m\"]"),
              HasSubstr("[\"4 m\", \"0 m\"], [\"4 m\", \"2 m\"],\n]"));
  EXPECT_EQ(patched("[a]\nb = []", "a.b[1]", "7"), "[a]\nb = [7]");
  EXPECT_THAT(
      patched(kText, "plan.outline[1]", ""),
      HasSubstr("outline = [ # in plan\n  # first, with a comma\n  [\"4 m\", \"0 m\"],\n]"));
  EXPECT_EQ(patched("[a]\nb = [1, 2, 3]", "a.b[3]", ""), "[a]\nb = [1, 2]");
  EXPECT_EQ(patched("[a]\nb = [1, 2, 3]", "a.b[2]", ""), "[a]\nb = [1, 3]");
  EXPECT_EQ(patched("[a]\nb = [1]", "a.b[1]", ""), "[a]\nb = []");
  EXPECT_THAT(refusal(kText, "plan.outline[9]", "1"), HasSubstr("2 members"));
}

// A comma in a comment behind a member is not its own.
TEST(PatchText, TheCommaBehindAMemberMayStandBehindItsComment) {
  EXPECT_EQ(patched("[a]\nb = [ 1 # one, of two\n  , 2 ]", "a.b[1]", ""),
            "[a]\nb = [  # one, of two\n  2 ]");
}

TEST(PatchText, TablesOfAListAreAddedOneAfterTheOther) {
  EXPECT_THAT(refusal(kText, "plan.support[4].id", "\"d\""), HasSubstr("there are 2 of"));
  EXPECT_THAT(refusal("[a]\nb = [1, 2]\n", "a.b[3].c", "1"), HasSubstr("no tables"));
}

TEST(PatchText, TakesOutAKeyAndKeepsTheRest) {
  EXPECT_THAT(patched(kText, "form.rise", ""), HasSubstr("[form]\n# of it\n\n# soil, below"));
  EXPECT_THAT(patched(kText, "plan.outline", ""),
              HasSubstr("[plan]   # drawn\nmeeting = [\"0 m\", \"0 m\"]\n"));
  EXPECT_EQ(patched("[a]\nb = 1", "a.b", ""), "[a]\n");
  refusal(kText, "form.no_such", "");
  EXPECT_THAT(refusal(kText, "plan.support[2]", ""), HasSubstr("table"));
}

TEST(PatchText, RefusesWhatIsNoValueOrNoKey) {
  for (const char* value : {"3\n[evil]", "3\nb = 4", "3 # c", "\"open", "", " 3", "3 ", "[1", "x"})
    if (*value != '\0') refusal(kText, "form.rise", value);
  for (const char* key : {"", ".", "a..b", "a.", "a[0]", "a[", "a[x]", "a]b", "a b", "a\nb", "[1]",
                          "a[99999999999999999999]"})
    refusal(kText, key, "1");
  EXPECT_FALSE(patch_text("a = \n", {{"b", "1"}}, "f").ok());
  EXPECT_THAT(refusal(kText, "plan.support", "1"), HasSubstr("table"));
  EXPECT_THAT(refusal(kText, "form.rise.x", "1"), HasSubstr("no table"));
}

TEST(PatchText, KeepsTheMarkOfUtf8) {
  const std::string mark = "\xEF\xBB\xBF";
  EXPECT_EQ(patched(mark + "[a]\nb = \"é\" # é\n", "a.b", "2"), mark + "[a]\nb = 2 # é\n");
}

}  // namespace
}  // namespace skewback::lodge
