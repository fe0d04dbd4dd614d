// The desk and what lies on the disk: the brief's own file, files saved, files that it names.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <memory>

#include "lodge/sample_desk.hpp"

namespace skewback::lodge {
namespace {

using ::testing::HasSubstr;

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
  EXPECT_THAT(describe(barred->front()), HasSubstr("form.target: found no such file at"));
  EXPECT_FALSE(nothing_to_go_to(barred));
  EXPECT_EQ(desk().revision(), 3);
  EXPECT_EQ(desk().state()["undo"], true);
  write();
  EXPECT_FALSE(desk().undo());
  EXPECT_EQ(desk().revision(), 4);
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

// Told while something is worked out too, which may take minutes.
TEST_F(DeskTest, SeesThatTheFileIsAnotherWhileItWorks) {
  const auto idle = [&] { return desk().state()["busy"].is_null(); };
  ASSERT_TRUE(settled() && soon(idle));
  const auto told = std::make_shared<std::atomic<bool>>(false);
  desk().listen([told](const std::string& what, const nlohmann::ordered_json& state) {
    if (what == "state" && state["disk"] == "changed" && !state["busy"].is_null()) *told = true;
  });
  desk().run_whole();
  std::ofstream(folder_ / "brief.toml", std::ios::app) << "# another hand\n";
  EXPECT_TRUE(soon([&] { return *told || idle(); }));
  EXPECT_TRUE(*told);
}

TEST_F(DeskTest, NoFileOutsideTheFolderIsNamedByAChange) {
  ASSERT_TRUE(settled());
  const auto faults = desk().edit(1, {{"survey.file", "\"../secret.csv\""}});
  ASSERT_TRUE(faults);
  EXPECT_EQ(desk().revision(), 1);
  EXPECT_THAT(describe(faults->front()), HasSubstr("survey.file"));
}

TEST_F(DeskTest, FaultsOfTheFileAreThoseOfTheBrief) {
  const auto none = Desk::open({.brief = folder_ / "no.toml"});
  ASSERT_FALSE(none.ok());
  EXPECT_THAT(none.faults().front().found, HasSubstr("no such file"));
}
}  // namespace
}  // namespace skewback::lodge
