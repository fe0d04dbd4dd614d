#include <algorithm>

#include "erect/erect.hpp"
#include "ground/ground.hpp"

namespace skewback {

void add_tie_pulls(const Brief& brief, const Assembly& assembly, Programme& programme) {
  if (brief.ground.ties.empty()) return;
  for (Stage& stage : programme.stages) {
    if (!stage.proof.pads || !stage.proof.pads->found) continue;
    const TieState state =
        tie_state(brief, assembly, std::to_string(stage.step), stage.proof.pads->forces);
    stage.tie_about = !state.balanced;
    for (std::size_t t = 0; t < state.rod_force_n.size(); ++t) {
      for (const double rod : state.rod_force_n[t]) {
        if (rod <= stage.tie_n) continue;
        stage.tie_n = rod;
        stage.tie = brief.ground.ties[t].id;
      }
    }
  }
}

StopLimits stop_limits(const Programme& programme, std::size_t stage) {
  StopLimits limits;
  for (std::size_t i = 0; i <= stage; ++i) {
    const Stage& s = programme.stages[i];
    limits.crown_drop_m = std::max(limits.crown_drop_m, s.crown_drop_m);
    limits.opening_m = std::max(limits.opening_m, s.opening_max_m);
    limits.tie_n = std::max(limits.tie_n, s.tie_n);
  }
  limits.crown_drop_m = 1.25 * limits.crown_drop_m + 1e-3;
  limits.opening_m += 0.5e-3;
  limits.tie_n *= 1.15;
  return limits;
}

}  // namespace skewback
