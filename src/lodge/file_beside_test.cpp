#include "lodge/file_beside.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;

class FileBeside : public ::testing::Test {
 protected:
  void SetUp() override {
    fs::remove_all(root_);
    fs::create_directories(root_ / "bridge/inner");
    for (const char* name : {"outside.toml", "bridge/flatter.toml", "bridge/inner/x.toml",
                             "bridge/.hidden.toml", "bridge/notes.txt"})
      std::ofstream(root_ / name) << "name = 1\n";
    fs::create_directories(root_ / "bridge/folder.toml");
    fs::create_symlink(root_ / "outside.toml", root_ / "bridge/link.toml");
    fs::create_symlink(root_ / "bridge/flatter.toml", root_ / "bridge/same.toml");
  }
  void TearDown() override { fs::remove_all(root_); }
  fs::path root_ = fs::temp_directory_path() / ("file_beside_" + std::to_string(::getpid()));
};

TEST_F(FileBeside, OnlyOfTheFolder) {
  EXPECT_TRUE(file_beside(root_ / "bridge", "flatter.toml").ok());
  EXPECT_TRUE(file_beside(root_ / "bridge", "same.toml").ok());
  using namespace std::string_literals;
  for (const std::string& name :
       {""s, "."s, ".."s, "../outside.toml"s, "inner/x.toml"s, "inner\\x.toml"s, "link.toml"s,
        ".hidden.toml"s, "notes.txt"s, "folder.toml"s, "not-there.toml"s, "/etc/passwd"s,
        (root_ / "outside.toml").string(), "flatter.toml\0"s, "flatter\0.toml"s,
        std::string(300, 'a') + ".toml"})
    EXPECT_FALSE(file_beside(root_ / "bridge", name).ok()) << name;
}

// Files that are there, of the folder, and still no briefs beside this one.
TEST_F(FileBeside, NoneThatIsTooLargeOrOddlyNamed) {
  const fs::path folder = root_ / "bridge";
  std::ofstream(folder / "large.toml") << "x";
  fs::resize_file(folder / "large.toml", 10'000'000);
  EXPECT_TRUE(file_beside(folder, "large.toml").ok());
  fs::resize_file(folder / "large.toml", 10'000'001);
  EXPECT_FALSE(file_beside(folder, "large.toml").ok());
  for (const std::string& name : {std::string(196, 'a') + ".toml", std::string("in\\side.toml")})
    std::ofstream(folder / name) << "name = 1\n";
  EXPECT_FALSE(file_beside(folder, std::string(196, 'a') + ".toml").ok()) << "201 letters";
  EXPECT_FALSE(file_beside(folder, "in\\side.toml").ok());
}

}  // namespace
}  // namespace skewback::lodge
