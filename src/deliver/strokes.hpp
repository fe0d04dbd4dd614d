#pragma once
// Letters as single strokes, for machines that engrave lines and know no type.

#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::deliver {

/// Strokes of the text, its base line's middle at the origin and capitals `height` high. Letters,
/// digits, space and - . , / + ( ) : | _ = < > are known; anything else becomes a box.
[[nodiscard]] std::vector<std::vector<Vec2>> strokes(const std::string& text, double height);
[[nodiscard]] double strokes_width(const std::string& text, double height);

}  // namespace skewback::deliver
