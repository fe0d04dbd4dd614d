#pragma once
// The wishes of the brief beside the rise: heights at places, lines to stay under, a surface to
// come close to, ceilings on thrust, how near free edges keep to the drawing. What is asked goes
// into a ShapeWish; what came of it is measured on the form.

#include <array>
#include <vector>

#include "form/form.hpp"
#include "form/mesh.hpp"
#include "form/wish.hpp"

namespace skewback {

/// Achieved::name of the wish for form.edge_distance.
inline constexpr const char* kEdgesWish = "free edges from where they are drawn";

/// Wishes that cannot be read off this plan: heights at places off it.
[[nodiscard]] Faults check_objectives(const Brief& brief, const FibreMesh& mesh,
                                      const std::vector<std::array<int, 3>>& triangles);

/// Puts spots, limits on edges and ceilings into `wish`, taken where `net` now is; to be done again
/// as the net moves.
void wish_objectives(const Brief& brief, const FibreMesh& mesh,
                     const std::vector<std::array<int, 3>>& triangles, const Net& net,
                     ShapeWish& wish);

/// Asked and got, the rise first, then in the order of the brief.
[[nodiscard]] std::vector<Achieved> achievements(const Brief& brief, const FibreMesh& mesh,
                                                 const Form& form);

/// Form::unevenness_rel.
[[nodiscard]] double unevenness(const FibreMesh& mesh, const Form& form);

}  // namespace skewback
