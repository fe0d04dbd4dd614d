#pragma once
// View 3 in a proof: the blocks let go in time, loads eased in, until they rest or move off.

#include "stand/stand.hpp"

namespace skewback {

/// "always", "never"; else: when needed.
[[nodiscard]] ThirdView third_view_called(const std::string& word);

/// The same blocks, props, friction and stiffnesses as the other views. Warmth is left out, and
/// moves of the ground are eased in with the loads.
[[nodiscard]] Scene scene_of(const StandOptions& options, const PadOptions& pads);
[[nodiscard]] MotionOptions motion_options_of(const PadOptions& pads);

/// Views 1 and 2 differ, or slip takes part: in the mechanism of the limit, or in the pads, where
/// friction is used up under more than a hundredth of a joint's pressure.
[[nodiscard]] bool slips_somewhere(const PadState& state);  // the last of these
[[nodiscard]] bool motion_is_needed(const Assembly& assembly, const CaseProof& proof);

/// Runs view 3 where the options ask for it and joins it to the proof. At rest: another view that
/// says so; it does not make up for a state of the pads that was not found. Moving off: the case
/// falls, by recorded motion; unless view 1 has already proven that, no certificate goes with it.
/// Not settled: a case that stood is undecided.
void add_third_view(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                    const PadOptions& pads, CaseProof& proof);
void join_motion(const Assembly& assembly, Motion motion, CaseProof& proof);

}  // namespace skewback
