#pragma once

#include <string>
#include <vector>

#include "deliver/deliver.hpp"

namespace skewback::cli {

/// Required checks as a table of text, a check a line.
[[nodiscard]] std::string required_table(const std::vector<RequiredCheck>& checks);

}  // namespace skewback::cli
