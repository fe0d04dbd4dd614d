#include "base/write_file.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

namespace skewback {
namespace {

namespace fs = std::filesystem;

class WriteFile : public testing::Test {
 protected:
  void SetUp() override {
    const auto* info = testing::UnitTest::GetInstance()->current_test_info();
    here = fs::temp_directory_path() /
           ("skewback-" + std::string(info->name()) + "-" + std::to_string(::getpid()));
    fs::remove_all(here);
    fs::create_directories(here);
  }
  void TearDown() override { fs::remove_all(here); }
  static std::string text_of(const fs::path& file) {
    std::ostringstream text;
    text << std::ifstream(file, std::ios::binary).rdbuf();
    return text.str();
  }
  fs::path here;
};

TEST_F(WriteFile, TakesThePlaceOfWhatWasThere) {
  const fs::path file = here / "a.csv";
  EXPECT_FALSE(write_whole(file, "long before"));
  const std::string bytes("a\r\n\0b", 5);
  EXPECT_FALSE(write_whole(file, bytes));
  EXPECT_EQ(text_of(file), bytes);
  EXPECT_EQ(std::distance(fs::directory_iterator(here), {}), 1) << "nothing is left beside it";
}

TEST_F(WriteFile, WhatCannotBeWrittenIsNamedAndLeavesNothing) {
  const auto nowhere = write_whole(here / "none" / "a.csv", "a");
  ASSERT_TRUE(nowhere);
  EXPECT_EQ(nowhere->file, (here / "none" / "a.csv").string());
  fs::create_directories(here / "folder" / "full");
  EXPECT_TRUE(write_whole(here / "folder", "a"));
  EXPECT_TRUE(fs::exists(here / "folder" / "full"));
  EXPECT_FALSE(fs::exists(here / "folder.part"));
}

}  // namespace
}  // namespace skewback
