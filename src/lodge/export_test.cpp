#include "lodge/export.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "deliver/sample_dossier.hpp"
#include "lodge/export_page.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

// What the part of that name holds; nothing where there is none.
std::optional<std::string> part(const std::string& html, const std::string& name) {
  const auto at = html.find("=\"" + name + "\">");
  if (at == std::string::npos) return {};
  const auto from = html.find('>', at) + 1;
  return html.substr(from, html.find("</script>", from) - from);
}

TEST(ExportHtml, HoldsWhatTheServerWouldTell) {
  const Dossier d = sample::small_dossier();
  const std::string html = export_html(d, "<html><!--SHEAVES--></html>");
  Sheaf blocks = *blocks_view(d);
  blocks.head["of"] = 1;
  blocks.head["fresh"] = true;
  EXPECT_EQ(part(html, "blocks"), base64(packed(blocks.bytes())));
  for (const char* name : {"shape", "proof", "proof?case=dead", "proof?case=half%2C%20west"})
    EXPECT_TRUE(part(html, name)) << name;
  EXPECT_FALSE(part(html, "stages"));  // there is no programme in it
  const auto state = nlohmann::json::parse(*part(html, "/api/state"));
  EXPECT_EQ(state["title"], "Little arch <A & B>");
  EXPECT_EQ(state["folder"], "");
  EXPECT_EQ(state["parts"]["proof"]["of"], 1);
  const auto findings = nlohmann::json::parse(*part(html, "/api/findings"));
  EXPECT_TRUE(findings["list"].is_array());
  EXPECT_FALSE(findings["list"].empty());
  EXPECT_THAT(html, Not(HasSubstr("<A")));  // no text of the bridge is markup
  EXPECT_EQ(html, export_html(d, "<html><!--SHEAVES--></html>"));
}

TEST(ExportHtml, NamesWhatItLeavesOut) {
  const Dossier d = sample::small_dossier();
  const std::string html = export_html(d, "<!--SHEAVES-->", {}, 1);
  EXPECT_TRUE(part(html, "proof"));  // the first is always there
  EXPECT_FALSE(part(html, "proof?case=dead"));
  const auto left = nlohmann::json::parse(*part(html, "left-out")).get<std::vector<std::string>>();
  EXPECT_THAT(left, testing::IsSupersetOf({"proof?case=dead", "proof?case=half%2C%20west"}));
  const std::string all = export_html(d, "<!--SHEAVES-->");
  EXPECT_EQ(*part(all, "left-out"), "[]");
}

// As much as fits of the worst cases, all of them together.
TEST(ExportHtml, KeepsTheWorstCasesFirst) {
  const Dossier d = sample::small_dossier();
  const std::size_t one = proof_view(d, "half: west")->bytes().size();
  // the first, which is always there, that of the worst and half of another
  const std::string html = export_html(d, "<!--SHEAVES-->", {}, 2 * one + one / 2);
  EXPECT_TRUE(part(html, "proof"));
  EXPECT_TRUE(part(html, "proof?case=half%3A%20west")) << "undecided";
  EXPECT_FALSE(part(html, "proof?case=dead"));
  const auto left = nlohmann::json::parse(*part(html, "left-out")).get<std::vector<std::string>>();
  EXPECT_THAT(left, testing::Not(testing::Contains("proof?case=half%3A%20west")));
}

TEST(ExportHtml, LayersHaveARoomOfTheirOwn) {
  const Dossier d = sample::small_dossier();
  const Sheaf first = *layers_view(d, "");
  const std::size_t one = first.bytes().size();
  const std::string html = export_html(d, "<!--SHEAVES-->", {}, one + one / 2);
  EXPECT_TRUE(part(html, "layers?block=" + first.head.at("block").get<std::string>()));
}

TEST(ExportHtml, WhatIsNotWorkedOutIsNotFresh) {
  Dossier d = sample::small_dossier();
  d.proofs.clear();
  const auto state = nlohmann::json::parse(*part(export_html(d, "<!--SHEAVES-->"), "/api/state"));
  EXPECT_EQ(state["parts"]["shape"]["fresh"], true);
  EXPECT_EQ(state["parts"]["proof"]["fresh"], false);
  EXPECT_TRUE(state["parts"]["proof"]["of"].is_null());
  EXPECT_EQ(state["parts"]["whole"]["fresh"], true) << "there is a ground, no programme";
}

nlohmann::json json_part(const std::string& html, const std::string& name) {
  return nlohmann::json::parse(part(html, name).value());
}

TEST(ExportHtml, WithNothingToWarnOfItSaysNothing) {
  const std::string html = export_html(sample::small_dossier(), "<!--SHEAVES-->");
  EXPECT_NE(json_part(html, "/api/findings")["list"][0]["id"], "draft");
  EXPECT_EQ(json_part(html, "/api/findings")["fresh"], true);
  EXPECT_EQ(draft_words({}), "");
}

/// A desk at revision 4: what it knows of each part is set by the tests.
struct SomeDesk {
  std::shared_ptr<const Dossier> all = std::make_shared<const Dossier>(sample::small_dossier());
  std::map<Part, Known> parts;
  int revision = 4;
  [[nodiscard]] Source source() {
    return {[this](Part part) { return parts[part]; }, [this] { return revision; }};
  }
  void knows(Part part, int of, const std::string& draft = "", const std::string& failed = "") {
    parts[part] = {of, all, failed, draft, 0};
  }
};

TEST(ExportHtml, ADraftSaysWhatItLacks) {
  SomeDesk desk;
  desk.knows(Part::kShape, 4);
  desk.knows(Part::kBlocks, 4);
  desk.knows(Part::kProof, 4, "3 of 53 cases are proved so far");
  desk.knows(Part::kWhole, 2);
  const auto file = export_newest(desk.source(), "<!--SHEAVES-->");
  ASSERT_TRUE(file);
  EXPECT_TRUE(file->draft);
  const auto state = json_part(file->html, "/api/state");
  EXPECT_EQ(state["revision"], 4);
  EXPECT_EQ(state["parts"]["blocks"]["fresh"], true);
  EXPECT_EQ(state["parts"]["proof"]["of"], 4);
  EXPECT_EQ(state["parts"]["proof"]["fresh"], false);
  EXPECT_EQ(state["parts"]["proof"]["draft"], "3 of 53 cases are proved so far");
  const auto findings = json_part(file->html, "/api/findings");
  EXPECT_EQ(findings["fresh"], false);
  EXPECT_EQ(findings["list"][0]["says"],
            "This file is a draft: 3 of 53 cases are proved so far. Left out, since only an older "
            "revision of it is known: the whole (revision 2).");
  const auto fresh = [&](Sheaf sheaf, bool is) {
    sheaf.head["of"] = 4;
    sheaf.head["fresh"] = is;
    return base64(packed(sheaf.bytes()));
  };
  EXPECT_EQ(part(file->html, "blocks"), fresh(*blocks_view(*desk.all), true));
  EXPECT_EQ(part(file->html, "proof"), fresh(*proof_view(*desk.all, ""), false));
}

TEST(ExportHtml, WhatTheBriefHasGoneOnFromSaysSo) {
  SomeDesk desk;
  desk.knows(Part::kProof, 3);
  const auto file = export_newest(desk.source(), "<!--SHEAVES-->");
  ASSERT_TRUE(file);
  EXPECT_TRUE(file->draft);
  const auto state = json_part(file->html, "/api/state");
  EXPECT_EQ(state["revision"], 4);
  EXPECT_EQ(state["parts"]["proof"]["of"], 3);
  EXPECT_EQ(state["parts"]["shape"]["fresh"], false);
  EXPECT_EQ(json_part(file->html, "/api/findings")["list"][0]["says"],
            "All in this file is of revision 3; the brief has gone on to revision 4.");
}

TEST(ExportHtml, WhatDidNotComeOutSaysWhy) {
  SomeDesk desk;
  desk.knows(Part::kBlocks, 4);
  desk.knows(Part::kProof, 3, "", "stopped");
  const auto file = export_newest(desk.source(), "<!--SHEAVES-->");
  EXPECT_TRUE(file->draft);
  EXPECT_EQ(json_part(file->html, "/api/findings")["list"][0]["says"],
            "The proof did not come out: stopped. Left out, since only an older revision of it is "
            "known: the proof (revision 3).");
}

TEST(ExportHtml, WhatIsNotProvedYetIsADraft) {
  SomeDesk desk;
  Dossier cut = sample::small_dossier();
  cut.proofs.clear();
  desk.all = std::make_shared<const Dossier>(cut);
  desk.knows(Part::kShape, 4);
  desk.knows(Part::kBlocks, 4);
  const auto file = export_newest(desk.source(), "<!--SHEAVES-->");
  EXPECT_TRUE(file->draft);
  EXPECT_EQ(json_part(file->html, "/api/findings")["list"][0]["says"],
            "This file is a draft: nothing of it is proved yet.");
  EXPECT_EQ(json_part(file->html, "/api/state")["parts"]["blocks"]["fresh"], true);
}

TEST(ExportHtml, NothingYetIsNoFile) {
  SomeDesk desk;
  EXPECT_FALSE(export_newest(desk.source(), "<!--SHEAVES-->"));
  desk.knows(Part::kProof, 4);
  EXPECT_FALSE(export_newest(desk.source(), "<!--SHEAVES-->")->draft);
}

}  // namespace
}  // namespace skewback::lodge
