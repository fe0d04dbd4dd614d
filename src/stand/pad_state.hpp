#pragma once
// Private to stand/: the steps of PadModel::solve.

#include "stand/pad_system.hpp"

namespace skewback {

/// The state under the loads in `work`, from work.u: first sticking everywhere, then rounds on the
/// bounds of friction. Sets found or the reason, and the counts.
void find_state(const PadSystem& system, double tolerance, PadState& state, PadWork& work,
                int rounds_most = PadOptions{}.rounds_most);

/// The same by Newton's steps alone, from work.u, a state near by. False if they do not get there;
/// work is then of no use.
[[nodiscard]] bool find_state_beside(const PadSystem& system, double tolerance, PadState& state,
                                     PadWork& work);

/// Newton steps on balance and Coulomb's bound at once, from work.u: what slips takes mu times the
/// pressure there is (Alart and Curnier 1991, in displacements). Not symmetric, so no energy guides
/// it: for states near by, which the rounds have come close to. `rounding`: as
/// respond_coulomb. False if it does not get there; work is then of no use.
[[nodiscard]] bool settle_coupled(const PadSystem& system, double tolerance, int steps_most,
                                  int& steps, PadWork& work, double rounding = 0);

/// From a state that sticks everywhere, by the steps above under a law whose corner between
/// sticking and slipping is rounded, then less and less so, to none. As those where it does not get
/// there.
[[nodiscard]] bool settle_by_rounding(const PadSystem& system, double tolerance, int& steps,
                                      PadWork& work);

/// Greatest |t| - mu n, N.
[[nodiscard]] double beyond_friction(const PadSystem& system, const PadWork& work);

/// Forces, joints and the greatest of each from the responses in `work`.
void report_joints(const Assembly& assembly, const PadSystem& system, const PadWork& work,
                   PadState& state);

/// Displacements of all blocks, fixed ones as they were moved. `drawn`: the system u belongs to.
[[nodiscard]] std::vector<BlockVelocity> moves_of(const Assembly& assembly, const PadSystem& drawn,
                                                  const PadOptions& pads, const VectorX& u);

/// What the state leaves behind. `datum`: per place, where each began.
[[nodiscard]] PadHistory history_of(const PadSystem& system, const PadWork& work,
                                    const std::vector<Vec6>& datum, const PadState& state);

}  // namespace skewback
