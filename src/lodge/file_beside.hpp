#pragma once
// Files that the page may name: those that lie beside the brief, and no others.

#include <filesystem>
#include <string>

#include "base/result.hpp"

namespace skewback::lodge {

/// The file of that name in `folder`. Faults: a name with folders in it, not ending in ".toml", a
/// file that is not there, is no plain file, or lies elsewhere (a link).
[[nodiscard]] Result<std::filesystem::path> file_beside(const std::filesystem::path& folder,
                                                        const std::string& name);

}  // namespace skewback::lodge
