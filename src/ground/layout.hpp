#pragma once
// Which ties take the least steel: one linear program over all cases at once.

#include "ground/rods.hpp"

namespace skewback {

/// The ties drawn and, with every_pair, a tie between any two supports that have none (rods,
/// spacing and level of the first one drawn, else two rods 1 m apart at the springing level). Those
/// whose line runs through another footing go to `refused`.
struct Candidates {
  std::vector<Tie> ties;
  std::vector<std::string> refused;
};
[[nodiscard]] Candidates candidate_ties(const Brief& brief, bool every_pair);

/// min sum length x rods x capacity over the ties, capacity >= every rod force of the tie, rod
/// forces >= 0 that give every footing its plan reaction in each of `cases` (with the ground's
/// shear where the rods alone cannot). Ties with next to no capacity are left out. `equal`: all
/// rods alike. None where no rods of `ties` hold some case; those cases go to `unheld` and are left
/// out of the program.
[[nodiscard]] std::optional<Layout> least_steel(const Brief& brief, const std::vector<Tie>& ties,
                                                const std::vector<const TieState*>& cases,
                                                bool equal,
                                                std::vector<std::string>* unheld = nullptr);

/// Best; second: the best that does without some tie of the best; and every pair tied with equal
/// rods, for comparison.
[[nodiscard]] TieLayout tie_layout(const Brief& brief, const std::vector<const TieState*>& cases);

}  // namespace skewback
