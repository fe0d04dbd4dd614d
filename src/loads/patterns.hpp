#pragma once
// Where people may stand, as parts of the walking surface. Private to loads/.

#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct Pattern {
  std::string id, words;
  Regions where;
  double length_m = 0;  // loaded, along the walking lines: area over the walkway's mean width
};

/// Where (p - point) . normal > 0, a kilometre wide.
[[nodiscard]] Regions half_plane(const Vec2& point, const Vec2& normal);

/// None without a walking surface.
[[nodiscard]] std::vector<Pattern> people_patterns(const Brief& brief, const Regions& surface);

/// Pressure of people on a pattern: the brief's, less on a long deck where it asks for that.
[[nodiscard]] double people_pa(const Brief& brief, const Pattern& pattern);

}  // namespace skewback
