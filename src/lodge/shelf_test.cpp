#include "lodge/shelf.hpp"

#include <gtest/gtest.h>

#include <map>

#include "deliver/sample_dossier.hpp"

namespace skewback::lodge {
namespace {

using DossierPtr = std::shared_ptr<const Dossier>;

// What a desk would say, set by hand.
struct Told {
  int revision = 5;
  std::map<Part, Known> parts;

  void put(Part part, int of, DossierPtr dossier) {
    parts[part].of = of;
    parts[part].dossier = std::move(dossier);
  }
  [[nodiscard]] Source source() const {
    return {[this](Part part) {
              const auto found = parts.find(part);
              return found == parts.end() ? Known{} : found->second;
            },
            [this] { return revision; }};
  }
};

DossierPtr proved() { return std::make_shared<const Dossier>(sample::small_dossier()); }
DossierPtr shaped_only() {
  Dossier dossier;
  dossier.brief = sample::small_brief();
  dossier.form = sample::small_form();
  return std::make_shared<const Dossier>(std::move(dossier));
}

nlohmann::json head_of(const Shown& shown) {
  const auto byte = [&](std::size_t i) {
    return static_cast<std::size_t>(static_cast<unsigned char>(shown.bytes[i]));
  };
  const std::size_t length = byte(4) | byte(5) << 8 | byte(6) << 16 | byte(7) << 24;
  return nlohmann::json::parse(shown.bytes.substr(8, length));
}

TEST(NewestFirst, OfOneRevisionTheOneThatWentFurthest) {
  Told told;
  const DossierPtr a = proved(), b = proved(), c = proved();
  told.put(Part::kWhole, 3, a);
  told.put(Part::kProof, 4, b);
  told.put(Part::kShape, 5, shaped_only());
  told.put(Part::kBlocks, 4, c);
  const auto all = newest_first(told.source());
  ASSERT_EQ(all.size(), 4U);
  EXPECT_EQ(all[0].of, 5);
  EXPECT_TRUE(all[0].fresh);
  EXPECT_EQ(all[1].dossier, b);
  EXPECT_EQ(all[2].dossier, c);
  EXPECT_EQ(all[3].dossier, a);
  EXPECT_FALSE(all[3].fresh);
}

TEST(Shelf, NothingKnownNothingShown) {
  const Told told;
  Shelf shelf(told.source());
  for (const std::string& name : view_names()) EXPECT_FALSE(shelf.view(name, {})) << name;
  EXPECT_TRUE(shelf.findings().at("list").empty());
  EXPECT_FALSE(shelf.node(Vec2(0, 0)));
}

TEST(Shelf, BlocksOfTheLastRevisionThatHasThemMarkedStale) {
  Told told;
  told.put(Part::kProof, 4, proved());
  told.put(Part::kShape, 5, shaped_only());
  Shelf shelf(told.source());
  const auto stale = shelf.view("blocks", {});
  ASSERT_TRUE(stale);
  EXPECT_EQ(head_of(*stale).at("view"), "blocks");
  EXPECT_EQ(head_of(*stale).at("of"), 4);
  EXPECT_EQ(head_of(*stale).at("fresh"), false);
  told.put(Part::kProof, 5, told.parts[Part::kProof].dossier);
  const auto fresh = shelf.view("blocks", {});
  ASSERT_TRUE(fresh);
  EXPECT_EQ(head_of(*fresh).at("fresh"), true);
  EXPECT_NE(stale->tag, fresh->tag);
}

TEST(Shelf, TheSameAgainHasTheSameTag) {
  Told told;
  told.put(Part::kProof, 5, proved());
  Shelf one(told.source()), other(told.source());
  const auto first = one.view("proof", {}), again = one.view("proof", {}),
             elsewhere = other.view("proof", {});
  ASSERT_TRUE(first && again && elsewhere);
  EXPECT_EQ(first->tag, again->tag);
  EXPECT_EQ(first->bytes, again->bytes);
  EXPECT_EQ(first->tag, elsewhere->tag);
  EXPECT_FALSE(one.view("proof", {{"case", "no such case"}}));
}

TEST(Shelf, AnotherDossierOfTheSameRevisionIsShownAnew) {
  Told told;
  told.put(Part::kProof, 5, proved());
  Shelf shelf(told.source());
  const auto before = shelf.view("proof", {});
  Dossier worse = sample::small_dossier();
  ASSERT_FALSE(worse.proofs.empty());
  worse.proofs.front().verdict = Verdict::kFalls;
  told.put(Part::kProof, 5, std::make_shared<const Dossier>(std::move(worse)));
  const auto after = shelf.view("proof", {});
  ASSERT_TRUE(before && after);
  EXPECT_NE(before->tag, after->tag);
}

const nlohmann::ordered_json* found_in(const nlohmann::ordered_json& list, const std::string& id) {
  for (const auto& f : list)
    if (f.at("id") == id) return &f;
  return nullptr;
}

// After a change the ground was not looked at yet: what was said of it stays, as of then.
TEST(Shelf, SentencesOfAnOlderWholeStayMarked) {
  Told told;
  told.put(Part::kWhole, 4, proved());
  const auto fresh = Shelf(told.source()).findings();
  const auto* of_ties = found_in(fresh.at("list"), "ties");
  ASSERT_NE(of_ties, nullptr);
  EXPECT_FALSE(of_ties->contains("stale"));
  Dossier live = *proved();
  live.ground.reset();
  live.required.clear();
  told.put(Part::kProof, 5, std::make_shared<const Dossier>(std::move(live)));
  const auto found = Shelf(told.source()).findings();
  EXPECT_EQ(found.at("of"), 5);
  const auto* kept = found_in(found.at("list"), "ties");
  ASSERT_NE(kept, nullptr);
  EXPECT_EQ(kept->at("stale"), 4);
  EXPECT_EQ(kept->at("says"), of_ties->at("says"));
  const auto* factor = found_in(found.at("list"), "live_factor");
  ASSERT_NE(factor, nullptr);
  EXPECT_FALSE(factor->contains("stale")) << "of the newest proof";
}

TEST(Shelf, WhatAnEditMendedIsNotKept) {
  Told told;
  Dossier falls = *proved();
  falls.proofs.front().verdict = Verdict::kFalls;
  told.put(Part::kWhole, 4, std::make_shared<const Dossier>(falls));
  ASSERT_NE(found_in(Shelf(told.source()).findings().at("list"), "falls"), nullptr);
  for (CaseProof& proof : falls.proofs) proof.verdict = Verdict::kStands;
  falls.ground.reset();
  falls.required.clear();
  told.put(Part::kProof, 5, std::make_shared<const Dossier>(std::move(falls)));
  EXPECT_EQ(found_in(Shelf(told.source()).findings().at("list"), "falls"), nullptr);
}

TEST(Shelf, APartThatDidNotComeOutHasItsSentence) {
  Told told;
  told.put(Part::kProof, 4, proved());
  told.parts[Part::kShape].failed = "a shell that crosses itself";
  told.parts[Part::kBlocks].failed = "a shell that crosses itself";
  const auto list = Shelf(told.source()).findings().at("list");
  EXPECT_EQ(list.at(0).at("id"), "shape");
  EXPECT_EQ(list.at(0).at("weight"), 0);
  EXPECT_EQ(list.at(0).at("says"), "The shape did not come out: a shell that crosses itself.");
  EXPECT_EQ(found_in(list, "blocks"), nullptr) << "the same reason once";
  told.parts[Part::kShape].let_go = told.parts[Part::kBlocks].let_go = true;
  EXPECT_EQ(found_in(Shelf(told.source()).findings().at("list"), "shape"), nullptr) << "stopped";
}

TEST(Shelf, SentencesStayWithTheProofWhileTheShapeMoves) {
  Told told;
  told.put(Part::kProof, 4, proved());
  told.put(Part::kShape, 5, shaped_only());
  const Shelf shelf(told.source());
  const auto found = shelf.findings();
  EXPECT_EQ(found.at("of"), 4);
  EXPECT_EQ(found.at("fresh"), false);
  EXPECT_FALSE(found.at("list").empty());
}

}  // namespace
}  // namespace skewback::lodge
