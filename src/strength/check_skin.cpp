#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "strength/checks.hpp"

namespace skewback {
namespace {

double carried_pa(const Brief& brief) { return brief.walkway.weight_pa; }

SkinLoads patch_loads(const Brief& brief, const DesignCase& design, double density, double leaf_m) {
  return {design.live_gamma * brief.loads.patch_n, brief.loads.patch_side_m, 0,
          design.dead_gamma * (density * kGravity * leaf_m + carried_pa(brief))};
}

SkinLoads people_loads(const Brief& brief, const DesignCase& design, double density,
                       double leaf_m) {
  return {0, 0, design.live_gamma * brief.loads.people_pa,
          design.dead_gamma * (density * kGravity * leaf_m + carried_pa(brief))};
}

}  // namespace

SkinUse skin_use(const SkinShape& shape, const SkinLoads& loads, const ConcreteDesign& concrete,
                 double pressure_pa) {
  const SkinStress stress =
      skin_stress(shape, loads.patch_n, loads.patch_side_m, loads.people_pa + loads.dead_pa);
  const double gain = flexural_gain(shape.leaf_m);
  const double across = stress.across_pa, along = stress.along_pa - std::max(pressure_pa, 0.0);
  const SkinUse in_layer{across,
                         concrete.tension_pa * gain,
                         across / (concrete.tension_pa * gain),
                         false,
                         stress.at_web,
                         stress.at_bed};
  const SkinUse between{
      along, concrete.layer_pa * gain, along / (concrete.layer_pa * gain), true, false, false};
  return between.utilisation > in_layer.utilisation ? between : in_layer;
}

void check_skin(const Brief& brief, const CaseInput& input, double density, CheckedBlock& block) {
  const BlockView& view = *block.view;
  for (std::size_t i = 0; i < view.cells.size(); ++i) {
    // one inner cell stands for all that are alike: the thinnest
    const Cell& cell = view.cells[i];
    const bool outer = cell.outer_low || cell.outer_high;
    const auto thinner = [&](const Cell& other) {
      return !other.outer_low && !other.outer_high && other.leaf_m < cell.leaf_m;
    };
    if (!outer && std::any_of(view.cells.begin(), view.cells.end(), thinner)) continue;
    const SkinShape shape = skin_of(view, i);
    for (const Check check : {Check::kPatch, Check::kPeople}) {
      const SkinLoads loads = check == Check::kPatch
                                  ? patch_loads(brief, input.design, density, cell.leaf_m)
                                  : people_loads(brief, input.design, density, cell.leaf_m);
      const SkinUse use = skin_use(shape, loads, input.concrete, block.least_pressure_pa);
      std::string place = "tube " + std::to_string(view.cells.size() - i) + " of " +
                          std::to_string(view.cells.size()) + " from the left, ";
      place += use.across_layers ? "across layers"
               : use.at_web      ? "at a web"
                                 : "midway between webs";
      if (use.at_bed && check == Check::kPatch) place += ", load at a bed";
      block.worst.add(check, {view.block, name(check), input.id, use.demand_pa, use.resistance_pa,
                              "Pa", use.utilisation, place,
                              "thin plate between webs, Timoshenko and Woinowsky-Krieger 1959; EN "
                              "1992-1-1 12.3.1 and (3.23)"});
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
