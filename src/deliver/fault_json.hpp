#pragma once
// A fault as every reader outside is told of it.

#include <nlohmann/json.hpp>

#include "base/result.hpp"

namespace skewback::deliver {

/// file, line, column, key, found, expected, change.
[[nodiscard]] inline nlohmann::ordered_json fault_json(const Fault& fault) {
  return {{"file", fault.file},    {"line", fault.line},   {"column", fault.column},
          {"key", fault.key},      {"found", fault.found}, {"expected", fault.expected},
          {"change", fault.change}};
}

}  // namespace skewback::deliver
