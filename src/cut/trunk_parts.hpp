#pragma once
// Private to cut/: into how many blocks the courses of an arm are divided across.

#include <vector>

#include "brief/brief.hpp"
#include "cut/levels.hpp"

namespace skewback {

inline constexpr double kMassMargin = 1.03;  // the section rule against the exact block

/// Per arm of the form, as many as the width and the mass of blocks ask for.
[[nodiscard]] std::vector<int> trunk_parts(const Brief& brief, const Body& body);

}  // namespace skewback
