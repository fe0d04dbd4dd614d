#pragma once
// The blocks' own strength in the report and in the summary.

#include <nlohmann/json.hpp>

#include "deliver/pages.hpp"
#include "strength/strength.hpp"

namespace skewback::deliver {

/// The worst of each check, the twelve worst findings, what would help, what to know.
void add_strength(Pages& pages, const Brief& brief, const Assembly& assembly,
                  const BlockChecks& checks);

/// {"worst_utilisation", "blocks": [{"id", "check", "utilisation", "case", "demand", "resistance",
/// "unit", "place", "source"}], "proposal", "remarks"}; a number that is not finite becomes null.
[[nodiscard]] nlohmann::ordered_json strength_json(const Assembly& assembly,
                                                   const BlockChecks& checks);

/// Indices of findings, greatest utilisation first, at most `most`.
[[nodiscard]] std::vector<std::size_t> worst_findings(const BlockChecks& checks, std::size_t most);

}  // namespace skewback::deliver
