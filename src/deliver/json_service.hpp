#pragma once
// Parts of summary.json: quantities, comfort, proof load.

#include <nlohmann/json.hpp>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

[[nodiscard]] nlohmann::ordered_json quantities_json(const Quantities& quantities);
[[nodiscard]] nlohmann::ordered_json service_json(const Dossier& dossier);

}  // namespace skewback::deliver
