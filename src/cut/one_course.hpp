#pragma once
// One course divided across and made hollow.

#include "cut/pieces.hpp"

namespace skewback {

/// Of a part: head joints stand off its middle by this, either way, so that they are 0.28 of a
/// block apart.
inline constexpr double kShift = 0.14;

/// A key of three sides or more.
[[nodiscard]] inline bool is_lone_key(const Course& course) {
  return course.arm < 0 && !course.beds;
}

/// The course in `across` parts, hollow where the section says so and there is room. `beside`:
/// where the head joints of its neighbours are, as shares of its width. Beside an opening in its
/// leg it has a piece on either side, each divided by itself; there, and over the opening's tips,
/// head joints keep from the opening's edges as from other head joints.
[[nodiscard]] Result<Cutting> cut_course(const Brief& brief, const Body& body, const Course& course,
                                         const std::vector<ArmCuts>& arms, int across,
                                         const std::vector<double>& beside, bool plainly);

/// The head joints of the course below where they meet the bed of `above`, as shares of its width:
/// the two need not be equally wide, as where the ridges cut into a crown.
[[nodiscard]] std::vector<double> seen_from(const Cutting& below, const Course& above,
                                            double pad_m);

/// Of its blocks, kg.
[[nodiscard]] double heaviest(const Cutting& cutting, double density);

}  // namespace skewback
