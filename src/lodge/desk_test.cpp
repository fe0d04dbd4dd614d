#include "lodge/desk.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <condition_variable>
#include <fstream>
#include <mutex>
#include <sstream>
#include <thread>

#include "brief/by_key.hpp"

namespace skewback::lodge {
namespace {

using ::testing::HasSubstr;
namespace fs = std::filesystem;

std::string slurp(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

// A brief in a folder of its own, and a desk on it.
class DeskTest : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() /
              ("skewback-desk-" + std::to_string(::getpid()) + "-" +
               ::testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::remove_all(folder_);
    fs::create_directories(folder_);
    fs::copy(fs::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml",
             folder_ / "brief.toml");
  }
  void TearDown() override {
    desk_.reset();
    fs::remove_all(folder_);
  }

  Desk& desk(double one_move_s = 0) {
    if (desk_) return *desk_;
    Result<std::unique_ptr<Desk>> opened =
        Desk::open({.brief = folder_ / "brief.toml", .one_move_s = one_move_s});
    if (!opened) throw std::runtime_error(describe(opened.faults().front()));
    desk_ = std::move(opened).value();
    return *desk_;
  }

  // Until it holds, for two minutes at most.
  template <class Holds>
  static bool soon(Holds holds) {
    for (int i = 0; i < 6000; ++i) {
      if (holds()) return true;
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    return false;
  }
  bool settled() {
    return soon([&] { return desk().state()["parts"]["proof"]["fresh"] == true; });
  }
  void change(const std::string& key, const std::string& text) {
    const auto faults = desk().edit(desk().revision(), {{key, text}});
    ASSERT_FALSE(faults) << describe(faults->front());
  }

  static bool nothing_to_go_to(const std::optional<Faults>& faults) {
    return faults && faults->front().key == "revision";
  }

  fs::path folder_;
  std::unique_ptr<Desk> desk_;
};

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

// A way back that is barred says why, stays open for later, and changes nothing.
TEST_F(DeskTest, UndoOfABriefThatIsGoodNoMoreSaysWhy) {
  const fs::path surface = folder_ / "surface.ply";
  const auto write = [&] {
    std::ofstream(surface)
        << "ply\nformat ascii 1.0\nelement vertex 5\nproperty double x\nproperty double y\n"
           "property double z\nelement face 4\nproperty list uchar int vertex_indices\n"
           "end_header\n-9 -9 1\n9 -9 1\n9 9 1\n-9 9 1\n0 0 1\n"
           "3 0 1 4\n3 1 2 4\n3 2 3 4\n3 3 0 4\n";
  };
  write();
  const auto both = [&](const std::string& file, const std::string& unit) {
    const auto faults =
        desk().edit(desk().revision(), {{"form.target", file}, {"form.target_unit", unit}});
    ASSERT_FALSE(faults) << describe(faults->front());
  };
  both("\"surface.ply\"", "\"m\"");
  both("", "");
  fs::remove(surface);
  const auto barred = desk().undo();
  ASSERT_TRUE(barred);
  EXPECT_THAT(describe(barred->front()), HasSubstr("surface.ply: found no such file"));
  EXPECT_FALSE(nothing_to_go_to(barred));
  EXPECT_EQ(desk().revision(), 3);
  EXPECT_EQ(desk().state()["undo"], true);
  write();
  EXPECT_FALSE(desk().undo());
  EXPECT_EQ(desk().revision(), 4);
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

TEST_F(DeskTest, SavesBesideTheBriefAndNeverOverAFile) {
  const std::string old = slurp(folder_ / "brief.toml");
  change("form.rise", "\"1.9 m\"");
  EXPECT_FALSE(desk().save("brief").ok());
  EXPECT_FALSE(desk().save("brief.toml").ok());
  for (const char* name : {"", "../x", "a/b", "a b", ".hidden", "x.toml.toml", "a\n", ".toml"})
    EXPECT_FALSE(desk().save(name).ok()) << name;
  EXPECT_EQ(slurp(folder_ / "brief.toml"), old);
  const auto file = desk().save("flatter");
  ASSERT_TRUE(file.ok());
  EXPECT_EQ(*file, folder_ / "flatter.toml");
  EXPECT_EQ(slurp(*file), desk().brief().text);
  EXPECT_THAT(slurp(*file), HasSubstr("# A straight arch of solid stone"));
  EXPECT_EQ(desk().state()["saved"], true);
  EXPECT_EQ(desk().state()["file"], "flatter.toml");
  EXPECT_FALSE(desk().save("flatter").ok());
  fs::create_symlink(folder_ / "nowhere", folder_ / "link.toml");
  EXPECT_FALSE(desk().save("link").ok());
  EXPECT_TRUE(read_brief(*file).ok());
}

TEST_F(DeskTest, SeesThatTheFileIsAnotherAndTakesItUp) {
  EXPECT_EQ(desk().state()["disk"], "same");
  const std::string first = slurp(folder_ / "brief.toml");
  std::string other = first;
  other.replace(other.find("1.8 m"), 5, "1.7 m");
  std::ofstream(folder_ / "brief.toml", std::ios::binary) << other;
  ASSERT_TRUE(soon([&] { return desk().state()["disk"] == "changed"; }));
  EXPECT_EQ(desk().brief().form.rise_m, 1.8);
  const auto old = desk().reread(0);
  ASSERT_TRUE(old);
  EXPECT_EQ(old->front().key, "revision");
  EXPECT_FALSE(desk().reread(desk().revision()));
  EXPECT_EQ(desk().brief().form.rise_m, 1.7);
  EXPECT_EQ(desk().state()["disk"], "same");
  EXPECT_EQ(desk().state()["saved"], true);
  EXPECT_FALSE(desk().undo());
  EXPECT_EQ(desk().brief().text, first);
  EXPECT_EQ(desk().state()["saved"], false);
  // no good: said, and nothing changes
  std::ofstream(folder_ / "brief.toml", std::ios::binary) << "rise = ";
  ASSERT_TRUE(soon([&] { return desk().state()["disk"] == "changed"; }));
  EXPECT_TRUE(desk().reread(desk().revision()));
  EXPECT_EQ(desk().brief().text, first);
  fs::remove(folder_ / "brief.toml");
  EXPECT_TRUE(soon([&] { return desk().state()["disk"] == "gone"; }));
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
  ASSERT_TRUE(soon([&] { return !desk().state()["busy"].is_null(); }));
  desk().stop();
  ASSERT_TRUE(soon([&] { return desk().state()["parts"]["whole"]["failed"] == "stopped"; }));
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

TEST_F(DeskTest, NoFileOutsideTheFolderIsNamedByAChange) {
  ASSERT_TRUE(settled());
  const auto faults = desk().edit(1, {{"survey.file", "\"../secret.csv\""}});
  ASSERT_TRUE(faults);
  EXPECT_EQ(desk().revision(), 1);
  EXPECT_THAT(describe(faults->front()), HasSubstr("survey.file"));
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

TEST_F(DeskTest, FaultsOfTheFileAreThoseOfTheBrief) {
  const auto none = Desk::open({.brief = folder_ / "no.toml"});
  ASSERT_FALSE(none.ok());
  EXPECT_THAT(none.faults().front().found, HasSubstr("no such file"));
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
