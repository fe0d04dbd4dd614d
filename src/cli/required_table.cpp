#include "cli/required_table.hpp"

#include "cli/table.hpp"

namespace skewback::cli {
namespace {

std::string check_state(const RequiredCheck& check) {
  return !check.passes ? "not checked" : *check.passes ? "pass" : "FAIL";
}

}  // namespace

std::string required_table(const std::vector<RequiredCheck>& checks) {
  std::vector<Row> rows{{"required", "result", "value", "limit", "note"}};
  for (const RequiredCheck& c : checks)
    rows.push_back(
        {c.name, check_state(c), c.value ? value_words(c) : "-", limit_words(c), c.note});
  return table(rows);
}

}  // namespace skewback::cli
