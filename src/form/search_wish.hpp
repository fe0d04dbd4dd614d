#pragma once
// What the search for the form comes close to, drawn up from the brief and the mesh.

#include "form/mesh.hpp"
#include "form/wish.hpp"

namespace skewback {

/// `net`: where the search starts, scaled to its rise; floors and the scale of forces come from it.
[[nodiscard]] ShapeWish wish_for(const Brief& brief, const FibreMesh& mesh, const Net& net,
                                 double crown_z);

/// The same wishes for other loads, `ratio` times as heavy in all, with the shape of `net` to be
/// kept: heights asked for and limits stay as they are.
[[nodiscard]] ShapeWish keeping_shape(const ShapeWish& wish, const Net& net, double ratio);

}  // namespace skewback
