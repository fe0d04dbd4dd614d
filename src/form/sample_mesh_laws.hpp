#pragma once
// For tests only: the sides of a fibre mesh's quads, held to the laws of a covering.

#include <gtest/gtest.h>

#include <map>

#include "form/mesh.hpp"

namespace skewback::sample {

struct Covering {
  double covered_m2 = 0;    // by the quads
  double boundary_m2 = 0;   // within the sides that have nothing beside them
  std::map<int, int> rims;  // of these, by the edge they lie on
};

/// No side belongs to two quads that go round it the same way.
inline Covering covering_of(const FibreMesh& mesh) {
  const auto swept = [&](int a, int b) {
    const Vec2 &p = mesh.points[a], &q = mesh.points[b];
    return 0.5 * (p.x() * q.y() - p.y() * q.x());
  };
  std::map<std::pair<int, int>, int> sides;
  Covering out;
  for (const auto& q : mesh.quads)
    for (int c = 0; c < 4; ++c) {
      out.covered_m2 += swept(q[c], q[(c + 1) % 4]);
      ++sides[{q[c], q[(c + 1) % 4]}];
    }
  for (const auto& [side, count] : sides) {
    EXPECT_EQ(count, 1);
    if (sides.count({side.second, side.first})) continue;
    out.boundary_m2 += swept(side.first, side.second);
    const int edge = mesh.free_edge_of[side.first];
    if (edge == mesh.free_edge_of[side.second]) ++out.rims[edge];
  }
  return out;
}

}  // namespace skewback::sample
