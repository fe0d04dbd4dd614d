#pragma once
// A timber walkway as parts that people can carry and lay. Common practice of carpenters, from
// memory; what its boards, bearers and caps carry: access/sticks.hpp.

#include "access/sticks.hpp"
#include "access/walk.hpp"

namespace skewback::access {

// Sticks, m
inline constexpr double kBearerWidth = 0.06;  // least; along, on edge
inline constexpr double kPost = 0.10;         // square; also caps and sills of frames
inline constexpr double kStairBoard = 0.04;   // treads
inline constexpr double kString = 0.05, kStringDepth = 0.25;  // of stairs, one at each side
inline constexpr double kThirdBearer = 1.0;                   // m: a wider deck has three bearers
inline constexpr double kBay = 1.2;                           // m from frame to frame, at most
inline constexpr double kTimber = 450;                        // kg/m3, softwood as it is laid
inline constexpr double kBracing = 1.5;  // posts with their braces over bare posts, by mass
/// Under this a "fill" of brief.walkway is frames, smeared over the height: earth is far heavier.
inline constexpr double kFillLeast = 100;  // kg/m3

/// Frames under a raised deck as a density: kilograms per square metre of deck and metre of height.
[[nodiscard]] double frame_density(const Sticks& sticks, double width_m);
/// Boards and bearers, kg per square metre of deck.
[[nodiscard]] double deck_kg_per_m2(const Sticks& sticks, double width_m);

struct PartList {
  std::vector<WalkPart> parts;  // in the order of laying
  double one_sided_kg = 0;
};
/// Frames every kBay or less and what lies between them: a panel up to access.gradient_max, above
/// it a stair flight or treads on the slope; a landing where the legs meet. Laid from the supports
/// inward, always on the leg that carries least. Empty unless is_carried(brief.walkway).
[[nodiscard]] PartList walkway_parts(const Brief& brief, const Assembly& assembly,
                                     const BackHeight& back, const std::vector<Leg>& legs);

}  // namespace skewback::access
