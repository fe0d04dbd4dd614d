#pragma once
// Private to assembly/: where in a JSON text the values are that faults speak of.

#include <string>

#include "base/result.hpp"

namespace skewback {

/// Puts line and column to the faults whose keys ("blocks[3].faces[0]") are in `text`, which must
/// be good JSON: of the value, or, where that is missing, of what it is missing from.
void put_places(const std::string& text, Faults& faults);

}  // namespace skewback
