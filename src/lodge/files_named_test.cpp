#include "lodge/files_named.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>

namespace skewback::lodge {
namespace {

namespace fs = std::filesystem;

class FilesNamed : public ::testing::Test {
 protected:
  void SetUp() override {
    fs::remove_all(root_);
    fs::create_directories(root_ / "bridge/plans");
    std::ofstream(root_ / "secret.dxf") << "0\n";
    fs::create_symlink(root_ / "secret.dxf", root_ / "bridge/link.dxf");
    fs::create_directory_symlink(root_, root_ / "bridge/up");
  }
  void TearDown() override { fs::remove_all(root_); }
  [[nodiscard]] std::optional<Faults> faults(const std::string& changed,
                                             const std::string& before = "") const {
    return names_elsewhere(before, changed, root_ / "bridge");
  }
  fs::path root_ = fs::temp_directory_path() / ("files_named_" + std::to_string(::getpid()));
};

TEST_F(FilesNamed, InTheFolderAndBelowItIsWell) {
  for (const char* file : {"plan.dxf", "plans/plan.dxf", "./plan.dxf", "plans/../plan.dxf"})
    EXPECT_FALSE(faults(std::string("[plan]\nfile = \"") + file + "\"\n")) << file;
  EXPECT_FALSE(faults("[plan]\nwords = \"../secret.dxf\"\n"));
}

TEST_F(FilesNamed, OutOfTheFolderIsNot) {
  for (const char* file : {"../secret.dxf", "/etc/passwd", "plans/../../secret.dxf", "link.dxf",
                           "up/secret.dxf", "..", "plan.dxf\\u0000"})
    EXPECT_TRUE(faults(std::string("[plan]\nfile = \"") + file + "\"\n")) << file;
  const std::string beside = (root_ / "bridge-2/plan.dxf").string();
  EXPECT_TRUE(faults("[plan]\nfile = \"" + beside + "\"\n"));
}

TEST_F(FilesNamed, HoweverItIsWritten) {
  for (const char* text :
       {"plan.file = \"../secret.dxf\"", "plan = { file = \"../secret.dxf\" }",
        "\"plan\".'file' = '../secret.dxf'", "[[plan]]\nfile = \"../secret.dxf\"",
        "plan = [[{ file = \"../secret.dxf\" }]]", "plan.file = \"\\u002e\\u002e/secret.dxf\""})
    EXPECT_TRUE(faults(text)) << text;
  EXPECT_EQ(faults("[plan]\nfile = \"/a\"\n[survey]\nfile = \"/b\"\n")->size(), 2U);
  EXPECT_EQ(faults("[survey]\nfile = \"/b\"\n")->front().key, "survey.file");
}

TEST_F(FilesNamed, WhatTheUserWroteStays) {
  const std::string text = "[plan]\nfile = \"../secret.dxf\"\n";
  EXPECT_FALSE(faults(text + "rise = \"2 m\"\n", text));
  EXPECT_TRUE(faults("[plan]\nfile = \"../other.dxf\"\n", text));
  EXPECT_FALSE(faults("no toml = = =", text));
}

}  // namespace
}  // namespace skewback::lodge
