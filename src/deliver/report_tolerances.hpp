#pragma once
// The tolerances' part of the report, of summary.json, and their own tables.

#include <nlohmann/json.hpp>

#include "brief/brief.hpp"
#include "deliver/files.hpp"
#include "deliver/pages.hpp"
#include "survey/tolerances.hpp"

namespace skewback::deliver {

/// Chances, how often what gap and packers, what tightening each trade brings, its budget.
void add_tolerances(Pages& pages, const Brief& brief, const ToleranceReport& report);

/// For the object `tolerances` of summary.json.
[[nodiscard]] nlohmann::ordered_json tolerances_json(const Brief& brief,
                                                     const ToleranceReport& report);

/// draws.csv, trades.csv, draws.svg, trades.svg under tolerances/.
[[nodiscard]] std::vector<OutputFile> tolerance_files(const Brief& brief,
                                                      const ToleranceReport& report);

}  // namespace skewback::deliver
