#pragma once
// Private to works/: required checks that are not in required.cpp. None where the brief asks for no
// such thing.

#include "deliver/deliver.hpp"

namespace skewback {

[[nodiscard]] RequiredCheck at_least(const std::string& name, double limit,
                                     const std::string& source, const std::string& unit = "");
[[nodiscard]] RequiredCheck at_most(const std::string& name, double limit,
                                    const std::string& source, const std::string& unit = "");
/// Friction of the joints over the least that holds; what the pads' states use is said beside it.
[[nodiscard]] RequiredCheck required_friction(const Dossier& dossier);
/// None where nothing is printed.
[[nodiscard]] std::optional<RequiredCheck> required_making(const Dossier& dossier);
/// None where the brief does not ask for it; so the walk.
[[nodiscard]] std::optional<RequiredCheck> required_tie_loss(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_walk(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_centring(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_lifting(const Dossier& dossier);
[[nodiscard]] std::optional<RequiredCheck> required_transport(const Dossier& dossier);
/// Plain concrete, EN 1992-1-1 12.3.1: factors.plain of the brief's strength over `gamma`.
/// (required.cpp)
[[nodiscard]] double concrete_limit_pa(const Brief& brief, double gamma);
/// Most that a joint may take, Pa: required.pad_stress, or the lesser of what concrete (with
/// factors.concrete) and its pad take. (required.cpp)
[[nodiscard]] double joint_limit(const Brief& brief, const Joint& joint);
/// States beside the cases: share that holds. None where none was tried.
[[nodiscard]] std::optional<RequiredCheck> required_other_states(const Dossier& dossier);
/// None without a survey: the key goes in, every case and stage stands as packed, its gaps closing
/// too, within what the joints may take, and the least live factor is that asked for, where anybody
/// walks.
[[nodiscard]] std::optional<RequiredCheck> required_as_built(const Dossier& dossier);

/// None without scans: the worst block's distance that 95 % of its scan keep within, against what
/// [tolerances] allows length and bed together.
[[nodiscard]] std::optional<RequiredCheck> required_scans(const Dossier& dossier);

/// Where joints slide, the lower of the two: by the limit load and by the pads. None: no live load.
[[nodiscard]] std::optional<double> live_factor_of(const CaseProof& proof);
/// Whether that is "at least".
[[nodiscard]] bool factor_at_cap(const CaseProof& proof);

}  // namespace skewback
