#pragma once
// The worst place for people: which parts of the deck to load so that the least load falls.

#include "base/progress.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct WorstPattern {
  LoadCase load;             // the cells that are loaded
  std::vector<char> loaded;  // per cell
  CaseProof proof;
  std::vector<double> factors;  // from the pattern begun with to the last, falling
  bool settled = false;         // the mechanism of the last pattern would load the same cells again
};

/// From a pattern of loaded cells to its limit; then every cell on which the mechanism lets the
/// load do work is loaded, no other: the load factor cannot rise, since that mechanism gives the
/// new pattern an upper bound of (work of weight) / (greatest work of the live load). Again until
/// the pattern repeats, or the cone solver alone, which steps after the first ask, gives no
/// mechanism (then not `settled`). A least among neighbours, not proven the least of all: start
/// from several.
[[nodiscard]] WorstPattern worst_pattern(const Assembly& assembly, const LoadCase& start,
                                         const std::vector<LiveForce>& cells,
                                         const StandOptions& options);

}  // namespace skewback
