#pragma once
// Files that a brief names, such as the drawing of its plan. A brief may name any file; a change
// that comes from the page may not.

#include <filesystem>
#include <optional>
#include <string>

#include "base/result.hpp"

namespace skewback::lodge {

/// Faults for each value of a key `file` in `changed` that leads out of `folder`, links followed,
/// and did not stand in `before`. Both are texts of briefs; what is no TOML has none.
[[nodiscard]] std::optional<Faults> names_elsewhere(const std::string& before,
                                                    const std::string& changed,
                                                    const std::filesystem::path& folder);

}  // namespace skewback::lodge
