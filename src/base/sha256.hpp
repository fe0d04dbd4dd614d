#pragma once
// SHA-256 (NIST FIPS 180-4, 2015, section 6.2): names content, so that a change shows.

#include <string>
#include <string_view>

namespace skewback {

/// 64 hexadecimal digits, small letters.
[[nodiscard]] std::string sha256(std::string_view bytes);

}  // namespace skewback
