// A rib that turns over its first or last foot.

#include <cmath>

#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

/// What holds the rib sideways, as forces at its feet: by their stiffness, or in equal parts.
std::vector<BeamLoad> holds_of(const Beam& beam, const std::vector<BeamLoad>& loads) {
  double push = 0, stiffness = 0;
  for (const BeamLoad& load : loads) push += load.force.x();
  for (const BeamSupport& support : beam.supports()) stiffness += support.sideways_n_m;
  std::vector<BeamLoad> out;
  for (const BeamSupport& support : beam.supports()) {
    const double share = stiffness > 0 ? support.sideways_n_m / stiffness
                                       : 1.0 / static_cast<double>(beam.supports().size());
    out.push_back({support.at, {-push * share, 0}, -support.below_m});
  }
  return out;
}

}  // namespace

bool check_tipping(const Brief& brief, const Centring& centring, const RibBeam& on,
                   const std::vector<BeamLoad>& loads, const SeatCase& from, Judged& out) {
  const BeamShape& shape = on.beam->shape();
  const auto& supports = on.beam->supports();
  std::vector<BeamLoad> all = holds_of(*on.beam, loads);
  all.insert(all.end(), loads.begin(), loads.end());
  double nearest_used = 0;
  bool over_first = true;
  for (const bool first : {true, false}) {
    if ((first ? on.supports.front() : on.supports.back()).on_rib >= 0) continue;
    const BeamSupport& edge = first ? supports.front() : supports.back();
    const Vec2 pivot = shape.axis[edge.at] - Vec2(0, edge.below_m);
    double over = 0, holds = 0;
    for (const BeamLoad& load : all) {
      const Vec2 arm = shape.axis[load.at] + Vec2(0, load.above_m) - pivot;
      const double turn = (arm.x() * load.force.y() - arm.y() * load.force.x()) * (first ? 1 : -1);
      (turn > 0 ? over : holds) += std::abs(turn);
    }
    const double unheld = over - holds;
    double nearest = 0;
    for (const BeamSupport& support : supports) {
      const double arm = std::abs(shape.axis[support.at].x() - pivot.x());
      if (support.held_down) holds += arm * hold_n(brief, brief.centring.foot_hold_up_n);
      if (arm > 0 && (nearest == 0 || arm < nearest)) nearest = arm;
    }
    if (over <= 0 || holds <= 0) continue;
    if (over > holds) {
      TipAsk& ask = out.asks.tips[{on.rib, first}];
      if (unheld > ask.over_nm) ask = {unheld, nearest};
    }
    const Rib& rib = centring.ribs[static_cast<std::size_t>(on.rib)];
    const CentringCheck check = check_of(
        "tipping over an end foot", over, holds, "N m",
        rib.id + (first ? ", its first foot" : ", its last foot"), from.stage,
        "moments of loads, of what holds it sideways and of feet held down about the foot, "
        "factors on both (ours)");
    if (check.utilisation > nearest_used) {
      nearest_used = check.utilisation;
      over_first = first;
    }
    out.worst.offer(check);
    out.of_rib[static_cast<std::size_t>(on.rib)].offer(check);
  }
  return over_first;
}

}  // namespace skewback
