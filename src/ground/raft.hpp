#pragma once
// One slab under all springings: what it presses, how it slides, what pulls and bends it. Rules:
// - outline: the convex hull of the footings as drawn; top at the lowest springing;
// - on the soil: what all supports bring together and its weight, as one stiff base (ground/
//   bearing.hpp) on a rectangle of the same area and the same ratio of second moments;
// - inside: linear pressure, straight cuts in eight directions. A cut is pulled by the thrusts on
//   one side of it, spread evenly over its length, at the level of the springings, and bent about
//   the middle of the slab. Steel: (M / z + N / 2) / f_yd on one face, (N / 2 - M / z) / f_yd on
//   the other; z 0.9 of the depth, cover and half a bar 60 mm, B500, M <= 0.167 f_ck b d^2 with C30
//   (common practice, from memory). Not checked: punching, shear, cracks, laps.

#include "ground/ground.hpp"

namespace skewback {

/// `reach_m`: of each support's bed, inwards and outwards (shoes.hpp). Rods are left out of the
/// states. The thinnest that bends within the limit, 0.3 to 1.5 m.
[[nodiscard]] Raft design_raft(const Brief& brief, const TieState& dead,
                               const std::vector<const TieState*>& states,
                               const std::vector<FootingCombination>& combinations,
                               const std::vector<Vec2>& reach_m);

/// Steel on both faces together of a section of unit width under pull N (N/m) and moment M
/// (N m/m), m2 per m.
[[nodiscard]] double slab_steel(double pull_n_per_m, double moment_nm_per_m, double thickness_m);

}  // namespace skewback
