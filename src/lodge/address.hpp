#pragma once
// The address asked for, decoded once and strictly.

#include <map>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace skewback::lodge {

struct Address {
  std::string path;                          // begins with '/'
  std::map<std::string, std::string> query;  // '+' read as a space
};

/// Of the target in a request line. Refused: what does not begin with '/', more than 2048 bytes, a
/// broken percent sign, control characters, what is not UTF-8, a name given twice, more than 16
/// names; in the path also "..", ".", "\", an empty part, a slash or a percent sign that was
/// encoded.
[[nodiscard]] Result<Address> read_target(std::string_view target);

[[nodiscard]] bool is_utf8(std::string_view text);

}  // namespace skewback::lodge
