#pragma once
// A folder of its own for each test, with a brief and what is varied in it.

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "vary/vary.hpp"

namespace skewback {

class VaryFolder : public testing::Test {
 protected:
  void SetUp() override {
    const auto* info = testing::UnitTest::GetInstance()->current_test_info();
    here = std::filesystem::temp_directory_path() /
           ("skewback-" + std::string(info->name()) + "-" + std::to_string(::getpid()));
    std::filesystem::remove_all(here);
    std::filesystem::create_directories(here);
    write("brief.toml",
          text_of(std::filesystem::path(SKEWBACK_SOURCE_DIR) / "examples/drovers-hop/brief.toml"));
  }
  void TearDown() override { std::filesystem::remove_all(here); }

  static std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
  }
  void write(const std::string& name, const std::string& text) const {
    std::ofstream(here / name, std::ios::binary) << text;
  }
  Result<VaryPlan> read(const std::string& over) const {
    write("over.toml", over);
    return read_vary(here / "brief.toml", here / "over.toml", "test");
  }

  std::filesystem::path here;
};

}  // namespace skewback
