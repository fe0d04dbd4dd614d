#pragma once
// The walk in the report: profile, what complies, the walkway's parts.

#include <nlohmann/json_fwd.hpp>

#include "access/access.hpp"
#include "deliver/pages.hpp"

namespace skewback::deliver {

void add_access(Pages& pages, const Brief& brief, const AccessReport& access);

/// Each leg from its support to the meeting: walking surface by how steep it is, the blocks' tops
/// and the frames under it. Heights and lengths at one scale.
[[nodiscard]] Sheet access_sheet(const Brief& brief, const AccessReport& access, double width_mm);

/// {"gradient_max", "complies", "lines", "findings", "parts", "parts_kg", "brief_kg",
/// "one_sided_kg", "remarks"}; SI.
[[nodiscard]] nlohmann::ordered_json access_json(const AccessReport& access);

}  // namespace skewback::deliver
