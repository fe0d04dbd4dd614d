#include "base/constants.hpp"
#include "brief/profile.hpp"
#include "loads/edges.hpp"
#include "loads/loads.hpp"
#include "loads/shares.hpp"

namespace skewback {

namespace {

/// A parapet follows the walk up and down: its length over that in plan.
double true_over_plan(const Brief& brief, const Assembly& assembly,
                      const std::vector<Regions>& outlines, const std::vector<Vec2>& line) {
  double plan = 0, whole = 0;
  for (const EdgePiece& piece : edge_pieces(brief, assembly, outlines, {line}, 0)) {
    plan += piece.length_m;
    whole += piece.true_length_m;
  }
  return plan > 0 ? whole / plan : 1;
}

}  // namespace

void add_carried(const Brief& brief, Assembly& assembly) {
  const std::vector<Regions> outlines = shared_outlines(assembly);
  const auto spread = [&](const Regions& where, double pressure, Carried kind) {
    if (where.empty() || pressure <= 0) return;
    for (const Share& f : shares(assembly, outlines, where)) {
      assembly.blocks[static_cast<std::size_t>(f.block)].carried.push_back(
          {pressure * f.area_m2 / kGravity, f.point, kind});
    }
  };
  spread(walking_surface(brief), brief.walkway.weight_pa, Carried::kWalkway);
  if (brief.walkway.fill_density > 0) {
    for (const Share& f : shares(assembly, outlines, walking_surface(brief))) {
      const double p = fill_pressure_pa(brief.walkway, f.point.head<2>(), f.point.z());
      if (p > 0)
        assembly.blocks[static_cast<std::size_t>(f.block)].carried.push_back(
            {p * f.area_m2 / kGravity, f.point, Carried::kFill});
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
    length *= true_over_plan(brief, assembly, outlines, line);
    if (on > 0) spread(strip, brief.parapet.weight_n_per_m * length / on, Carried::kParapet);
  }
}

}  // namespace skewback
