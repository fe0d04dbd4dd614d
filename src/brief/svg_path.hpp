#pragma once
// The small languages inside SVG attributes (SVG 1.1, W3C 2011).

#include <Eigen/Geometry>
#include <optional>
#include <string_view>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct SvgPart {  // of a path: from one "move to" to the next
  std::vector<Vec2> line;
  bool closed = false;
};

/// Path data (chapter 8), curves sampled to `chord` in its own units. None if it is not well formed
/// or a number in it is not finite.
[[nodiscard]] std::optional<std::vector<SvgPart>> svg_path(std::string_view data, double chord);

/// A list of numbers, split by blanks and commas.
[[nodiscard]] std::optional<std::vector<double>> svg_numbers(std::string_view text);

/// A transform attribute (7.6): matrix, translate, scale, rotate, skewX, skewY.
[[nodiscard]] std::optional<Eigen::Affine2d> svg_transform(std::string_view text);

/// "210mm" in metres; 0: px, %, or no unit.
[[nodiscard]] double svg_length_m(std::string_view text);

}  // namespace skewback
