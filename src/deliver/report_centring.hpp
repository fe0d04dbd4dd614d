#pragma once
// The centring's part of the report and of summary.json.

#include <nlohmann/json.hpp>

#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "deliver/pages.hpp"

namespace skewback::deliver {

/// What it is, where it stands, how its sheets are cut, timber, checks, camber and feet, courses
/// that need none, what was not looked at, cautions. `plan`: outlines of all blocks of the assembly
/// from above, or none.
void add_centring(Pages& pages, const Brief& brief, const Assembly& assembly,
                  const Centring& centring, const std::vector<SelfHeld>& held,
                  const std::vector<Regions>& plan = {});

/// "9 ribs along the flow and 14 across, of 61 parts from 6 sheets, on 27 feet: ..."
[[nodiscard]] std::string centring_summary(const Centring& centring);

[[nodiscard]] nlohmann::ordered_json centring_json(const Centring& centring,
                                                   const std::vector<SelfHeld>& held = {});

}  // namespace skewback::deliver
