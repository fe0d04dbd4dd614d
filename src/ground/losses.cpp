#include "ground/losses.hpp"

#include <algorithm>

namespace skewback {
namespace {

double accident_resistance(const Brief& brief, const TieForce& tie) {
  RodSteel steel = rod_steel(brief);
  steel.gamma_shank = steel.gamma_thread = 1;
  const auto thread = thread_of(tie.diameter_m);
  return thread ? rod_resistance(*thread, steel) : 0;
}

LossState without(const Brief& brief, const std::vector<Rod>& rest,
                  const std::vector<TieForce>& sized, const std::vector<const TieState*>& cases) {
  LossState out;
  out.held = true;
  for (const TieState* state : cases) {
    ++out.cases;
    const FootingBalance found = hold_in_plan(state->supports, rest, brief.ground.ground_shear_n);
    std::string reason = found.reason;
    double used = 0;
    std::string tie;
    for (std::size_t k = 0; found.balanced && k < rest.size(); ++k) {
      const double resists = accident_resistance(brief, sized[rest[k].tie]);
      const double share = resists > 0 ? found.rod_force[k] / resists : 0;
      if (share > used) tie = sized[rest[k].tie].id;
      used = std::max(used, share);
    }
    if (found.balanced && used > 1) reason = "tie " + tie + " breaks";
    if (found.balanced && used > out.used) {
      out.used = used;
      out.governing = state->case_id + ", tie " + tie;
    }
    if (found.balanced && used <= 1) {
      ++out.cases_held;
    } else if (out.held) {
      out.held = false;
      out.reason = "not held in case " + state->case_id + ": " + reason;
    }
  }
  return out;
}

}  // namespace

std::vector<LossState> lose_each(const Brief& brief, const std::vector<Tie>& ties,
                                 const std::vector<TieForce>& sized,
                                 const std::vector<const TieState*>& cases) {
  const std::vector<Rod> rods = rods_of(brief.plan.supports, ties);
  std::vector<LossState> out;
  const auto lose = [&](int tie, int lost) {
    std::vector<Rod> rest;
    int place = 0;
    for (const Rod& rod : rods) {
      const bool same = rod.tie == tie;
      if (!same || (lost >= 0 && place != lost)) rest.push_back(rod);
      place += same ? 1 : 0;
    }
    LossState state = without(brief, rest, sized, cases);
    state.tie = ties[tie].id;
    state.rod = lost;
    out.push_back(std::move(state));
  };
  for (int t = 0; t < static_cast<int>(ties.size()); ++t) lose(t, -1);
  for (int t = 0; t < static_cast<int>(ties.size()); ++t)
    for (int k = 0; ties[t].rods > 1 && k < ties[t].rods; ++k) lose(t, k);
  return out;
}

}  // namespace skewback
