#pragma once
// Rods grow longer, feet move apart.

#include <Eigen/Core>
#include <string>
#include <vector>

#include "ground/rods.hpp"

namespace skewback {

/// F L / (E A) + alpha dT L of each rod, m. E 210 GPa, alpha 12e-6 per K. `diameter_m`: per tie, of
/// the shank, over the whole length.
[[nodiscard]] std::vector<double> elongations(const std::vector<Rod>& rods,
                                              const std::vector<double>& force_n,
                                              const std::vector<double>& diameter_m,
                                              double warmer_k);

struct FootMove {  // in plan, of a footing about the middle of its springing
  Vec2 shift_m = Vec2::Zero();
  double turn_rad = 0;
};

/// Of all movements of rigid footings that give every rod in `taut` its elongation, the one with
/// the least sum of squares (a turn of 1 rad counts as 1 m). Where rods contradict one another,
/// the least squares of what is left over.
[[nodiscard]] std::vector<FootMove> feet_moved(const std::vector<Vec2>& middles,
                                               const std::vector<Rod>& rods,
                                               const std::vector<double>& elongation_m,
                                               const std::vector<char>& taut);

}  // namespace skewback
