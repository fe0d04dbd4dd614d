#pragma once
// View 3 of the stages: the blocks that are there, on the seats that are in, let go in time.

#include "erect/erect.hpp"

namespace skewback {

/// Under weight alone, from the drawn place, seats that were lowered or raised going there as the
/// weight comes on: a history of its own beside the sequence of the pads. As loads.motion of the
/// brief asks: every stage, none, or those where the other views differ or slip takes part. Stages
/// with the same blocks, seats and loads are let go once: the first has the motion, the others its
/// index (Stage::let_go_as). Verdicts are joined as those of cases (stand/motion_view.hpp).
void let_stages_go(const Brief& brief, const Assembly& assembly, Programme& programme,
                   const Progress& progress = {});

/// The same under building loads: of every stage the case that governs (WorkingLoads::governing).
void let_working_stages_go(const Brief& brief, const Assembly& assembly, Programme& programme,
                           const Progress& progress = {});

}  // namespace skewback
