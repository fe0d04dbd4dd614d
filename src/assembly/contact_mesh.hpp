#pragma once
// A contact as triangles, on whose corners its forces act.

#include <array>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct ContactMesh {
  std::vector<Vec2> points;                   // joint frame
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise; corners may hang on an edge
};

/// Triangles of a contact, holes and parts as they are, no edge longer than `edge_most_m`. Sums
/// over them are exact for whatever is linear on each; hanging corners do no harm, since what is
/// integrated is linear over the whole joint. Outlines first lose the corners that matter least, up
/// to 0.3 % of the area of the contact in all: none of a polygon with few corners. Empty
/// where outlines cross or touch themselves.
[[nodiscard]] ContactMesh mesh_contact(const Regions& contact, double edge_most_m);

}  // namespace skewback
