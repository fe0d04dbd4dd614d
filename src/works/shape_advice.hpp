#pragma once
// Private to works/: what would help where no shape comes out.

#include <string>

#include "works/works.hpp"

namespace skewback {

/// Where the shell crosses itself: the least form.edge_distance of those tried with which it stays
/// apart; where none helps, or the brief gives one, the least plan.fill (to 0.05). The change in
/// words, found to work before it is said, or that none of them helps. Empty for other faults.
[[nodiscard]] std::string shape_advice(const Brief& brief, const Faults& faults,
                                       const Progress& progress);

}  // namespace skewback
