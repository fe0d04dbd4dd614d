#pragma once
// Whether results may be written to a folder: asked before the work, so that nobody waits for
// results that cannot be kept.

#include <filesystem>
#include <optional>

#include "base/result.hpp"

namespace skewback::cli {

[[nodiscard]] std::optional<Fault> out_fault(const std::filesystem::path& out,
                                             const std::filesystem::path& brief);

}  // namespace skewback::cli
