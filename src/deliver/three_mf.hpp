#pragma once

#include <string>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// The blocks to be made, in 3MF (core specification 1.2.3): one object for each, named and part
/// numbered by its id, in millimetres to 1 nm about the corner of its box; the build items set them
/// in their places in the bridge, z up. Vertices are shared, so every mesh closes. Requires a cut.
[[nodiscard]] std::string blocks_3mf(const Dossier& dossier);

}  // namespace skewback::deliver
