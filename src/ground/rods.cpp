#include "ground/rods.hpp"

#include "ground/reactions.hpp"

namespace skewback {

std::vector<Rod> rods_of(const std::vector<Support>& supports, const std::vector<Tie>& ties) {
  std::vector<Rod> rods;
  for (int t = 0; t < static_cast<int>(ties.size()); ++t) {
    const Tie& tie = ties[t];
    const Vec2 from = springing_middle(supports[tie.from]).head<2>();
    const Vec2 to = springing_middle(supports[tie.to]).head<2>();
    const Vec2 along = (to - from).normalized(), across(-along.y(), along.x());
    for (int k = 0; k < tie.rods; ++k) {
      const double share = tie.rods > 1 ? static_cast<double>(k) / (tie.rods - 1) - 0.5 : 0.0;
      const Vec2 shift = share * tie.spacing_m * across;
      rods.push_back({t, tie.from, tie.to, from + shift, to + shift});
    }
  }
  return rods;
}

std::vector<Footing> plan_needs(const std::vector<SupportReaction>& supports) {
  std::vector<Footing> footings;
  for (const SupportReaction& s : supports) {
    footings.push_back({s.id, s.point.head<2>(), s.force.head<2>(), s.moment.z()});
  }
  return footings;
}

RodSteel rod_steel(const Brief& brief) {
  return {brief.ground.rod_yield_pa, brief.ground.thread_strength_pa, brief.factors.steel_shank,
          brief.factors.steel_thread};
}

}  // namespace skewback
