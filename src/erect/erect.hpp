#pragma once
// The order of work, each stage proved: placing on the centring, then striking it. Theory:
// docs/theory/erect.md.

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "erect/entry.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct Stage {
  int step = 0;
  std::string what;                 // "place", "strike"
  std::vector<std::string> blocks;  // placed, or freed of their seats, in this step
  CaseProof proof;
  double seat_force_max_n = 0;
  std::vector<Entry> entry;  // when placing: per block, which way it comes in past those there
};
struct Programme {
  std::vector<std::string> order;  // block ids
  std::vector<Stage> stages;
  std::vector<Prop> seats;  // of the centring, on every block; Stage proofs use those still in
};

[[nodiscard]] Programme plan_erection(const Brief& brief, const Assembly& assembly,
                                      const Progress& progress = {});

/// Seats still in at a stage, and blocks present: what prove() was given.
[[nodiscard]] StandOptions stage_options(const Brief& brief, const Assembly& assembly,
                                         const Programme& programme, std::size_t stage);

}  // namespace skewback
