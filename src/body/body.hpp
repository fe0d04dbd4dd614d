#pragma once
// Thickness: from the middle surface to intrados and extrados, and what is hollow. Theory: docs/theory/body.md.

#include <vector>

#include "form/form.hpp"

namespace skewback {

struct Body {
  Form form;
  Section section;
  double density = 0;
  std::vector<double> depth_m;      // per form vertex, square to the surface
  std::vector<Vec3> normal;         // per form vertex, unit, upward
  std::vector<Vec3> intrados, extrados;  // per form vertex
  Solid outer;                      // closed, voids not taken out
  double outer_volume_m3 = 0;
  double thickness_min_m = 0, thickness_max_m = 0;
};

[[nodiscard]] Result<Body> give_body(const Brief& brief, const Form& form);

/// Weight of body, walkway and parapets gathered at the form's vertices, N downward; the next call of
/// find_form takes it. `solid_fraction` scales the concrete: section area over its outline.
[[nodiscard]] std::vector<double> vertex_loads(const Brief& brief, const Body& body, double solid_fraction);

/// Share of the section that is concrete at a depth and width, by the rule of leaves and webs.
[[nodiscard]] double solid_fraction(const Section& section, double depth_m, double width_m);

}  // namespace skewback
