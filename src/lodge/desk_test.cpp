#include "lodge/desk.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <condition_variable>
#include <mutex>

#include "brief/by_key.hpp"
#include "lodge/sample_desk.hpp"

namespace skewback::lodge {
namespace {

using ::testing::HasSubstr;

TEST_F(DeskTest, WorksOutShapeBlocksAndProofByItself) {
  ASSERT_TRUE(settled()) << desk().state().dump(1);
  const auto state = desk().state();
  EXPECT_EQ(state["name"], "drovers-hop");
  EXPECT_EQ(state["title"], "Drovers' Hop");
  EXPECT_EQ(state["file"], "brief.toml");
  EXPECT_EQ(state["revision"], 1);
  EXPECT_EQ(state["saved"], true);
  EXPECT_EQ(state["undo"], false);
  for (const char* part : {"shape", "blocks", "proof"}) {
    EXPECT_EQ(state["parts"][part]["of"], 1) << part;
    EXPECT_EQ(state["parts"][part]["fresh"], true) << part;
    EXPECT_GT(state["parts"][part]["took_s"].get<double>(), 0) << part;
  }
  EXPECT_TRUE(state["parts"]["whole"]["of"].is_null());
  const Known proof = desk().known(Part::kProof);
  ASSERT_TRUE(proof.dossier);
  EXPECT_EQ(proof.dossier->proofs.size(), proof.dossier->cut->assembly.cases.size());
  for (const CaseProof& one : proof.dossier->proofs) EXPECT_FALSE(one.views.empty()) << one.id;
}

TEST_F(DeskTest, AnEditMakesPartsStaleUntilTheyFollow) {
  ASSERT_TRUE(settled());
  const double before = desk().known(Part::kShape).dossier->form->rise_m;
  change("form.rise", "\"1.9 m\"");
  const auto state = desk().state();
  EXPECT_EQ(state["revision"], 2);
  EXPECT_EQ(state["saved"], false);
  EXPECT_EQ(state["parts"]["proof"]["of"], 1);
  EXPECT_EQ(state["parts"]["proof"]["fresh"], false);
  ASSERT_TRUE(settled());
  EXPECT_EQ(desk().state()["parts"]["proof"]["of"], 2);
  EXPECT_NEAR(before, 1.8, 1e-6);
  EXPECT_NEAR(desk().known(Part::kShape).dossier->form->rise_m, 1.9, 1e-6);
  EXPECT_NEAR(desk().known(Part::kProof).dossier->brief.form.rise_m, 1.9, 1e-12);
}

TEST_F(DeskTest, NewestEditWinsOverWorkOnTheWay) {
  for (int i = 0; i < 8; ++i) change("form.rise", "\"1." + std::to_string(70 + i) + " m\"");
  ASSERT_TRUE(settled());
  EXPECT_EQ(desk().state()["parts"]["proof"]["of"], 9);
  EXPECT_NEAR(desk().known(Part::kProof).dossier->form->rise_m, 1.77, 1e-6);
}

TEST_F(DeskTest, RefusesAnOldRevisionAndABadBriefAndChangesNothing) {
  change("form.rise", "\"1.9 m\"");
  const auto late = desk().edit(1, {{"form.rise", "\"1.7 m\""}});
  ASSERT_TRUE(late);
  EXPECT_EQ(late->front().key, "revision");
  const auto wrong =
      desk().edit(2, {{"joints.friction", "0.5"}, {"form.rise", "\"1.7 kg\""}, {"form.q", "1"}});
  ASSERT_TRUE(wrong);
  EXPECT_EQ(wrong->size(), 2u);
  EXPECT_GT(wrong->front().line, 0);
  EXPECT_EQ(desk().revision(), 2);
  EXPECT_NEAR(desk().brief().form.rise_m, 1.9, 1e-12);
  EXPECT_NEAR(desk().brief().joints.friction, 0.6, 1e-12);
}

TEST_F(DeskTest, UndoAndRedoGoBackByteForByte) {
  const std::string text = desk().brief().text;
  EXPECT_TRUE(nothing_to_go_to(desk().undo()));
  EXPECT_TRUE(nothing_to_go_to(desk().redo()));
  change("form.rise", "\"1.9 m\"");
  change("joints.friction", "0.55");
  const std::string last = desk().brief().text;
  EXPECT_FALSE(desk().undo());
  EXPECT_FALSE(desk().undo());
  EXPECT_TRUE(nothing_to_go_to(desk().undo()));
  EXPECT_EQ(desk().brief().text, text);
  EXPECT_EQ(desk().state()["saved"], true);
  EXPECT_EQ(desk().revision(), 5);  // going back is a change too
  EXPECT_FALSE(desk().redo());
  EXPECT_FALSE(desk().redo());
  EXPECT_EQ(desk().brief().text, last);
  EXPECT_FALSE(desk().undo());
  change("form.rise", "\"2 m\"");
  EXPECT_TRUE(nothing_to_go_to(desk().redo()));
}

TEST_F(DeskTest, OneMoveOfTheHandIsUndoneAsOne) {
  const std::string text = desk(60).brief().text;
  for (const char* rise : {"\"1.81 m\"", "\"1.82 m\"", "\"1.83 m\""}) change("form.rise", rise);
  change("joints.friction", "0.5");
  EXPECT_FALSE(desk().undo());
  EXPECT_NEAR(desk().brief().form.rise_m, 1.83, 1e-12);
  EXPECT_FALSE(desk().undo());
  EXPECT_EQ(desk().brief().text, text);
}

TEST_F(DeskTest, KeepsWhyAStageHasNoAnswer) {
  ASSERT_TRUE(settled());
  // pads as thick as the courses leave nothing between the joints
  ASSERT_FALSE(desk().edit(1, {{"joints.pad_thickness", "\"100 mm\""}, {"blocks.count", "121"}}));
  ASSERT_TRUE(soon([&] { return desk().state()["parts"]["proof"]["failed"] != ""; }));
  const auto state = desk().state();
  EXPECT_EQ(state["parts"]["proof"]["fresh"], false);
  EXPECT_EQ(state["parts"]["proof"]["of"], 1);  // the last that came out is still there
  ASSERT_TRUE(desk().known(Part::kProof).dossier);
  EXPECT_THAT(state["parts"]["proof"]["failed"].get<std::string>(), HasSubstr("course"));
  EXPECT_FALSE(desk().known(Part::kProof).let_go);
  EXPECT_EQ(state["parts"]["shape"]["fresh"], true);
  change("blocks.count", "23");
  ASSERT_TRUE(settled());
  EXPECT_EQ(desk().state()["parts"]["proof"]["failed"], "");
}

TEST_F(DeskTest, TellsWhoListensAndStopsWhenAsked) {
  std::mutex mutex;
  int states = 0, progress = 0;
  desk().listen([&](const std::string& what, const nlohmann::ordered_json& json) {
    const std::lock_guard lock(mutex);
    if (what == "state") {
      ++states;
      EXPECT_TRUE(json.contains("revision"));
    } else {
      EXPECT_EQ(what, "progress");
      EXPECT_TRUE(json.contains("stage") && json.contains("fraction"));
      ++progress;
    }
  });
  ASSERT_TRUE(settled());
  desk().run_whole();
  ASSERT_TRUE(soon([&] {  // begun, not only due
    const auto busy = desk().state()["busy"];
    return !busy.is_null() && busy["stage"] != "waiting";
  }));
  desk().stop();
  ASSERT_TRUE(soon([&] { return desk().state()["parts"]["whole"]["failed"] == "stopped"; }));
  EXPECT_TRUE(desk().known(Part::kWhole).let_go);
  EXPECT_TRUE(soon([&] { return desk().state()["busy"].is_null(); }));
  EXPECT_TRUE(desk().state()["parts"]["whole"]["of"].is_null());
  {
    const std::lock_guard lock(mutex);
    EXPECT_GT(states, 3);
    EXPECT_GT(progress, 0);
  }
  change("form.rise", "\"1.9 m\"");
  desk().stop();
  desk().run_proof();
  EXPECT_TRUE(settled());
}

TEST_F(DeskTest, StopJustAfterAnEditStopsTheWorkItBegan) {
  ASSERT_TRUE(settled());
  change("form.rise", "\"1.9 m\"");
  desk().stop();
  ASSERT_TRUE(soon([&] { return desk().state()["busy"].is_null(); }));
  const auto state = desk().state();
  EXPECT_EQ(state["parts"]["proof"]["fresh"], false);
  EXPECT_EQ(state["parts"]["proof"]["failed"], "stopped");
  EXPECT_TRUE(desk().known(Part::kProof).let_go);
}

TEST_F(DeskTest, WorkBeingStoppedCanBeAskedForAgain) {
  ASSERT_TRUE(settled());
  for (int i = 0; i < 3; ++i) {
    change("form.rise", i % 2 == 0 ? "\"1.9 m\"" : "\"1.8 m\"");
    ASSERT_TRUE(soon([&] { return !desk().state()["busy"].is_null(); }));
    desk().stop();
    desk().run_proof();
    EXPECT_TRUE(settled());
  }
}

TEST_F(DeskTest, AWholeThatGoesIsNotBegunAgain) {
  ASSERT_TRUE(settled());
  desk().run_whole();
  ASSERT_TRUE(soon([&] { return !desk().state()["busy"].is_null(); }));
  for (int i = 0; i < 3; ++i) desk().run_whole();
  ASSERT_TRUE(soon([&] { return desk().state()["parts"]["whole"]["fresh"] == true; }));
  EXPECT_TRUE(soon([&] { return desk().state()["busy"].is_null(); }));
  EXPECT_EQ(desk().state()["parts"]["whole"]["fresh"], true);
}

TEST_F(DeskTest, WorkThatIsDueIsToldOf) {
  ASSERT_TRUE(settled());
  change("form.rise", "\"1.9 m\"");
  EXPECT_FALSE(desk().state()["busy"].is_null());
}

TEST_F(DeskTest, EachStateThatDiffersHasAHigherNumber) {
  ASSERT_TRUE(settled());
  ASSERT_TRUE(soon([&] { return desk().state()["busy"].is_null(); }));
  const auto one = desk().state();
  EXPECT_EQ(desk().state(), one);
  change("form.rise", "\"1.9 m\"");
  EXPECT_GT(desk().state()["told"].get<int>(), one["told"].get<int>());
  EXPECT_EQ(desk().state()["since"], one["since"]);
}

TEST_F(DeskTest, ManyMayAskAndChangeAtOnce) {
  std::vector<std::thread> people;
  std::atomic<int> took{0}, refused{0};
  desk();
  for (int p = 0; p < 4; ++p)
    people.emplace_back([&, p] {
      for (int i = 0; i < 6; ++i) {
        const std::string rise = "\"1." + std::to_string(60 + 6 * p + i) + " m\"";
        (desk().edit(desk().revision(), {{"form.rise", rise}}) ? refused : took)++;
        (void)desk().state();
        (void)desk().keys();
        (void)desk().known(Part::kShape);
        if (i == 3) (void)desk().undo();
      }
    });
  for (std::thread& person : people) person.join();
  EXPECT_GT(took, 0);
  EXPECT_EQ(took + refused, 24);
  ASSERT_TRUE(settled());
  EXPECT_EQ(desk().state()["parts"]["proof"]["of"], desk().revision());
  EXPECT_NEAR(desk().known(Part::kProof).dossier->form->rise_m, desk().brief().form.rise_m, 1e-6);
}

TEST_F(DeskTest, KeysAreThoseOfTheBriefWithTextsAndValues) {
  const auto keys = desk().keys();
  EXPECT_EQ(keys["revision"], 1);
  std::map<std::string, nlohmann::ordered_json> all;
  for (const auto& group : keys["groups"]) {
    EXPECT_FALSE(group["keys"].empty());
    for (const auto& key : group["keys"])
      EXPECT_TRUE(all.emplace(key["key"], key).second) << key["key"];
  }
  EXPECT_EQ(keys["groups"][0]["name"], "plan");
  EXPECT_EQ(all.at("form.rise")["text"], "\"1.8 m\"");
  EXPECT_EQ(all.at("form.rise")["value"], 1.8);
  EXPECT_EQ(all.at("form.rise")["unit"], "m");
  EXPECT_EQ(all.at("form.rise")["given"], true);
  EXPECT_EQ(all.at("section.depth_crown")["value"], 0.28);
  EXPECT_EQ(all.at("blocks.count")["value"], 23);
  EXPECT_EQ(all.at("blocks.count")["written"], "whole");
  EXPECT_EQ(all.at("plan.outline[2][1]")["value"], 4.5);
  EXPECT_EQ(all.at("plan.support[2].id")["text"], "\"east\"");
  EXPECT_EQ(all.at("loads.rail_push")["given"], false);
  EXPECT_EQ(all.at("loads.rail_push")["value"], 1000);
  // each may be written as it stands and the brief is the same
  std::vector<KeyChange> same;
  for (const auto& [key, entry] : all)
    if (entry["given"] == true) same.push_back({key, entry["text"].get<std::string>()});
  const auto text = patch_text(desk().brief().text, same, "b");
  ASSERT_TRUE(text.ok());
  EXPECT_EQ(*text, desk().brief().text);
}

TEST_F(DeskTest, DefaultsShownMayBeWrittenAndChangeNothing) {
  for (const auto& group : desk().keys()["groups"])
    for (const auto& key : group["keys"]) {
      if (key["given"] == true || key["text"] == "") continue;
      // a section that was not there brings needs of its own
      const std::string name = key["key"], section = name.substr(0, name.find_first_of(".["));
      if (desk().brief().text.find("[" + section + "]") == std::string::npos) continue;
      const auto text = patch_text(desk().brief().text, {{name, key["text"]}}, "b");
      ASSERT_TRUE(text.ok()) << name;
      const auto read = read_brief_text(*text, folder_ / "brief.toml");
      EXPECT_TRUE(read.ok()) << name << " = " << key["text"] << ": "
                             << (read.ok() ? "" : describe(read.faults().front()));
    }
}
}  // namespace
}  // namespace skewback::lodge
