#include "loads/wind.hpp"

#include <algorithm>
#include <cmath>

#include "loads/actions.hpp"
#include "loads/edges.hpp"
#include "loads/shares.hpp"

namespace skewback {
namespace {

Regions silhouette(const Solid& solid, const Vec2& across) {
  std::vector<Vec2> seen;
  for (const Vec3& v : solid.vertices) seen.emplace_back(across.dot(v.head<2>()), v.z());
  return {{convex_hull(seen), {}}};
}

}  // namespace

WindPressure wind_pressure(const Brief& brief) {
  WindPressure wind;
  wind.height_m = brief.loads.wind_height_m > 0 ? brief.loads.wind_height_m : brief.form.rise_m + 1;
  wind.peak_pa =
      brief.loads.wind_speed_m_s > 0
          ? peak_wind_pa(brief.loads.wind_speed_m_s, wind.height_m, brief.loads.wind_roughness_m)
          : 0;
  return wind;
}

std::vector<LiveForce> pressure_on_sides(const Assembly& assembly, const std::vector<char>& present,
                                         double pressure_pa, const Vec2& way) {
  const Vec2 across(-way.y(), way.x());
  const Vec3 push(way.x(), way.y(), 0);
  std::vector<std::pair<int, double>> own;
  Regions all;
  double sum = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (assembly.blocks[b].fixed || (!present.empty() && present[b] == 0)) continue;
    const Regions seen = silhouette(assembly.blocks[b].solid, across);
    own.emplace_back(static_cast<int>(b), area(seen));
    sum += own.back().second;
    all.insert(all.end(), seen.begin(), seen.end());
  }
  const double whole = area(unite(all));
  std::vector<LiveForce> forces;
  for (const auto& [block, seen] : own) {
    forces.push_back({block, centre_of_gravity(assembly.blocks[static_cast<std::size_t>(block)]),
                      pressure_pa * whole * seen / sum * push});
  }
  return forces;
}

std::vector<LiveForce> wind_across(const Brief& brief, const Assembly& assembly,
                                   const std::vector<Regions>& outlines, const Vec2& way,
                                   double deck_m) {
  const double pressure = kWindSide * wind_pressure(brief).peak_pa;
  const Vec3 push(way.x(), way.y(), 0);
  std::vector<LiveForce> forces = pressure_on_sides(assembly, {}, pressure, way);
  const Vec3 up = Vec3::UnitZ();
  for (const EdgePiece& piece :
       edge_pieces(brief, assembly, outlines, carried_parapets(brief), deck_m)) {
    const double seen = piece.length_m * std::abs(piece.outward.dot(way));
    const double z = piece.walk_z + brief.access.parapet_height_m / 2 - piece.point.z();
    forces.push_back({piece.block, piece.point + z * up, pressure * kOpenParapet * seen * push});
  }
  if (brief.walkway.width_m <= 0) return forces;
  // what is between the blocks and the walk, as if it were closed, on the side that the wind meets
  std::vector<std::vector<Vec2>> edges;
  for (const FreeEdge& edge : brief.plan.free_edges) edges.push_back(edge.line);
  for (const EdgePiece& piece : edge_pieces(brief, assembly, outlines, edges, deck_m)) {
    const double seen = -piece.length_m * piece.outward.dot(way),
                 high = piece.walk_z - piece.point.z();
    if (seen <= 0 || high <= 0) continue;
    forces.push_back({piece.block, piece.point + high / 2 * up, pressure * seen * high * push});
  }
  return forces;
}

std::vector<LiveForce> wind_lift(const Brief& brief, const Assembly& assembly,
                                 const std::vector<Regions>& outlines, double sign) {
  const Regions plan{{brief.plan.outline, brief.plan.openings}};
  const double pressure = kWindLift * wind_pressure(brief).peak_pa;
  std::vector<LiveForce> forces;
  for (const Share& share : shares(assembly, outlines, plan)) {
    forces.push_back({share.block, share.point, Vec3(0, 0, sign * pressure * share.area_m2)});
  }
  return forces;
}

}  // namespace skewback
