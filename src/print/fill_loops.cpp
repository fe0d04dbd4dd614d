// A loop round each tube, half way through the wall that is the tube's own: the leaf where it faces
// the outline, half the web where it faces another tube. Rays square to the tube's sides measure
// the wall; corners are where the sides' lines meet.
#include <algorithm>
#include <cmath>

#include "print/fill_tube.hpp"

namespace skewback::filling {
namespace {

/// Thickness of leaf that one tube in five is under; nothing without leaves in reach.
std::optional<double> thin_leaf(const std::vector<Tube>& tubes) {
  std::vector<double> leaves;
  for (const Tube& tube : tubes) {
    for (const Side& side : tube.sides) {
      for (const Ray& ray : side) {
        if (ray.hit == kOuter) leaves.push_back(ray.wall_m);
      }
    }
  }
  if (leaves.empty()) return std::nullopt;
  const auto at = leaves.begin() + static_cast<std::ptrdiff_t>(leaves.size() / 5);
  std::nth_element(leaves.begin(), at, leaves.end());
  return *at;
}

/// Outline of the largest piece: a line that turned back on itself in a corner is rid of its loops.
Polygon largest(const Regions& pieces) {
  const Region* best = nullptr;
  for (const Region& r : pieces) {
    if (!best || area(r.outer) > area(best->outer)) best = &r;
  }
  return best ? best->outer : Polygon{};
}

bool fits(const Polygon& loop, const SegmentIndex& walls) {
  if (loop.size() < 3 || self_crossing(loop)) return false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    if (!walls.crossings(loop[i], loop[(i + 1) % loop.size()]).empty()) return false;
  }
  return true;
}

void report_thin(const std::vector<Tube>& tubes, const FillLimits& limits, Loops& out) {
  const double least = limits.bead_min_m * (1 - 1e-3);
  for (std::size_t t = 0; t < tubes.size(); ++t) {
    const Ray *leaf = nullptr, *web = nullptr;
    for (const Side& side : tubes[t].sides) {
      for (const Ray& ray : side) {
        if (ray.wall_m >= least || ray.hit == kNothing) continue;
        const bool outer = ray.hit == kOuter;
        if (!outer && ray.hit < static_cast<int>(t)) continue;  // said of the other tube
        const Ray*& worst = outer ? leaf : web;
        if (!worst || ray.wall_m < worst->wall_m) worst = &ray;
      }
    }
    const std::string under = ", under bead_min of " + millimetres(limits.bead_min_m) + ", ";
    if (leaf) {
      out.troubles.push_back("a leaf of " + millimetres(leaf->wall_m) + under + at(leaf->foot));
    }
    if (web) {
      out.troubles.push_back("a web of " + millimetres(2 * web->wall_m) +
                             " is laid as two beads of " + millimetres(web->wall_m) + under +
                             at(web->foot));
    }
  }
}

/// Half the tube's own wall away from it at every place, clear of the outline and of other tubes:
/// for a tube whose sides give no line that fits.
Polygon even_line(const Region& section, std::size_t tube, const Tube& sides,
                  const FillLimits& limits) {
  std::vector<double> walls;
  for (const Side& side : sides.sides) {
    for (const Ray& ray : side) walls.push_back(ray.wall_m);
  }
  const auto middle = walls.begin() + static_cast<std::ptrdiff_t>(walls.size() / 2);
  std::nth_element(walls.begin(), middle, walls.end());
  const double away = *middle / 2;
  Regions line = intersect(offset({{sides.outline, {}}}, away),
                           offset({{section.outer, {}}}, -limits.bead_min_m / 2));
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    Polygon other = section.holes[h];
    std::reverse(other.begin(), other.end());
    if (h != tube) line = subtract(line, offset({{other, {}}}, away));
  }
  return simplified(largest(line), kJog / 2);
}

std::vector<Tube> tubes_of(const Region& section, const Regions& outer, double reach) {
  SegmentIndex walls;
  for (const Region& r : outer) {
    walls.add(r.outer, kOuter);
    for (const Polygon& hole : r.holes) walls.add(hole, kOuter);
  }
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    walls.add(section.holes[h], static_cast<int>(h));
  }
  walls.build();
  std::vector<Tube> tubes;
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    tubes.push_back(tube_of(section.holes[h], walls, reach));
  }
  return tubes;
}

/// Loops along the outline where the leaf is more than one bead; gives what is left inside them.
Regions peel(const Region& section, int strips, double width, Loops& out) {
  const Regions outer{{section.outer, {}}};
  for (int j = 0; j < strips; ++j) {
    for (const Region& r : offset(outer, -(j + 0.5) * width)) {
      out.loops.push_back(simplified(r.outer, kJog / 2));
    }
  }
  return strips > 0 ? offset(outer, -strips * width) : outer;
}

/// The loop half way through a tube's wall; empty where none fits.
Polygon loop_round(const Region& section, const std::vector<Tube>& tubes, std::size_t number,
                   const SegmentIndex& walls, const FillLimits& limits) {
  const Tube& tube = tubes[number];
  Polygon loop = line_at(tube, 0.5);
  if (fits(loop, walls)) return loop;
  for (const bool corners_out : {true, false}) {
    loop = largest(unite({{line_at(tube, 0.5, corners_out), {}}}));
    if (fits(loop, walls)) return loop;
  }
  loop = even_line(section, number, tube, limits);
  return fits(loop, walls) ? loop : Polygon{};
}

/// Without jogs and without holes too small to keep open.
Region cleaned(const Region& section, const FillLimits& limits) {
  Region clean{simplified(section.outer, kJog), {}};
  for (const Polygon& hole : section.holes) {
    Polygon h = simplified(hole, kJog);
    if (h.size() > 2 && std::abs(area(h)) > limits.bead_min_m * limits.bead_min_m) {
      clean.holes.push_back(std::move(h));
    }
  }
  return clean;
}

/// Loops round the tubes, and what they leave of `outer`.
Regions lay_tubes(const Region& section, const std::vector<Tube>& tubes, const Regions& outer,
                  const FillLimits& limits, Loops& out) {
  SegmentIndex walls;
  walls.add(section.outer, kOuter);
  for (const Polygon& hole : section.holes) walls.add(hole, kOuter);
  walls.build();
  Regions zones;
  for (std::size_t t = 0; t < tubes.size(); ++t) {
    Polygon loop = loop_round(section, tubes, t, walls, limits);
    zones.push_back({tubes[t].outline, {}});
    if (loop.empty()) {
      out.troubles.push_back("no loop fits round the tube " + at(centroid(zones.back())));
    } else {
      zones.back().outer = line_at(tubes[t], 1);
      out.loops.push_back(std::move(loop));
    }
  }
  if (tubes.empty()) return outer;
  return subtract(outer, unite(zones));
}

}  // namespace

Loops lay_loops(const Region& section, const FillLimits& limits) {
  Loops out;
  const Region clean = cleaned(section, limits);
  const double reach = std::max(0.2, 3.5 * limits.bead_max_m);
  Regions outer{{clean.outer, {}}};
  std::vector<Tube> tubes = tubes_of(clean, outer, reach);
  const auto leaf = thin_leaf(tubes);
  if (leaf && *leaf > kOver * limits.bead_max_m && *leaf < 3.2 * limits.bead_max_m) {
    const int beads = static_cast<int>(std::ceil(*leaf / (1.2 * limits.bead_m)));
    outer = peel(clean, beads - 1, *leaf / beads, out);
    tubes = tubes_of(clean, outer, reach);
  }
  for (Tube& tube : tubes) cap(tube, limits);
  report_thin(tubes, limits, out);

  lay_solid(lay_tubes(clean, tubes, outer, limits, out), limits, out);
  return out;
}

}  // namespace skewback::filling
