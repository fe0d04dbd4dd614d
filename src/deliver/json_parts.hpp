#pragma once
// Parts of summary.json that have a file of their own.

#include <nlohmann/json.hpp>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

[[nodiscard]] inline nlohmann::ordered_json number(const std::optional<double>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}
/// `dossier.ground` must be there.
[[nodiscard]] nlohmann::ordered_json ground_json(const Dossier& dossier);
[[nodiscard]] nlohmann::ordered_json quantities_json(const Quantities& quantities);
/// `spares` may be null.
[[nodiscard]] nlohmann::ordered_json print_json(const Brief& brief, const PrintSet& print,
                                                const Spares* spares);
/// `dossier.refit` must be there. Without its cases.
[[nodiscard]] nlohmann::ordered_json survey_json(const Dossier& dossier);
[[nodiscard]] nlohmann::ordered_json service_json(const Dossier& dossier);
/// `dossier.programme` and `dossier.cut` must be there.
[[nodiscard]] nlohmann::ordered_json erect_json(const Dossier& dossier);
/// View 3 of a case or stage, null where it was not let go. `assembly` may be null, as below.
[[nodiscard]] nlohmann::ordered_json let_go_json(const Assembly* assembly, const CaseProof& proof);
/// `assembly` may be null: joints have no names then.
[[nodiscard]] nlohmann::ordered_json pads_json(const Assembly* assembly, const PadState& pads);

}  // namespace skewback::deliver
