#pragma once
// Parts of summary.json that have a file of their own.

#include <nlohmann/json.hpp>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// `dossier.ground` must be there.
[[nodiscard]] nlohmann::ordered_json ground_json(const Dossier& dossier);
[[nodiscard]] nlohmann::ordered_json quantities_json(const Quantities& quantities);
[[nodiscard]] nlohmann::ordered_json print_json(const PrintSet& print);
/// `dossier.refit` must be there. Without its cases.
[[nodiscard]] nlohmann::ordered_json survey_json(const Dossier& dossier);
[[nodiscard]] nlohmann::ordered_json service_json(const Dossier& dossier);
/// `dossier.programme` and `dossier.cut` must be there.
[[nodiscard]] nlohmann::ordered_json erect_json(const Dossier& dossier);
/// `assembly` may be null: joints have no names then.
[[nodiscard]] nlohmann::ordered_json pads_json(const Assembly* assembly, const PadState& pads);

}  // namespace skewback::deliver
