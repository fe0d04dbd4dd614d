#include <algorithm>
#include <cmath>

#include "brief/walking_lines.hpp"
#include "loads/loads.hpp"
#include "loads/shares.hpp"

namespace skewback {

std::vector<std::vector<Vec2>> walking_lines(const Brief& brief) {
  return brief.walkway.lines.empty() ? default_walking_lines(brief.plan) : brief.walkway.lines;
}

Regions walking_surface(const Brief& brief) {
  const Region plan{brief.plan.outline, brief.plan.openings};
  if (brief.walkway.width_m <= 0) return {plan};
  Regions strips;
  for (const auto& line : brief.walkway.lines) {
    for (Region& r : strip_along(line, brief.walkway.width_m)) strips.push_back(std::move(r));
  }
  return intersect(unite(strips), {plan});
}

std::vector<LiveForce> pressure_on_blocks(const Assembly& assembly, const Regions& where,
                                          double p) {
  std::vector<LiveForce> out;
  for (const Share& f : shares(assembly, shared_outlines(assembly), where)) {
    out.push_back({f.block, f.point, Vec3(0, 0, -p * f.area_m2)});
  }
  return out;
}

std::vector<LiveForce> people_cells(const Brief& brief, const Assembly& assembly, double side_m) {
  const Regions surface = walking_surface(brief);
  if (surface.empty() || brief.loads.people_pa <= 0) return {};
  const std::vector<Regions> outlines = shared_outlines(assembly);
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Region& region : surface) {
    for (const Vec2& p : region.outer) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  const int columns = std::max(1, static_cast<int>(std::ceil((high.x() - low.x()) / side_m))),
            rows = std::max(1, static_cast<int>(std::ceil((high.y() - low.y()) / side_m)));
  const Vec2 step((high.x() - low.x()) / columns, (high.y() - low.y()) / rows);
  std::vector<LiveForce> cells;
  for (int i = 0; i < columns; ++i) {
    for (int j = 0; j < rows; ++j) {
      const Vec2 a = low + Vec2(i * step.x(), j * step.y()), b = a + step;
      const Regions square = intersect(surface, {{{a, {b.x(), a.y()}, b, {a.x(), b.y()}}, {}}});
      if (area(square) < 1e-6) continue;
      for (const Share& f : shares(assembly, outlines, square)) {
        cells.push_back({f.block, f.point, Vec3(0, 0, -brief.loads.people_pa * f.area_m2)});
      }
    }
  }
  return cells;
}

}  // namespace skewback
