#pragma once
// For tests: a brief in a folder of its own, and a desk on it.

#include <gtest/gtest.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

#include "lodge/desk.hpp"

namespace skewback::lodge {

namespace fs = std::filesystem;

inline std::string slurp(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

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

}  // namespace skewback::lodge
