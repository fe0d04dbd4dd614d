#pragma once
// The bridge as its footings were found: remedies, proofs and stages again.

#include "deliver/deliver.hpp"
#include "survey/points.hpp"

namespace skewback {

/// Per joint, how much its pad gives under the dead load: how much nearer its blocks come at its
/// middle. Empty where no state of the pads was found.
[[nodiscard]] std::vector<double> pads_closing(const Assembly& assembly,
                                               const std::vector<CaseProof>& proofs);

/// Fills dossier.refit from the brief's survey and `points` (null: none): the dossier's centring,
/// proofs of its patterns, stages of the erection as packed; and dossier.reprinted where springers
/// are made anew.
[[nodiscard]] std::optional<Faults> put_right(Dossier& dossier, const PointFile* points,
                                              const Progress& progress);

}  // namespace skewback
