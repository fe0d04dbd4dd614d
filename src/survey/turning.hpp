#pragma once
// What finite turns add to gaps that are linear in the blocks' moves. Private to survey/.

#include "survey/remedies.hpp"
#include "survey/stack.hpp"

namespace skewback {

/// Per joint and corner, m: the gap between the beds as drawn, moved by exact rotations and taken
/// along the mean of their normals, less what the linear rows say. Half the square of the turn
/// times the block's length, about, at each of its joints: 0.4 mm at 2.4 degrees and half a metre.
[[nodiscard]] std::vector<std::array<double, 4>> gaps_of_turning(
    const StackModel& model, const std::vector<SmallMove>& moves);

/// Largest difference; empty lists are of zeros.
[[nodiscard]] double most_apart(const std::vector<std::array<double, 4>>& a,
                                const std::vector<std::array<double, 4>>& b);

struct Tried {
  std::vector<Remedy> remedies;
  std::size_t chosen = 0;
  std::string remark;  // where turns are too far for it
};
/// Remedies tried and one chosen, with gaps that count finite turns: what these add is taken from
/// the moves found and put into the next round, until it stays. Fills `made.turning_m`.
[[nodiscard]] Tried try_with_turning(const RefitInput& input, const StackModel& model,
                                     const FootingsFound& footings, AsMade& made);

}  // namespace skewback
