#pragma once
// Private to works/: what would help where no shape comes out.

#include <string>

#include "works/works.hpp"

namespace skewback {

/// Where the shell crosses itself: the least form.edge_distance, of those tried, with which it
/// stays apart; the change in words, or that none of them helps. Empty for other faults, and where
/// the brief gives a distance.
[[nodiscard]] std::string edge_distance_advice(const Brief& brief, const Faults& faults,
                                               const Progress& progress);

}  // namespace skewback
