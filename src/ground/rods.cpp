#include "ground/rods.hpp"

#include <cmath>

#include "ground/reactions.hpp"

namespace skewback {
namespace {

/// What is missing is next to nothing under every footing.
bool trifling(const FootingBalance& found, const std::vector<SupportReaction>& supports) {
  for (std::size_t i = 0; i < supports.size(); ++i) {
    const double most = kTrifle * supports[i].force.z();
    if (found.missing[i].head<2>().norm() > most || std::abs(found.missing[i].z()) > most)
      return false;
  }
  return true;
}

}  // namespace

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

FootingBalance hold_in_plan(const std::vector<SupportReaction>& supports,
                            const std::vector<Rod>& rods, double shear_max) {
  const std::vector<Footing> footings = plan_needs(supports);
  FootingBalance found = balance(footings, rods, 0);
  if (!found.balanced && !trifling(found, supports) && shear_max > 0)
    found = balance(footings, rods, shear_max);
  if (!found.balanced && found.shear_enough && trifling(found, supports)) {
    found.balanced = true;
    found.reason.clear();
  }
  return found;
}

RodSteel rod_steel(const Brief& brief) {
  return {brief.ground.rod_yield_pa, brief.ground.thread_strength_pa, brief.factors.steel_shank,
          brief.factors.steel_thread};
}

}  // namespace skewback
