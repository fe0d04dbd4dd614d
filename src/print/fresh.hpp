#pragma once
// Private to print/: does the fresh stack stand while it is printed. Yield stress and stiffness
// grow with the time since a layer was laid, both in a straight line. Theory: docs/theory/print.md.

#include <optional>
#include <string>
#include <vector>

#include "print/print.hpp"

namespace skewback {

struct FreshLayer {
  double height_m = 0;      // mean, along the normal of the layer
  double height_max_m = 0;  // where it is thickest; 0: as the mean
  double area_m2 = 0, volume_m3 = 0;
  double time_s = 0;             // until the next one begins, waiting included
  double second_moment_m4 = 0;   // least, of the section about its centroid; 0: no column is judged
  double lean_rad = 0;           // from level
  Vec2 middle_m = Vec2::Zero();  // centroid of the section in plan, the same frame for all layers
  double edge_m = 0;  // from there to the edge, across the axis of least stiffness; 0: no bending
};
struct FreshWall {
  double thickness_m = 0;
  double span_m = 0;      // between the webs that hold it; 0: not held on both edges
  double outstand_m = 0;  // from what holds one edge to the free one; neither: it stands alone
  std::string place;
};

struct FreshStack {
  // per layer, when stress / (sqrt3 yield) is greatest; stress: of all that lies above and of the
  // layer itself, as that of plain pressure that yields as soon; yield: of shear, at its age
  std::vector<double> stress_pa, yield_pa, use;
  int worst_layer = -1;
  double worst_use = 0;
  double worst_time_s = 0;                   // from the first bead
  double worst_age_s = 0;                    // of the worst layer then
  std::optional<double> growth_needed_pa_s;  // of yield; none: no growth mends it
  // least layer time, whole seconds, with which all stands; none: it stands, or no time up to
  // layer_time_max helps
  std::optional<double> layer_time_needed_s;
  double height_m = 0;
  // heights at which what is then as stiff would buckle; none: nothing to judge
  std::optional<double> column_height_limit_m, wall_height_limit_m;
  std::vector<PrintCheck> checks;
  std::vector<std::string> warnings;
};

/// Layers from the first laid. At every layer's beginning and completion: strength (von Mises on
/// weight over section and its bending out of the middle, taken about the axis of least stiffness;
/// the part along a leaning layer as shear; Roussel 2018, Perrot et al. 2016), the whole as a
/// column (Greenhill 1881), each wall as a plate between what holds it (Timoshenko & Gere 1961) or,
/// held by nothing, as a column; then layer times. Bending needs edge_m and second_moment_m4.
[[nodiscard]] FreshStack judge_fresh(const PrintRequest& print,
                                     const std::vector<FreshLayer>& layers,
                                     const std::vector<FreshWall>& walls);

/// Height of fresh mix that its own yield stress holds: sqrt3 tau / (rho g) (Roussel 2018).
[[nodiscard]] double height_that_stands_m(double yield_pa, double density);
/// Its inverse: yield stress that a height needs.
[[nodiscard]] double yield_needed_pa(double height_m, double density);
/// Rate of rise that a growth of yield keeps up with for ever: sqrt3 A / (rho g), m/s.
[[nodiscard]] double rise_rate_m_s(double growth_pa_s, double density);

}  // namespace skewback
