#pragma once
// The JSON that a request brings.

#include <nlohmann/json.hpp>

#include "base/result.hpp"

namespace skewback::lodge {

/// An object, at most 12 deep. Faults: not JSON (with the place), not an object, deeper, a key
/// twice in one object.
[[nodiscard]] Result<nlohmann::json> read_json_body(const std::string& body);

/// The value of `key`, or why there is none; each says what was expected.
[[nodiscard]] Result<std::string> text_of(const nlohmann::json& object, const std::string& key);
[[nodiscard]] Result<int> whole_of(const nlohmann::json& object, const std::string& key);

}  // namespace skewback::lodge
