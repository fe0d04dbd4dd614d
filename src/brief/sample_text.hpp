#pragma once
// For tests only: the examples' text, changed or spoilt in one place.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>

#include "brief/draft.hpp"

namespace skewback::sample {

inline std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

inline std::filesystem::path source(const std::string& path) {
  return std::filesystem::path(SKEWBACK_SOURCE_DIR) / path;
}

inline const std::string& drovers_hop() {
  static const std::string text = file_text(source("examples/drovers-hop/brief.toml"));
  return text;
}

inline std::filesystem::path scratch_folder(const std::string& name) {
  const std::filesystem::path folder =
      std::filesystem::path(::testing::TempDir()) / ("skewback-brief-" + name);
  std::filesystem::create_directories(folder);
  return folder;
}

// The example with its first `from` written as `to`.
inline std::string with(const std::string& from, const std::string& to,
                        const std::string& text = drovers_hop()) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << "the example no longer has: " << from;
  return at == std::string::npos ? text : text.substr(0, at) + to + text.substr(at + from.size());
}

// Where `what` stands in the text, as an editor shows it.
inline Spot spot_in(const std::string& text, const std::string& what) {
  const auto at = text.find(what);
  EXPECT_NE(at, std::string::npos) << what;
  const std::string head = text.substr(0, at);
  const auto start = head.rfind('\n') == std::string::npos ? 0 : head.rfind('\n') + 1;
  return {1 + static_cast<int>(std::count(head.begin(), head.end(), '\n')),
          1 + static_cast<int>(head.size() - start)};
}

inline std::string all_of(const Faults& faults) {
  std::string text;
  for (const Fault& f : faults) text += describe(f) + "\n";
  return text;
}

struct Bad {
  std::string name;
  std::string from, to;   // the change that spoils the example
  std::string at;         // the fault is reported where this stands; empty: anywhere
  std::string key, says;  // of one fault
};

// Reports a failure unless the spoilt example is refused for that reason, at that place.
inline void expect_fault(const Bad& bad, const std::string& example = drovers_hop()) {
  const std::string text = with(bad.from, bad.to, example);
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  ASSERT_FALSE(brief.ok());
  for (const Fault& fault : brief.faults()) {
    const bool here = fault.key == bad.key && describe(fault).find(bad.says) != std::string::npos;
    if (!here) continue;
    EXPECT_EQ(fault.file, "some.toml");
    EXPECT_FALSE(fault.found.empty());
    EXPECT_FALSE(fault.expected.empty());
    if (bad.at.empty()) return;
    const Spot spot = spot_in(text, bad.at);
    EXPECT_EQ(fault.line, spot.line) << describe(fault);
    EXPECT_EQ(fault.column, spot.column) << describe(fault);
    return;
  }
  FAIL() << "no fault of " << bad.key << " says: " << bad.says << "\n" << all_of(brief.faults());
}

// Same sequence on every machine: xorshift (Marsaglia 2003), seed fixed.
struct Dice {
  std::uint64_t state = 88172645463325252ull;
  std::size_t roll(std::size_t n) {
    state ^= state << 13, state ^= state >> 7, state ^= state << 17;
    return static_cast<std::size_t>(state % n);
  }
};

inline std::string mutated(std::string text, Dice& dice) {
  static const char kBytes[] = "\"[]{}=.,-+0e9m \n#x\xC3\xA9\xFF\t\\'";
  for (std::size_t n = 1 + dice.roll(6); n > 0 && !text.empty(); --n) {
    const std::size_t at = dice.roll(text.size()), length = 1 + dice.roll(12);
    switch (dice.roll(4)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, 1, kBytes[dice.roll(sizeof kBytes - 1)]);
        break;
      case 2:
        text[at] = kBytes[dice.roll(sizeof kBytes - 1)];
        break;
      default:
        text.insert(dice.roll(text.size()), text.substr(at, length * 8));
        break;
    }
  }
  return text;
}

}  // namespace skewback::sample
