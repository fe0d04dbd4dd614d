#include "ground/factor_sets.hpp"

#include <cstdio>

namespace skewback {
namespace {

double gamma(const GroundFactors& f, ActionKind kind) {
  if (kind == ActionKind::kPeople) return f.people;
  return kind == ActionKind::kOther ? f.other : f.warmth;
}

std::string times(double factor, const std::string& what) {
  char text[32];
  std::snprintf(text, sizeof text, "%.5g ", factor);
  return text + what;
}

}  // namespace

std::vector<FactorSet> factor_sets(const GroundFactors& f, const std::vector<ActionPart>& parts) {
  std::vector<VariableAction> variable;
  for (const ActionPart& part : parts) variable.push_back({gamma(f, part.kind), part.psi});
  const WeightFactors weight{f.dead_high, f.dead_low, f.xi};
  std::vector<FactorSet> sets = heavy_sets(weight, f.a_and_b, variable);
  if (f.dead_low != f.dead_high) sets.push_back(light_set(weight, variable));
  return sets;
}

std::string in_words(const std::vector<ActionPart>& parts, const FactorSet& factors) {
  std::string text = times(factors.weight, "weight");
  for (std::size_t k = 0; k < parts.size(); ++k)
    text += " + " + times(factors.variable[k], parts[k].action);
  return text;
}

}  // namespace skewback
