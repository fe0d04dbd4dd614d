#pragma once
// The bridge as its footings were found: remedies, proofs and stages again.

#include "deliver/deliver.hpp"
#include "survey/points.hpp"

namespace skewback {

/// Per joint, how much its pad gives under the dead load: how much nearer its blocks come at its
/// middle. Empty where no state of the pads was found.
[[nodiscard]] std::vector<double> pads_closing(const Assembly& assembly,
                                               const std::vector<CaseProof>& proofs);

/// packing.squeeze, but no more than the pad gives that gives least under the dead load: what
/// joints without pads do not give is not counted on. As it is where no state of the pads was
/// found.
[[nodiscard]] double squeeze_there_is_m(const PackingRequest& packing, const Assembly& assembly,
                                        const std::vector<CaseProof>& proofs);

/// What refit() would refuse of the springings' marks, before anything is proved.
[[nodiscard]] std::optional<Faults> faults_of_marks(const Brief& brief, const PointFile* points);
/// And of the points of its blocks.
[[nodiscard]] std::optional<Faults> faults_of_points(const Brief& brief, const Assembly& assembly,
                                                     const PointFile* points);

/// Fills dossier.refit from the brief's survey and `points` (null: none): the dossier's centring,
/// proofs of every case, stages of the erection as packed; and dossier.reprinted where springers
/// are made anew.
[[nodiscard]] std::optional<Faults> put_right(Dossier& dossier, const PointFile* points,
                                              const Progress& progress);

}  // namespace skewback
