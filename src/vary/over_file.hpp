#pragma once
// The file of `vary --over` as TOML: reading with faults that name the line. Private to vary/.

#include <toml++/toml.h>

#include <string>
#include <vector>

#include "vary/plan.hpp"

namespace skewback {

class OverFile {
 public:
  explicit OverFile(std::filesystem::path file) : file_(std::move(file)) {}

  void fault(const toml::node* at, const std::string& key, const std::string& found,
             const std::string& expected, const std::string& change = "");
  /// Keys of `table` that are none of `known`.
  void unknown(const toml::table& table, const std::string& section,
               const std::vector<std::string>& known);
  /// Each leaves `out` alone where the key is not there; a fault where it is something else.
  void text(const toml::table& table, const std::string& section, const std::string& key,
            std::string& out, const std::vector<std::string>& choices = {});
  void whole(const toml::table& table, const std::string& section, const std::string& key,
             std::int64_t low, std::int64_t high, std::int64_t& out);
  void flag(const toml::table& table, const std::string& section, const std::string& key,
            bool& out);
  void texts(const toml::table& table, const std::string& section, const std::string& key,
             std::vector<std::string>& out);

  [[nodiscard]] const Faults& faults() const { return faults_; }

 private:
  std::filesystem::path file_;
  Faults faults_;
};

/// One [[vary]] table; `shown` names it in faults: "vary[2]". (over_vary.cpp)
[[nodiscard]] Varied read_varied(const toml::table& table, const std::string& shown, How how,
                                 OverFile& over);

}  // namespace skewback
