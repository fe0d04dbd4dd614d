#pragma once
// Private to works/: states of the pads beside those of the load cases.

#include "works/works.hpp"

namespace skewback {

/// The assembly with its patterns only: the combinations carry factors already.
[[nodiscard]] Assembly with_patterns_only(const Dossier& dossier);

/// Proofs of the patterns, in order; of the combinations, which have their factors on.
[[nodiscard]] std::vector<CaseProof> pattern_proofs(const Dossier& dossier);
[[nodiscard]] std::vector<CaseProof> combination_proofs(const Dossier& dossier);

/// The moved shape of the governing patterns, and their other history; warming and cooling; pads
/// that have crept; each footing moved by 20 mm in an accident (common practice).
void try_states(Dossier& dossier, const Progress& progress);

}  // namespace skewback
