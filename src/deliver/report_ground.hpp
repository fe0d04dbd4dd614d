#pragma once
// The feet in the report and in summary.json: footings, ties and threads, layout, losses, shoes.

#include <nlohmann/json.hpp>

#include "deliver/pages.hpp"
#include "ground/ground.hpp"

namespace skewback::deliver {

void add_feet(Pages& pages, const Brief& brief, const Groundworks& ground);

/// "without reinforcement 0.54 m thick at least ...", and what to do where that is more than drawn.
[[nodiscard]] std::string thickness_words(const FootingReport& footing);
/// " Settles 1.7 mm under the dead load, ..."; empty where the soil's stiffness is not known.
[[nodiscard]] std::string settlement_words(const FootingReport& footing);

/// Plan of springing lines, footings and ties: those laid, and the best layout's over them.
[[nodiscard]] Sheet feet_plan(const Brief& brief, const Groundworks& ground, double width_mm,
                              double height_mm);

/// {footings, ties, layout, losses, shoes}. SI units as their names say; null where there is none.
[[nodiscard]] nlohmann::ordered_json feet_json(const Groundworks& ground);

}  // namespace skewback::deliver
