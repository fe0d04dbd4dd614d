#pragma once
// For tests only: briefs of the sample assemblies, and questions that tests ask of a centring.

#include <algorithm>
#include <cmath>
#include <string>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "centring/centring.hpp"

namespace skewback::sample {

inline Brief brief_for(const Arch& arch) {
  Brief brief = barrel_brief(arch.radius, arch.width);
  brief.centring.wanted = true;
  return brief;
}
inline Brief brief_for(const Tripod& t) {
  Brief brief = tripod_brief(t.core + t.radius, t.width);
  brief.centring.wanted = true;
  return brief;
}

inline Arch wide_arch() {
  Arch arch;
  arch.voussoirs = 15;
  arch.width = 1.9;
  return arch;
}

inline double at(const std::vector<Vec2>& line, double x) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    if (x > line[i].x()) continue;
    const Vec2 &p = line[i - 1], &q = line[i];
    return p.y() + (x - p.x()) / (q.x() - p.x()) * (q.y() - p.y());
  }
  return line.back().y();
}

inline const Rib& rib_of(const Centring& centring, const std::string& id) {
  return *std::ranges::find(centring.ribs, id, &Rib::id);
}

/// Does a point lie in the part as it fills its sheet?
inline bool inside(const SheetPart& part, double thickness, const Vec3& p) {
  const Vec3 q = part.place.to_local(p);
  return std::abs(q.z()) < thickness / 2 && contains(part.outline, q.head<2>());
}

/// Seats of a block: how many, and the greatest distance of one from the line through two others.
struct Footing {
  int seats = 0;
  double off_line_m = 0;
};
inline Footing footing_of(const Centring& centring, int block) {
  std::vector<Vec2> p;
  for (const Seat& seat : centring.seats) {
    if (seat.prop.block == block) p.emplace_back(seat.prop.point.head<2>());
  }
  Footing out;
  out.seats = static_cast<int>(p.size());
  for (const Vec2& a : p) {
    for (const Vec2& b : p) {
      if ((b - a).norm() < 1e-6) continue;
      const Vec2 u = (b - a).normalized();
      for (const Vec2& c : p) {
        out.off_line_m =
            std::max(out.off_line_m, std::abs(u.x() * (c - a).y() - u.y() * (c - a).x()));
      }
    }
  }
  return out;
}

}  // namespace skewback::sample
