#pragma once
// Photos beside the daybook, named by what is in them. Private to daybook/.

#include <filesystem>
#include <string>

#include "base/result.hpp"

namespace skewback {

/// Copied to FOLDER/photos/ and flushed to the disk; its path relative to FOLDER. A photo that is
/// there already is not copied again.
[[nodiscard]] Result<std::string> keep_photo(const std::filesystem::path& folder,
                                             const std::filesystem::path& photo);

}  // namespace skewback
