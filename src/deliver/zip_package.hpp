#pragma once
// A zip archive in memory, by libzip. Same parts, same bytes: every part is dated 1980-01-01.

#include <string>
#include <utility>
#include <vector>

namespace skewback::deliver {

/// Throws std::runtime_error when there is no memory to pack them.
[[nodiscard]] std::string zip_package(
    const std::vector<std::pair<std::string, std::string>>& parts);  // name, content

}  // namespace skewback::deliver
