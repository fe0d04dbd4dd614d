#pragma once
// Private to lodge/: what can be changed in a brief, in groups for people.

#include <nlohmann/json.hpp>
#include <string>

namespace skewback::lodge {

/// The list "groups" of docs/lodge.md, "Keys". `text`: a brief that can be read. Keys in the order
/// of docs/brief.md, each table of a list by its number, each quantity in a list by itself too.
[[nodiscard]] nlohmann::ordered_json key_groups(const std::string& text);

}  // namespace skewback::lodge
