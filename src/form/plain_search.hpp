#pragma once
// The search for briefs that ask for nothing but the rise: the plan as drawn, level sections and a
// tidy mesh, in far fewer terms than the search that follows wishes.

#include "form/search.hpp"

namespace skewback::plain {

/// As skewback::find_net; other loads start the search anew.
[[nodiscard]] Result<FoundNet> find_net(const Brief& brief, const FibreMesh& mesh,
                                        const std::vector<std::array<int, 3>>& triangles,
                                        const std::vector<double>& vertex_load_n,
                                        const Progress& progress);

/// From these force densities, one an edge of the mesh, under these loads.
[[nodiscard]] Result<FoundNet> follow_net(const Brief& brief, const FibreMesh& mesh,
                                          const std::vector<NetEdge>& forces,
                                          const std::vector<double>& vertex_load_n, int steps);

}  // namespace skewback::plain
