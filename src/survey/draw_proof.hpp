#pragma once
// Draws of building errors proved as packed: by the limit load alone, two cases each.

#include "survey/tolerances.hpp"

namespace skewback {

struct CasesProved {  // of the assembly; -1: none
  int dead = -1, live = -1;
};
/// The first case without live load, and the one with the least load factor as drawn.
[[nodiscard]] CasesProved cases_to_prove(const Assembly& assembly,
                                         const std::vector<CaseProof>& drawn);

struct ProvedDraw {
  bool packed = false;  // it goes in; else nothing is proved
  bool stands = false;  // both cases do, and the factor is required.live_factor or more
  std::optional<double> load_factor;
};
[[nodiscard]] ProvedDraw prove_draw(const Brief& brief, const StackModel& model,
                                    const StandOptions& options, const CasesProved& cases,
                                    std::uint64_t draw);

}  // namespace skewback
