#include "loads/loads.hpp"

#include "loads/combinations.hpp"
#include "loads/patterns.hpp"
#include "loads/shares.hpp"

namespace skewback {

LoadSet load_cases(const Brief& brief, const Assembly& assembly, double deck_m) {
  LoadSet set;
  LoadCase dead;
  dead.id = "dead";
  set.cases.push_back(dead);
  set.notes.push_back({"dead", CaseKind::kPattern, "weight", 1, 1});
  const Regions surface = walking_surface(brief);
  const std::vector<Regions> outlines = shared_outlines(assembly);
  const std::vector<Pattern> patterns = people_patterns(brief, surface);
  for (const Pattern& pattern : patterns) {
    LoadCase load;
    load.id = pattern.id;
    const double pressure = people_pa(brief, pattern);
    for (const Share& share : shares(assembly, outlines, pattern.where)) {
      load.live.push_back({share.block, share.point, {0, 0, -pressure * share.area_m2}});
    }
    set.cases.push_back(std::move(load));
    set.notes.push_back({pattern.id,
                         CaseKind::kPattern,
                         "weight, people " + pattern.words,
                         1,
                         1,
                         {{pattern.id, ActionKind::kPeople, brief.factors.psi_people}},
                         {1.0}});
  }
  add_combinations(brief, assembly, outlines, surface, patterns, deck_m, set);
  return set;
}

double partial_factor(const Factors& factors, ActionKind kind) {
  switch (kind) {
    case ActionKind::kPeople:
      return factors.people;
    case ActionKind::kOther:
      return factors.other;
    case ActionKind::kWarmth:
      return factors.warmth;
  }
  return 0;
}

std::vector<std::size_t> of_kind(const LoadSet& set, CaseKind kind) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < set.notes.size(); ++i) {
    if (set.notes[i].kind == kind) out.push_back(i);
  }
  return out;
}

}  // namespace skewback
