#pragma once
// View 2 where a state is not found at once: what is put on, or moved, grows in steps.

#include "stand/pads.hpp"

namespace skewback {

struct PadPath {
  PadState state;      // `in_steps` counts them; where not found, only reason and counts are of use
  double reached = 0;  // share that has a state; 1: all of it
};

/// The loads first, then `pads.moves`, which grow together from 0. Each step goes on from the state
/// before it, so that what has slipped stays slipped; it is as long as a state is found for, 1/4 of
/// the way at the most and 1/64 at the least. Not on the moved shape.
[[nodiscard]] PadPath move_in_steps(const PadModel& model, const LoadCase& load,
                                    const PadOptions& pads);

/// The same with the live load, which grows from 0 to pads.load_factor. `before`: as
/// PadModel::solve; the state under the weight goes on from it.
[[nodiscard]] PadPath load_in_steps(const PadModel& model, const LoadCase& load,
                                    const PadOptions& pads, const PadHistory* before = nullptr);

/// All at once (PadModel::solve). Where that finds no state, in steps: the moves if there are any,
/// else the live load.
[[nodiscard]] PadState state_at_once_or_in_steps(const PadModel& model, const LoadCase& load,
                                                 const PadOptions& pads,
                                                 const PadHistory* before = nullptr);

}  // namespace skewback
