#pragma once
// A proof in three steps: what decides first, then the friction needed, then motion in time.

#include "stand/stand.hpp"

namespace skewback {

/// Far from the drawn place levers are no longer true: a state that stands must be found on the
/// moved shape too, else the proof is undecided.
void judge_far_moves(const Assembly& assembly, const LoadCase& load, const PadModel& model,
                     PadOptions pads, CaseProof& proof);
/// As limit_loads, where forces are all that is asked: a mechanism only where the dual of the
/// forces is one; none is sought by linear programs on faceted cones, which take minutes on a large
/// bridge.
[[nodiscard]] std::vector<CaseProof> limit_forces(const Assembly& assembly,
                                                  const StandOptions& options = {},
                                                  const Progress& progress = {});
/// As prove_all, but `friction_needed` is left empty.
[[nodiscard]] std::vector<CaseProof> prove_without_friction(const Assembly& assembly,
                                                            const StandOptions& options = {},
                                                            const Progress& progress = {},
                                                            const PadOptions& pads = {});
/// Then each proof, one a case of the assembly, is as prove_all gives it.
void find_friction(const Assembly& assembly, const StandOptions& options, const Progress& progress,
                   std::vector<CaseProof>& proofs);
/// The same only where no case looked at before needs as much: the most of all cases is found to
/// within the same 1 in 1000, and most cases are tried with that friction instead of by halves.
void find_most_friction(const Assembly& assembly, const StandOptions& options,
                        const Progress& progress, std::vector<CaseProof>& proofs);
/// View 3 for those that the options ask it for.
void let_go_all(const Assembly& assembly, const StandOptions& options, const Progress& progress,
                const PadOptions& pads, std::vector<CaseProof>& proofs);

}  // namespace skewback
