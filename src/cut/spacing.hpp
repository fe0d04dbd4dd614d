#pragma once
// Where along a way the joints go.

#include <vector>

namespace skewback {

struct Spacing {
  double length_most_m = 0;  // of a course; 0: no limit
  double mass_most_kg = 0;   // of a course; 0: no limit
  int count = 0;             // courses asked for; 0: as few as the limits allow
};

/// Joints from 0 to the end of a way, both included. `along` (ascending, from 0) and
/// `mass_per_metre` (> 0) sample it. With a count: equal lengths. Without: the fewest courses
/// within both limits, their masses as even as the limit on length lets them be.
[[nodiscard]] std::vector<double> even_courses(const std::vector<double>& along,
                                               const std::vector<double>& mass_per_metre,
                                               const Spacing& spacing);

/// The same with joints at `stops` too (ascending, inside the way): each part of the way between
/// them by itself. A count is not looked at.
[[nodiscard]] std::vector<double> even_courses_with(const std::vector<double>& along,
                                                    const std::vector<double>& mass_per_metre,
                                                    const Spacing& spacing,
                                                    const std::vector<double>& stops);

/// Samples of the way between two lengths, counted from the first.
struct Stretch {
  std::vector<double> along, mass_per_metre;
};
[[nodiscard]] Stretch stretch_of(const std::vector<double>& along,
                                 const std::vector<double>& mass_per_metre, double from, double to);

}  // namespace skewback
