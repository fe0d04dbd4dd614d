#include "loads/loads.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "brief/profile.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Plan outline of a block, as the hull of its corners seen from above: the free edges of a block
/// bow in by a few millimetres at most, outside the walking surface.
Regions footprint(const Solid& solid) {
  std::vector<Vec2> corners;
  for (const Vec3& v : solid.vertices) corners.push_back(v.head<2>());
  return {{convex_hull(corners), {}}};
}

/// Height of the top of a solid above a plan point: the highest upward face there.
double top_at(const Solid& solid, const Vec2& p) {
  double top = -1e300;
  for (const auto& face : solid.faces) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      const Vec3 &a = solid.vertices[at(face[0])], &b = solid.vertices[at(face[i])],
                 &c = solid.vertices[at(face[i + 1])];
      const double whole = (b - a).head<2>().x() * (c - a).y() - (b - a).y() * (c - a).x();
      if (whole <= 0) continue;
      const auto share = [&](const Vec3& u, const Vec3& v) {
        return ((u.x() - p.x()) * (v.y() - p.y()) - (u.y() - p.y()) * (v.x() - p.x())) / whole;
      };
      const double wa = share(b, c), wb = share(c, a), wc = share(a, b);
      if (std::min({wa, wb, wc}) < -1e-9) continue;
      top = std::max(top, wa * a.z() + wb * b.z() + wc * c.z());
    }
  }
  return top > -1e299 ? top : mass_properties(solid).centroid.z();
}

struct Footing {  // where a block's plan outline carries part of a region
  int block = -1;
  double area_m2 = 0;
  Vec3 point = Vec3::Zero();
};

/// Plan outlines are shared out without overlap: joints lean, so neighbours overlap seen from
/// above.
std::vector<Regions> shared_outlines(const Assembly& assembly) {
  std::vector<Regions> out(assembly.blocks.size());
  std::vector<Regions> raw(assembly.blocks.size());
  for (std::size_t b = 0; b < raw.size(); ++b) {
    if (!assembly.blocks[b].fixed) raw[b] = footprint(assembly.blocks[b].solid);
  }
  // a block hides what is under it: the extrados of one block next to the haunch of the next
  for (std::size_t b = 0; b < raw.size(); ++b) {
    Regions own = raw[b];
    for (const Joint& joint : assembly.joints) {
      const bool is_b = at(joint.b) == b;
      if (!is_b && at(joint.a) != b) continue;
      const std::size_t other = is_b ? at(joint.a) : at(joint.b);
      if (assembly.blocks[other].fixed) continue;
      const Regions overlap = intersect(own, raw[other]);
      if (overlap.empty()) continue;
      const Vec2 c = centroid(overlap);
      if (top_at(assembly.blocks[other].solid, c) > top_at(assembly.blocks[b].solid, c))
        own = subtract(own, raw[other]);
    }
    out[b] = std::move(own);
  }
  return out;
}

std::vector<Footing> footings(const Assembly& assembly, const std::vector<Regions>& outlines,
                              const Regions& where) {
  std::vector<Footing> out;
  double covered = 0;
  for (std::size_t b = 0; b < outlines.size(); ++b) {
    if (outlines[b].empty()) continue;
    const Regions on = intersect(outlines[b], where);
    const double a = area(on);
    if (a < 1e-6) continue;
    const Vec2 c = centroid(on);
    out.push_back(
        {static_cast<int>(b), a, Vec3(c.x(), c.y(), top_at(assembly.blocks[b].solid, c))});
    covered += a;
  }
  // pads and joints leave slits of a few millimetres between outlines: people stand on them all the
  // same
  const double whole = area(where);
  for (Footing& f : out) f.area_m2 *= covered > 0 ? whole / covered : 0;
  return out;
}

Regions half_plane(const Vec2& point, const Vec2& normal) {  // where (p - point) . normal > 0
  const Vec2 n = normal.normalized(), t(-n.y(), n.x());
  constexpr double kFar = 1e3;
  return {{{point - kFar * t, point - kFar * t + kFar * n, point + kFar * t + kFar * n,
            point + kFar * t},
           {}}};
}

Regions oriented(Regions regions) {
  for (Region& r : regions) {
    if (area(r.outer) < 0) std::reverse(r.outer.begin(), r.outer.end());
  }
  return regions;
}

/// The part of the surface nearer to this support's walking line end than to the others: its arm.
Regions arm_region(const Brief& brief, std::size_t k, const Regions& surface) {
  const Vec2 middle = brief.plan.meeting.value_or(centroid(Region{brief.plan.outline, {}}));
  const auto bearing = [&](std::size_t i) {
    const Vec2 d = (brief.plan.supports[i].a + brief.plan.supports[i].b) / 2 - middle;
    return std::atan2(d.y(), d.x());
  };
  const std::size_t n = brief.plan.supports.size();
  const auto before = [&](std::size_t i, std::size_t j) {  // counter-clockwise angle from i to j
    double a = bearing(j) - bearing(i);
    while (a <= 0) a += 2 * kPi;
    return a;
  };
  const double left = bearing(k) + before(k, (k + 1) % n) / 2,
               right = bearing(k) - before((k + n - 1) % n, k) / 2;
  constexpr double kFar = 1e3;
  Polygon wedge{middle};
  for (int i = 0; i <= 8; ++i) {
    const double b = right + (left - right) * i / 8;
    wedge.push_back(middle + kFar * Vec2(std::cos(b), std::sin(b)));
  }
  return intersect(surface, {{wedge, {}}});
}

}  // namespace

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
  for (const Footing& f : footings(assembly, shared_outlines(assembly), where)) {
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
      for (const Footing& f : footings(assembly, outlines, square)) {
        cells.push_back({f.block, f.point, Vec3(0, 0, -brief.loads.people_pa * f.area_m2)});
      }
    }
  }
  return cells;
}

void add_carried(const Brief& brief, Assembly& assembly) {
  const std::vector<Regions> outlines = shared_outlines(assembly);
  const auto spread = [&](const Regions& where, double pressure) {
    if (where.empty() || pressure <= 0) return;
    for (const Footing& f : footings(assembly, outlines, where)) {
      assembly.blocks[at(f.block)].carried.push_back({pressure * f.area_m2 / kGravity, f.point});
    }
  };
  spread(walking_surface(brief), brief.walkway.weight_pa);
  if (brief.walkway.fill_density > 0) {
    for (const Footing& f : footings(assembly, outlines, walking_surface(brief))) {
      const double p = fill_pressure_pa(brief.walkway, f.point.head<2>(), f.point.z());
      if (p > 0)
        assembly.blocks[at(f.block)].carried.push_back({p * f.area_m2 / kGravity, f.point});
    }
  }
  if (brief.parapet.weight_n_per_m <= 0) return;
  for (const std::vector<Vec2>& line : carried_parapets(brief)) {
    // a thin strip inside the edge whose area times its pressure is the weight per metre
    double length = 0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) length += (line[i + 1] - line[i]).norm();
    constexpr double kHalf = 0.02;
    const Regions inside{{brief.plan.outline, {}}};
    const Regions strip =
        intersect(subtract(strip_along(line, 2 * (brief.parapet.inset_m + kHalf)),
                           strip_along(line, 2 * (brief.parapet.inset_m - kHalf))),
                  inside);
    const double on = area(strip);
    if (on > 0) spread(strip, brief.parapet.weight_n_per_m * length / on);
  }
}

std::vector<LoadCase> load_cases(const Brief& brief, const Assembly& assembly) {
  std::vector<LoadCase> cases;
  LoadCase dead;
  dead.id = "dead";
  cases.push_back(dead);
  const Regions surface = walking_surface(brief);
  if (surface.empty() || brief.loads.people_pa <= 0) return cases;
  const std::vector<Regions> outlines = shared_outlines(assembly);
  const auto add = [&](const std::string& id, const Regions& where) {
    if (area(where) < 1e-3) return;
    LoadCase load;
    load.id = id;
    for (const Footing& f : footings(assembly, outlines, where)) {
      load.live.push_back({f.block, f.point, Vec3(0, 0, -brief.loads.people_pa * f.area_m2)});
    }
    cases.push_back(std::move(load));
  };
  add("full", surface);
  const std::size_t n = brief.plan.supports.size();
  for (std::size_t k = 0; k < n; ++k)
    add("arm-" + brief.plan.supports[k].id, arm_region(brief, k, surface));
  for (std::size_t k = 0; n > 2 && k < n;
       ++k) {  // two arms of three, and so on: the rest of the plan
    add("all-but-" + brief.plan.supports[k].id, subtract(surface, arm_region(brief, k, surface)));
  }
  for (std::size_t k = 0; k < brief.walkway.lines.size(); ++k) {  // half the width, each side
    const std::string suffix = brief.walkway.lines.size() > 1 ? "-" + std::to_string(k + 1) : "";
    const auto& line = brief.walkway.lines[k];
    const Vec2 along = line.back() - line.front();
    const Vec2 left(-along.y(), along.x());
    const Regions strip = intersect(strip_along(line, brief.walkway.width_m), surface);
    add("left-side" + suffix, intersect(strip, oriented(half_plane(line.front(), left))));
    add("right-side" + suffix, intersect(strip, oriented(half_plane(line.front(), -left))));
  }
  return cases;
}

}  // namespace skewback
