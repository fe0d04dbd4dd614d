#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {

// A rib over a bay between two feet carries its share of the block that presses most, square to its
// soffit, and of the people at work: 1.35 and 1.5 (EN 1990:2002, table A1.2(B)), w L^2 / 8 on what
// a slot leaves of its depth.
double spacing_that_carries(const CentringRequest& request, const Assembly& assembly,
                            const Soffits& all, std::vector<std::string>& remarks) {
  double heaviest = 0;  // N per m2 of soffit, square to it
  for (std::size_t b = 0; b < all.size(); ++b) {
    double whole = 0, level = 0;
    for (const SoffitFace& face : all[b]) {
      whole += face.area;
      level += face.area * std::abs(face.normal.z());
    }
    if (whole > 0) {
      const double weight = concrete_mass_kg(assembly.blocks[b]) * kGravity;
      heaviest = std::max(heaviest, weight * level / (whole * whole));
    }
  }
  const double load = 1.35 * heaviest + 1.5 * request.working_load_pa;
  const double depth = 0.7 * request.rib_depth_m, bay = request.foot_spacing_m;
  const double modulus = request.sheet_thickness_m * depth * depth / 6;
  const double strength = request.k_mod * request.bending_strength_pa / request.gamma_m;
  double spacing = request.rib_spacing_m;
  int halvings = 0;
  while (load * spacing * bay * bay / 8 > strength * modulus && halvings < 6) {
    spacing /= 2;
    ++halvings;
  }
  if (halvings > 0) {
    char text[200];
    std::snprintf(
        text, sizeof text,
        "ribs stand at %.0f mm or less, not the %.0f mm the brief allows: a bay of %.2f m "
        "between two feet would not pass bending",
        1e3 * spacing, 1e3 * request.rib_spacing_m, bay);
    remarks.emplace_back(text);
  }
  return spacing;
}

}  // namespace skewback
