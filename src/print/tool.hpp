#pragma once
// Private to print/: nozzle and wrist as a solid of revolution about the nozzle's axis.

#include <array>

#include "brief/brief.hpp"

namespace skewback {

/// Outline from the axis at the tip to the axis at the top, as (radius, height above the tip):
/// nozzle upright, a cone to the wrist over half the wrist's length, the wrist upright.
struct ToolShape {
  std::array<Vec2, 6> outline;
  [[nodiscard]] double top_m() const { return outline.back().y(); }
  /// To the surface, negative inside. Exact, so it changes no faster than the place does.
  [[nodiscard]] double distance(double radius, double height) const;
};

[[nodiscard]] ToolShape tool_shape(const PrintRequest& cell);

/// Where the tool is: tip and unit axis, table frame.
struct ToolPlace {
  Vec3 tip = Vec3::Zero(), axis = Vec3::UnitZ();
  [[nodiscard]] double height(const Vec3& p) const { return axis.dot(p - tip); }
};

[[nodiscard]] double distance(const ToolShape& tool, const ToolPlace& place, const Vec3& p);

}  // namespace skewback
