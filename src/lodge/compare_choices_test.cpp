#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "lodge/compare.hpp"

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;

TEST(BriefsBeside, ThoseOfTheFolderByName) {
  const fs::path folder = fs::temp_directory_path() / "skewback-briefs-beside";
  fs::remove_all(folder);
  fs::create_directories(folder / "folder.toml");
  for (const char* name : {"thin.toml", "brief.toml", "notes.txt", "a.toml"})
    std::ofstream(folder / name) << "# planned\n[bridge]\nname = \"x\"\n  [[plan.support]]\n";
  std::ofstream(folder / "over.toml") << "# plans to try\n[over]\n";  // no brief
  EXPECT_THAT(briefs_beside(folder, "brief.toml"), testing::ElementsAre("a.toml", "thin.toml"));
  fs::remove_all(folder);
  EXPECT_THAT(briefs_beside(folder, "brief.toml"), testing::IsEmpty());
}

}  // namespace
}  // namespace skewback::lodge
