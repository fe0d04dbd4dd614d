#pragma once
// What it takes: concrete, steel, pads, walkway, footings, lorries; carbon and money. Theory:
// docs/theory/quantities.md.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "ground/ground.hpp"

namespace skewback {

struct QuantityLine {
  std::string what, unit;
  double amount = 0;
  double mass_kg = 0;
  std::array<double, 3> carbon_kg{};  // CO2e, A1 to A3: least, usual, most
  std::optional<double> money;        // none: no rate in the brief
  std::string moved_by;               // the choices in the brief that move it
  std::string source;                 // of amount and carbon
};

/// Solid reinforced concrete slab over the same plan by a stated rule: docs/theory/quantities.md.
struct SlabRule {
  double people_pa = 5e3, finishes_pa = 1e3;
  double fck_pa = 30e6, fyk_pa = 500e6;
  double span_over_depth = 20;
};
struct SlabDesign {
  double span_m = 0, depth_m = 0;
  double moment_nm_per_m = 0;  // design, per metre of width
  double steel_mm2_per_m = 0;  // main bars
  double concrete_m3 = 0, steel_kg = 0;
};
[[nodiscard]] SlabDesign solid_slab(double span_m, double plan_m2, const SlabRule& rule = {});

/// Of the nozzle's paths, all printed blocks together.
struct PrintTotals {
  double path_m = 0;
  double print_s = 0;               // nozzle's time
  double mix_m3 = 0;                // without accelerator and test pieces
  int blocks = 0;                   // so many
  double cast_m3 = 0, cast_kg = 0;  // of blocks that are cast instead
};

struct SpareBlocks {  // made beside those of the bridge
  int blocks = 0;
  double volume_m3 = 0, mass_kg = 0;
  double print_s = 0;  // nozzle's time; 0: none is printed
};

struct UsedBlocks {  // of the bridge, made for another one before
  int blocks = 0;
  double volume_m3 = 0, mass_kg = 0;
};

struct Quantities {
  std::vector<QuantityLine> lines;
  double concrete_m3 = 0;  // of the blocks
  double steel_kg = 0;     // ties, without shoes
  double deck_m2 = 0;      // walking surface
  std::array<double, 3> carbon_kg{};
  std::optional<double> money;  // of the lines with a rate
  std::vector<std::string> not_priced;
  int lorries = 0;
  std::optional<PrintTotals> print;  // none: no paths yet, or nothing is printed
  SlabDesign slab;
  double concrete_ratio = 0, steel_ratio = 0;  // ours over the slab's
  std::vector<std::string> remarks;
};

/// Rods between springings at 7,850 kg/m3; nuts, plates and anchors left out.
[[nodiscard]] double tie_steel_kg(const Brief& brief, const Groundworks& ground);

/// `deck_m2`: area of the walking surface. Without `print` there is no line for printing.
/// `lorries`: that carry the blocks, by a plan of the transport; none: all that is carried by mass
/// alone, 24 t each. Spares have lines of their own and are not in `concrete_m3`; blocks that are
/// used again have one too, without carbon or money, and are in it.
[[nodiscard]] Quantities take_off(const Brief& brief, const Assembly& assembly,
                                  const Groundworks& ground, double deck_m2,
                                  const std::optional<PrintTotals>& print = {},
                                  const std::optional<int>& lorries = {},
                                  const SpareBlocks& spares = {}, const UsedBlocks& used = {});

}  // namespace skewback
