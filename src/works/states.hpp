#pragma once
// Private to works/: states of the pads beside those of the load cases.

#include "works/works.hpp"

namespace skewback {

/// The assembly with its patterns only: the combinations carry factors already.
[[nodiscard]] Assembly with_patterns_only(const Dossier& dossier);

/// Proofs of the patterns, in order; of the combinations, which have their factors on.
[[nodiscard]] std::vector<CaseProof> pattern_proofs(const Dossier& dossier);
[[nodiscard]] std::vector<CaseProof> combination_proofs(const Dossier& dossier);

enum class Situation { kLasting, kAccident };
/// Per joint, what may press it, Pa. Lasting: joint_limit. In an accident its concrete alone, by
/// factors.plain / factors.concrete_accident of its strength (EN 1992-1-1 12.3.1, Table 2.1N), or
/// required.pad_stress where that is more: pads may have to be replaced after it.
[[nodiscard]] std::vector<double> joint_limits(const Brief& brief, const Assembly& assembly,
                                               Situation situation);

/// "joint v1 | v2 is pressed by 10.5 MPa and takes 6.3".
[[nodiscard]] std::string pressed_words(const Assembly& assembly, std::size_t joint, double peak_pa,
                                        double limit_pa);

/// All of `to` but what and case_id. `limit_pa`: per joint.
void take_state(const Assembly& assembly, const PadState& from, const std::vector<double>& limit_pa,
                TriedState& to);

/// The moved shape of the governing patterns, and their other history; warming and cooling; pads
/// that have crept; each footing moved by 20 mm in an accident (common practice).
void try_states(Dossier& dossier, const Progress& progress);

}  // namespace skewback
