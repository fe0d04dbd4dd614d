#pragma once
// What the works on site must meet; none where the brief asks for no such thing.

#include "deliver/deliver.hpp"

namespace skewback {

[[nodiscard]] std::optional<RequiredCheck> required_centring(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_lifting(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_transport(const Dossier& dossier);
/// None without a survey: the key goes in, and the bridge as packed has its live factor.
[[nodiscard]] std::optional<RequiredCheck> required_as_built(const Dossier& dossier);

}  // namespace skewback
