#pragma once
// Load cases: weight, people on the walking surface by pattern. Theory: docs/theory/loads.md.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

/// Adds to each block the walkway and parapets it carries.
void add_carried(const Brief& brief, Assembly& assembly);

/// dead; full; each half (along each walking line and across it); each arm.
[[nodiscard]] std::vector<LoadCase> load_cases(const Brief& brief, const Assembly& assembly);

/// People on every part of the walking surface, as cells that may be loaded or not: squares of
/// about `side_m`, cut along the blocks they stand on. Their sum is the case "full".
[[nodiscard]] std::vector<LiveForce> people_cells(const Brief& brief, const Assembly& assembly,
                                                  double side_m);

/// The walking surface: strips along the walking lines, or the whole plan if there is no walkway;
/// less the openings.
[[nodiscard]] Regions walking_surface(const Brief& brief);

/// Pressure p (Pa, downward) over part of the walking surface as one force on each block it stands
/// on, at the centroid of the loaded area; its sum is p times the loaded area.
[[nodiscard]] std::vector<LiveForce> pressure_on_blocks(const Assembly& assembly,
                                                        const Regions& where, double p);

}  // namespace skewback
