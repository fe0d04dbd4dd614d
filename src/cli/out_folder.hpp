#pragma once
// The folder of results: whether it may be written is asked before the work, so that nobody waits
// for results that cannot be kept.

#include <filesystem>
#include <functional>
#include <optional>

#include "cli/console.hpp"
#include "deliver/deliver.hpp"

namespace skewback::cli {

[[nodiscard]] std::optional<Fault> out_fault(const std::filesystem::path& out,
                                             const std::filesystem::path& brief);

/// Writes all that was found and tells it: the summary as JSON, or by `report`, which is given how
/// many files there are. The exit code.
[[nodiscard]] int write_and_tell(const Dossier& dossier, const std::filesystem::path& out,
                                 bool json, ProgressLine& line,
                                 const std::function<void(std::size_t files)>& report);

}  // namespace skewback::cli
