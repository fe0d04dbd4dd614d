#pragma once
// One file on disk, whole or not at all.

#include <filesystem>

#include "base/result.hpp"

namespace skewback {

/// Written beside its place ("NAME.part") and then moved there, over what was there before: nobody
/// finds half a file. The fault: why it could not be; then what was there before is still there.
[[nodiscard]] std::optional<Fault> write_whole(const std::filesystem::path& file,
                                               const std::string& bytes);

}  // namespace skewback
