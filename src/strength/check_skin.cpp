#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "strength/checks.hpp"

namespace skewback {
namespace {

double dead_pa(const Brief& brief, const DesignCase& design, double density, double leaf_m) {
  return design.dead_gamma * (density * kGravity * leaf_m + brief.walkway.weight_pa);
}

/// One inner cell stands for all that are alike: the thinnest.
bool stands_for_others(const BlockView& view, const Cell& cell) {
  if (cell.outer_low || cell.outer_high) return true;
  return std::none_of(view.cells.begin(), view.cells.end(), [&](const Cell& other) {
    return !other.outer_low && !other.outer_high && other.leaf_m < cell.leaf_m;
  });
}

std::string place_of(const BlockView& view, std::size_t i, const SkinUse& use, bool patch) {
  std::string place = "tube " + std::to_string(view.cells.size() - i) + " of " +
                      std::to_string(view.cells.size()) + " from the left, ";
  place += use.across_layers ? "across layers" : use.at_web ? "at a web" : "midway between webs";
  return use.at_bed && patch ? place + ", load at a bed" : place;
}

}  // namespace

SkinLoads patch_loads(const Brief& brief, const DesignCase& design, double density, double leaf_m) {
  return {design.live_gamma * brief.loads.patch_n, dead_pa(brief, design, density, leaf_m)};
}

SkinLoads people_loads(const Brief& brief, const DesignCase& design, double density,
                       double leaf_m) {
  return {0, design.live_gamma * brief.loads.people_pa + dead_pa(brief, design, density, leaf_m)};
}

SkinUse skin_use(const SkinUnits& units, double leaf_m, const SkinLoads& loads,
                 const ConcreteDesign& concrete, double pressure_pa) {
  const auto sum = [&](double SkinStress::*of) {
    return loads.even_pa * units.even.*of + loads.patch_n * units.patch.*of;
  };
  const double gain = flexural_gain(leaf_m), within = concrete.tension_pa * gain,
               between = concrete.layer_pa * gain;
  const double across = sum(&SkinStress::across_pa), inside = sum(&SkinStress::inside_pa) / within,
               along = sum(&SkinStress::along_pa) - std::max(pressure_pa, 0.0);
  const SkinStress& leading = loads.patch_n > 0 ? units.patch : units.even;
  const double both = std::max(inside, along / between);
  if (along / between > across / within)
    return {along, between, along / between, both, true, false, false};
  return {across, within, across / within, both, false, leading.at_web, leading.at_bed};
}

void check_skin(const Brief& brief, const std::vector<const CaseInput*>& inputs, double density,
                CheckedBlock& block) {
  const BlockView& view = *block.view;
  for (std::size_t i = 0; i < view.cells.size(); ++i) {
    const double leaf = view.cells[i].leaf_m;
    if (!stands_for_others(view, view.cells[i])) continue;
    const SkinUnits units = skin_units(skin_of(view, i), brief.loads.patch_side_m);
    for (const CaseInput* input : inputs) {
      for (const Check check : {Check::kPatch, Check::kPeople}) {
        const bool patch = check == Check::kPatch;
        const char* load = patch ? "concentrated load" : "people on the skin";
        const SkinLoads loads = patch ? patch_loads(brief, input->design, density, leaf)
                                      : people_loads(brief, input->design, density, leaf);
        const SkinUse use = skin_use(units, leaf, loads, input->concrete, block.least_pressure_pa);
        block.skin_inside = std::max(block.skin_inside, use.inside);
        block.worst.add(check, {view.block, name(check), load, use.demand_pa, use.resistance_pa,
                                "Pa", use.utilisation, place_of(view, i, use, patch),
                                "thin plate between webs, Timoshenko and Woinowsky-Krieger 1959, "
                                "Westergaard 1926; EN 1992-1-1 12.3.1 and (3.23)"});
      }
    }
  }
}

void check_upstand(const Brief& brief, const Assembly& assembly, CheckedBlock& block) {
  const BlockView& view = *block.view;
  const int arm = assembly.blocks[static_cast<std::size_t>(view.block)].place.arm;
  if (arm < 0 || !brief.parapet.works_on(arm) || (!view.left_edge && !view.right_edge)) return;
  const double thick = brief.parapet.upstand_width_m, high = brief.parapet.upstand_height_m;
  if (!(thick > 0) || !(high > 0)) return;
  const ConcreteDesign concrete =
      design_strength(brief.material.fck_pa, brief.factors.concrete, brief.factors.plain,
                      brief.strength.layer_tension_pa);
  const double push = brief.factors.other * brief.loads.rail_push_n_per_m;
  const auto add = [&](double demand, double resistance, const char* place, const char* source) {
    block.worst.add(Check::kUpstand, {view.block, name(Check::kUpstand), "push on the rail", demand,
                                      resistance, "Pa", demand / resistance, place, source});
  };
  add(6 * push * high / (thick * thick), concrete.tension_pa * flexural_gain(thick),
      "foot of the upstand, bending", "cantilever; EN 1992-1-1 12.3.1 and (3.23)");
  add(1.5 * push / thick, shear_strength_pa(0, concrete.tension_pa, concrete.compression_pa),
      "foot of the upstand, shear", "EN 1992-1-1 (12.3) to (12.7)");
  for (const Cell& cell : view.cells) {
    if (!cell.outer_low && !cell.outer_high) continue;
    // the block's side and the roof of its outer tube share the moment by their stiffness
    const double side = cell.outer_low ? cell.web_low_m : cell.web_high_m;
    const double roof = std::pow(cell.leaf_m, 3) / (cell.x1 - cell.x0),
                 wall = std::pow(side, 3) / cell.height_m;
    const double moment = push * (high + cell.leaf_m / 2);
    add(6 * moment * roof / (roof + wall) / (cell.leaf_m * cell.leaf_m),
        concrete.tension_pa * flexural_gain(cell.leaf_m), "roof of the tube beside the upstand",
        "corner of a frame; EN 1992-1-1 12.3.1 and (3.23)");
    add(6 * moment * wall / (roof + wall) / (side * side),
        concrete.tension_pa * flexural_gain(side), "side of the block below the upstand",
        "corner of a frame; EN 1992-1-1 12.3.1 and (3.23)");
  }
}

}  // namespace skewback
