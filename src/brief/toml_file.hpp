#pragma once
// A small TOML file beside the brief: its values, with faults that name the line.

#include <toml++/toml.h>

#include <cstdint>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"

namespace skewback {

class TomlFile {
 public:
  explicit TomlFile(std::filesystem::path file) : file_(std::move(file)) {}

  /// `at` null: the file as a whole.
  void fault(const toml::node* at, const std::string& key, const std::string& found,
             const std::string& expected, const std::string& change = "");
  void add(Fault fault) { faults_.push_back(std::move(fault)); }
  /// A fault for each key of `table` that is none of `known`.
  void unknown(const toml::table& table, const std::string& section,
               const std::vector<std::string>& known);

  // Each says whether the key is there and sound, and leaves `out` alone where it is not; a fault
  // where it is something else.
  bool whole(const toml::table& table, const std::string& section, const std::string& key,
             std::int64_t low, std::int64_t high, std::int64_t& out);
  bool text(const toml::table& table, const std::string& section, const std::string& key,
            std::string& out, const std::vector<std::string>& choices = {});
  bool flag(const toml::table& table, const std::string& section, const std::string& key,
            bool& out);
  bool texts(const toml::table& table, const std::string& section, const std::string& key,
             std::vector<std::string>& out);

  [[nodiscard]] const Faults& faults() const { return faults_; }
  [[nodiscard]] const std::filesystem::path& file() const { return file_; }

 private:
  std::filesystem::path file_;
  Faults faults_;
};

/// "one of "a", "b", ...", eight at most; empty where there are none.
[[nodiscard]] std::string one_of(const std::vector<std::string>& words);
/// "did you mean "a"?"; empty where none is near.
[[nodiscard]] std::string did_you_mean(const std::string& word,
                                       const std::vector<std::string>& words);

}  // namespace skewback
