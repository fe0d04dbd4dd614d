#pragma once
// Thickness: from the middle surface to intrados and extrados, and what is hollow. Theory:
// docs/theory/body.md.

#include <vector>

#include "form/form.hpp"

namespace skewback {

struct Body {
  Form form;
  Section section;
  double density = 0;
  std::vector<double> depth_m;           // per form vertex, square to the surface
  std::vector<Vec3> normal;              // per form vertex, unit, upward
  std::vector<Vec3> intrados, extrados;  // per form vertex
  std::vector<Plane>
      springing;  // per support: mid-plane of its bed joint, normal towards the bridge
  Solid outer;    // closed, voids not taken out; ends half a pad behind the springing planes
  double outer_volume_m3 = 0;
  double thickness_min_m = 0, thickness_max_m = 0;
  double turned_deg = 0;  // most that a normal was turned off the surface's own; 0: none was
};

/// Depth goes from the springing to the crown evenly with phi. The beds at the springings are cut
/// square to the mean reaction, through the springing line. Where the shell would cross itself,
/// normals are turned by up to 30 degrees. Faults: it crosses itself all the same, with the place
/// and the depth that does not.
[[nodiscard]] Result<Body> give_body(const Brief& brief, const Form& form);

/// Through the middle of the springing line, square to the mean reaction there; contains the line.
[[nodiscard]] Plane springing_plane(const Form& form, const Plan& plan, int support);

/// Tubes side by side in a section of this width.
[[nodiscard]] int tube_count(const Section& section, double width_m);

/// Share of a rectangular section that is concrete, by the rule of leaves and webs.
[[nodiscard]] double solid_fraction(const Section& section, double depth_m, double width_m);

/// Weight of body, walkway and parapets gathered at the form's vertices, N downward; the next call
/// of find_form takes it. `fraction`: concrete over outline volume. The walkway is given as a plan
/// region.
[[nodiscard]] std::vector<double> vertex_loads(const Brief& brief, const Body& body,
                                               const Regions& walkway, double fraction);

}  // namespace skewback
