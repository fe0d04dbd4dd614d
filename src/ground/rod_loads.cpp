#include "ground/rod_loads.hpp"

#include <algorithm>
#include <map>

#include "ground/factor_sets.hpp"

namespace skewback {
namespace {

using Pulls = std::vector<std::vector<double>>;  // per tie, per rod

/// Of one combination and set of factors, into `worst`.
void take(const Pulls& dead, const std::vector<const Pulls*>& whole,
          const FootingCombination& combination, const FactorSet& factors,
          std::vector<RodPull>& worst) {
  for (std::size_t t = 0; t < dead.size(); ++t) {
    for (std::size_t r = 0; r < dead[t].size(); ++r) {
      double force = factors.weight * dead[t][r];
      for (std::size_t k = 0; k < whole.size(); ++k)
        force += factors.variable[k] * ((*whole[k])[t][r] - dead[t][r]);
      if (force <= worst[t].force_n) continue;
      worst[t] = {force, combination.id, in_words(combination.parts, factors)};
    }
  }
}

}  // namespace

std::vector<RodPull> rod_pulls(const Brief& brief, const TieState& dead,
                               const std::vector<const TieState*>& states,
                               const std::vector<FootingCombination>& combinations) {
  const GroundFactors factors = both_approaches(brief.factors).front();
  std::map<std::string, const Pulls*> found;
  for (const TieState* state : states) found[state->case_id] = &state->rod_force_n;
  std::vector<RodPull> worst(dead.rod_force_n.size());
  std::vector<FootingCombination> all = {{dead.case_id, {}}};
  all.insert(all.end(), combinations.begin(), combinations.end());
  for (const FootingCombination& combination : all) {
    std::vector<const Pulls*> whole;
    for (const ActionPart& part : combination.parts) {
      const auto it = found.find(part.action);
      if (it != found.end()) whole.push_back(it->second);
    }
    if (whole.size() < combination.parts.size()) continue;
    for (const FactorSet& set : factor_sets(factors, combination.parts))
      take(dead.rod_force_n, whole, combination, set, worst);
  }
  return worst;
}

}  // namespace skewback
