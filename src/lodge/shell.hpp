#pragma once
// Surfaces of solids for the page: flat where faces meet at an edge, and the edges themselves.

#include <cstdint>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"
#include "lodge/sheaf.hpp"

namespace skewback::lodge {

/// Many solids in one mesh. A corner is shared by triangles that meet there across edges blunter
/// than kEdgeDeg alone; sharper ones, and rims where a surface ends, are lines.
class Shell {
 public:
  static constexpr double kEdgeDeg = 30;

  void add(const Solid& solid, std::uint32_t owner);
  /// "points", "triangles", `owner` a triangle, "lines", "line_" + `owner` a line.
  void move_to(Sheaf& sheaf, const std::string& owner);

 private:
  std::vector<float> points_, lines_;
  std::vector<std::uint32_t> triangles_, owner_, line_owner_;
};

}  // namespace skewback::lodge
