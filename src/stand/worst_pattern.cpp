#include "stand/worst_pattern.hpp"

#include <algorithm>

#include "stand/limit.hpp"
#include "stand/mechanism.hpp"

namespace skewback {

WorstPattern worst_pattern(const Assembly& assembly, const LoadCase& start,
                           const std::vector<LiveForce>& cells, const StandOptions& options) {
  constexpr int kRoundsMost = 20;
  constexpr double kFalls = 1e-6;  // relative: less is no improvement
  WorstPattern worst;
  worst.load = start;
  worst.proof = limit_quickly(assembly, start, options);
  if (!worst.proof.load_factor || (!worst.proof.limit_mechanism && !worst.proof.at_cap))
    worst.proof = limit_load(assembly, start, options);
  for (int round = 0; round < kRoundsMost; ++round) {
    const CaseProof& proof = worst.proof;
    if (!proof.load_factor || !proof.limit_mechanism) return worst;
    worst.factors.push_back(*proof.load_factor);
    std::vector<char> adverse(cells.size(), 0);
    LoadCase next = start;
    next.live.clear();
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const BlockVelocity& moves =
          proof.limit_mechanism->blocks[static_cast<std::size_t>(cells[i].block)];
      if (cells[i].force.dot(velocity_at(moves, cells[i].point)) <= 0) continue;
      adverse[i] = 1;
      next.live.push_back(cells[i]);
    }
    worst.settled = adverse == worst.loaded;
    if (worst.settled || next.live.empty()) return worst;
    CaseProof again = limit_quickly(assembly, next, options);
    worst.settled = again.load_factor && *again.load_factor > *proof.load_factor * (1 - kFalls);
    if (worst.settled || !again.load_factor) return worst;
    worst.load = std::move(next);
    worst.loaded = std::move(adverse);
    worst.proof = std::move(again);
  }
  return worst;
}

}  // namespace skewback
