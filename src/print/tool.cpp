#include "print/tool.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {

ToolShape tool_shape(const PrintRequest& cell) {
  const double nozzle = cell.nozzle_m / 2, wrist = cell.wrist_m / 2;
  const double shoulder = cell.nozzle_length_m + cell.wrist_length_m / 2;
  const double top = cell.nozzle_length_m + cell.wrist_length_m;
  return {{Vec2(0, 0), Vec2(nozzle, 0), Vec2(nozzle, cell.nozzle_length_m), Vec2(wrist, shoulder),
           Vec2(wrist, top), Vec2(0, top)}};
}

double ToolShape::distance(double radius, double height) const {
  double least = std::numeric_limits<double>::max();
  double wide = -1;  // radius of the tool at this height
  for (std::size_t i = 0; i + 1 < outline.size(); ++i) {
    const Vec2 a = outline[i], d = outline[i + 1] - a;
    const Vec2 e(radius - a.x(), height - a.y());
    const double length2 = d.squaredNorm();
    const double t = length2 > 0 ? std::clamp(e.dot(d) / length2, 0.0, 1.0) : 0.0;
    least = std::min(least, (e - t * d).squaredNorm());
    if (d.y() > 0 && height >= a.y() && height <= a.y() + d.y())
      wide = std::max(wide, a.x() + (height - a.y()) / d.y() * d.x());
  }
  return radius <= wide ? -std::sqrt(least) : std::sqrt(least);
}

double distance(const ToolShape& tool, const ToolPlace& place, const Vec3& p) {
  const Vec3 e = p - place.tip;
  const double height = e.dot(place.axis);
  return tool.distance(std::sqrt(std::max(0.0, e.squaredNorm() - height * height)), height);
}

}  // namespace skewback
