#pragma once
// Private to ground/: rods under what acts together. Theory: docs/theory/ground.md.

#include "ground/ground.hpp"

namespace skewback {

struct RodPull {
  double force_n = 0;  // design value of one rod, the greatest of its tie
  std::string case_id, words;
};

/// Greatest design pull on a rod of each tie over the weight alone and `combinations`: weight high
/// and low, what each action adds to the dead load times its factor (set A1: the brief's own),
/// added up (EN 1990:2002, 6.4.3.2). Combinations of states that are not there are left out.
[[nodiscard]] std::vector<RodPull> rod_pulls(const Brief& brief, const TieState& dead,
                                             const std::vector<const TieState*>& states,
                                             const std::vector<FootingCombination>& combinations);

}  // namespace skewback
