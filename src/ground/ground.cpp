#include "ground/ground.hpp"

#include <algorithm>
#include <cmath>

#include "ground/footing_checks.hpp"
#include "ground/holding.hpp"
#include "ground/layout.hpp"
#include "ground/losses.hpp"
#include "ground/raft.hpp"
#include "ground/rod_loads.hpp"
#include "ground/rods.hpp"
#include "ground/shoes.hpp"
#include "ground/words.hpp"

namespace skewback {
namespace {

/// The first size that carries tie.governing_n, no thinner than it is.
void size_rod(const Brief& brief, TieForce& tie) {
  const RodSteel steel = rod_steel(brief);
  const auto thread = rod_thread(tie.governing_n, steel);
  if (!thread) {
    tie.diameter_m = tie.resistance_n = 0;
    tie.thread.clear();
    return;
  }
  if (thread->diameter_m < tie.diameter_m) return;
  tie.diameter_m = thread->diameter_m;
  tie.thread = thread->name;
  tie.resistance_n = rod_resistance(*thread, steel);
  tie.thread_governs =
      thread_resistance(*thread, steel.ultimate_pa, steel.gamma_thread) <= tie.resistance_n;
}

TieForce size_tie(const Brief& brief, const std::vector<Rod>& rods,
                  const std::vector<TieState>& states, const LoadCase* dead, int t,
                  const TieForce* at_least) {
  TieForce tie;
  if (at_least != nullptr) tie = *at_least;
  tie.governing_n = 0;
  tie.rod_force_n.clear();
  tie.force_n = 0;
  tie.id = brief.ground.ties[t].id;
  tie.length_m = std::ranges::find(rods, t, &Rod::tie)->length();
  for (const TieState& state : states) {
    const std::vector<double>& forces = state.rod_force_n[t];
    if (dead != nullptr && state.case_id == dead->id) tie.rod_force_n = forces;
    if (!state.balanced) continue;
    for (const double f : forces) {
      if (f * brief.ground.tie_factor <= tie.governing_n) continue;
      tie.governing_n = f * brief.ground.tie_factor;
      tie.governing = state.case_id + ", ground.tie_factor on all of it";
    }
  }
  for (const double f : tie.rod_force_n) tie.force_n += f;
  size_rod(brief, tie);
  return tie;
}

/// Cases that are held, or all of them where there are no ties: then the ground takes what there
/// is.
std::vector<const TieState*> taken(const std::vector<TieState>& states, bool only_held) {
  std::vector<const TieState*> out;
  for (const TieState& state : states)
    if (state.balanced || !only_held) out.push_back(&state);
  return out;
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

std::string not_tried(std::vector<std::string> missing) {
  constexpr std::size_t kNamed = 4;
  const std::size_t all = missing.size();
  missing.resize(std::min(kNamed, all));
  return "not tried under " + listed(missing) +
         (all > kNamed ? " and " + std::to_string(all - kNamed) + " more" : "");
}

/// What `hold` had to do to find the states.
void remark_on_history(const Held& held, std::vector<std::string>& remarks) {
  for (const std::string& id : held.without_reactions)
    remarks.push_back("case " + id + ": no state of equilibrium at load factor 1, so no reactions");
  remarks.emplace_back(
      "reactions and rod forces are those of the pads at load factor 1, on footings that stay "
      "where they are; where the pads have no state, of one state of equilibrium among many "
      "(view 1). Another history of loading can have more or less thrust");
  if (held.together.empty()) return;
  remarks.push_back(
      "the state of the proof on fixed ground would turn or push the footings in a way their "
      "rods and ground shear cannot hold; another state, found with the feet free in plan, is "
      "given for: " +
      listed(held.together));
}

void remark_on_states(const Groundworks& works, std::vector<std::string>& remarks) {
  Vec3 trifle = Vec3::Zero();
  for (const TieState& state : works.cases) {
    if (!state.balanced) remarks.push_back("case " + state.case_id + " not held: " + state.reason);
    for (std::size_t i = 0; state.balanced && i < state.ground_shear_n.size(); ++i)
      trifle = trifle.cwiseMax(state.ground_shear_n[i].cwiseAbs());
  }
  if (trifle.maxCoeff() > 1)
    remarks.push_back("friction under the footings takes what rods leave: at most " +
                      kilonewtons(trifle.head<2>().norm()) + " and a yaw moment of " +
                      kilonewton_metres(trifle.z()) + " on any of them");
}

void remark_on_ties(const Groundworks& works, std::vector<std::string>& remarks) {
  if (works.ties.empty()) {
    remarks.emplace_back(
        "no ties: footings must hold the whole thrust by sliding, a deadman or "
        "raked piles, or one raft under all of them");
    return;
  }
  for (const TieForce& tie : works.ties)
    if (tie.thread.empty())
      remarks.push_back("tie " + tie.id + ": no rod of the series carries " +
                        kilonewtons(tie.governing_n) + "; use more rods or stronger steel");
  remarks.emplace_back(
      "rods: the lesser of thread (0.9 f_ub A_s / gamma_M2, EN 1993-1-8 Table 3.4) and shank "
      "(A f_y / gamma_M0, EN 1993-1-1 6.2.3); anchors, corrosion and fire are not checked");
}

void remark_on_footings(const Brief& brief, const FootingActions& actions, const Groundworks& works,
                        std::vector<std::string>& remarks) {
  for (const FootingReport& f : works.footings) {
    if (!f.cleared) remarks.push_back("footing " + f.id + ": " + f.reason);
    if (brief.soil.stiffness_pa > 0 && !f.settlement_m)
      remarks.push_back("footing " + f.id +
                        ": the dead load lies off its base, so no settlement and no tilt are "
                        "reckoned, and the bridge is not tried on settled ground");
  }
  if (!works.footings.empty()) {
    remarks.emplace_back(
        "footings: what each action adds to the dead load has its own factor and is added up; "
        "ground water, earth on the sides and the yaw that ties leave are not taken into account");
    remarks.push_back(actions.how.empty() ? "footings: people and weight only, no wind, snow, "
                                            "warmth or push"
                                          : "footings: " + actions.how);
  }
  if (brief.soil.kind != SoilKind::kUnknown && brief.soil.cover_m == 0)
    remarks.emplace_back(
        "no soil over the underside of the footings is counted on (soil.cover is 0): what is sure "
        "to stay there bears more");
}

/// Places of the best layout's ties among the candidates.
std::vector<Tie> chosen(const Brief& brief, const Layout& best) {
  std::vector<Tie> out;
  for (const Tie& tie : candidate_ties(brief, true).ties) {
    if (std::ranges::find(best.ties, tie.id, &LaidTie::id) != best.ties.end()) out.push_back(tie);
  }
  return out;
}

/// Every pattern by itself.
std::vector<FootingCombination> people_alone(const Brief& brief, const Groundworks& works) {
  std::vector<FootingCombination> out;
  for (const TieState& state : works.cases)
    out.push_back(
        {state.case_id, {{state.case_id, ActionKind::kPeople, brief.factors.psi_people}}});
  return out;
}

}  // namespace

Groundworks judge_feet(const Brief& asked, const Assembly& assembly,
                       const std::vector<CaseProof>& proofs, const std::vector<Tie>& laid,
                       const std::vector<TieState>& states, const std::vector<TieForce>& at_least) {
  Groundworks works;
  Brief brief = asked;  // with the ties that are laid
  brief.ground.ties = laid;
  works.laid = laid;
  works.cases = states;
  works.layout = tie_layout(asked, taken(states, true));
  const LoadCase* dead = dead_case(assembly);
  const std::string dead_id = dead == nullptr ? "" : dead->id;
  for (const TieState& state : works.cases)
    if (state.case_id == dead_id) works.supports = state.supports;
  const std::vector<Rod> rods = rods_of(brief.plan.supports, works.laid);
  for (int t = 0; t < static_cast<int>(works.laid.size()); ++t)
    works.ties.push_back(
        size_tie(brief, rods, works.cases, dead, t, at_least.empty() ? nullptr : &at_least[t]));
  works.losses = lose_each(brief, works.laid, works.ties, taken(works.cases, true));
  works.shoes = size_shoes(brief, assembly, proofs, {}, works.laid, works.ties);
  remark_on_states(works, works.remarks);
  remark_on_ties(works, works.remarks);
  return works;
}

namespace {

/// What footings and rods are judged by.
struct Together {
  const TieState* dead = nullptr;  // none: nothing can be judged
  std::vector<const TieState*> states;
  std::vector<FootingCombination> combinations;
};

Together together(const Brief& brief, const Assembly& assembly, const FootingActions& actions,
                  const Groundworks& works, bool only_held) {
  Together out;
  const LoadCase* load = dead_case(assembly);
  const auto dead =
      std::ranges::find(works.cases, load == nullptr ? "" : load->id, &TieState::case_id);
  if (dead == works.cases.end()) return out;
  out.dead = &*dead;
  out.states = taken(works.cases, only_held);
  for (const TieState& state : actions.states) out.states.push_back(&state);
  out.combinations = people_alone(brief, works);
  std::erase_if(out.combinations, [&](const auto& c) { return c.id == dead->case_id; });
  out.combinations.insert(out.combinations.end(), actions.combinations.begin(),
                          actions.combinations.end());
  return out;
}

/// The actions given as missing, and parts of combinations that have no state: "snow (no state)".
std::vector<std::string> without_state(const FootingActions& actions, const Together& by) {
  std::vector<std::string> out = actions.missing;
  for (const FootingCombination& combination : by.combinations) {
    for (const ActionPart& part : combination.parts) {
      const bool known =
          std::ranges::find(by.states, part.action, &TieState::case_id) != by.states.end();
      const bool named = std::ranges::any_of(out, [&](const std::string& name) {
        return name == part.action || name.starts_with(part.action + " (");
      });
      if (!known && !named) out.push_back(part.action + " (no state)");
    }
  }
  return out;
}

/// Where some state leaves more to the ground under a footing than ground.ground_shear; empty where
/// none does, or where the brief counts on none and sliding alone judges.
std::string over_ground_shear(const Brief& brief, const std::vector<const TieState*>& states,
                              std::size_t support) {
  const double most = brief.ground.ground_shear_n;
  if (!(most > 0)) return "";
  double worst = most * (1 + 1e-9);
  std::string text;
  for (const TieState* state : states) {
    if (state->balanced || support >= state->ground_shear_n.size()) continue;
    const double shear = state->ground_shear_n[support].head<2>().norm();
    if (shear <= worst) continue;
    worst = shear;
    text = "it needs " + kilonewtons(shear) + " of shear on the ground in case " + state->case_id +
           ", without factors, and may count on " + kilonewtons(most) + " (ground.ground_shear)";
  }
  return text;
}

}  // namespace

void judge_footings(const Brief& brief, const Assembly& assembly, const FootingActions& actions,
                    Groundworks& works) {
  const Together by = together(brief, assembly, actions, works, false);
  if (by.dead == nullptr) return;
  const std::vector<std::string> missing = without_state(actions, by);
  for (int s = 0; s < static_cast<int>(brief.plan.supports.size()); ++s) {
    FootingReport report = check_footing(brief, works.laid, *by.dead, by.states, by.combinations, s,
                                         bed_reach(brief, assembly, s));
    if (report.cleared) {
      report.reason = over_ground_shear(brief, by.states, static_cast<std::size_t>(s));
      if (report.reason.empty() && !missing.empty()) report.reason = not_tried(missing);
      report.cleared = report.reason.empty();
    }
    works.footings.push_back(std::move(report));
  }
  if (works.laid.empty() || std::ranges::any_of(works.footings, [](const FootingReport& f) {
        return f.holdfast.has_value();
      })) {
    std::vector<Vec2> reach;
    for (int s = 0; s < static_cast<int>(brief.plan.supports.size()); ++s)
      reach.push_back(bed_reach(brief, assembly, s));
    works.raft = design_raft(brief, *by.dead, by.states, by.combinations, reach);
    if (works.raft->cleared && !missing.empty()) {
      works.raft->cleared = false;
      works.raft->reason = not_tried(missing);
    }
  }
  remark_on_footings(brief, actions, works, works.remarks);
}

bool size_rods(const Brief& brief, const Assembly& assembly, const FootingActions& actions,
               Groundworks& works) {
  const Together by = together(brief, assembly, actions, works, true);
  if (by.dead == nullptr || !by.dead->balanced) return false;
  const std::vector<RodPull> pulls = rod_pulls(brief, *by.dead, by.states, by.combinations);
  bool grew = false;
  for (std::size_t t = 0; t < works.ties.size(); ++t) {
    TieForce& tie = works.ties[t];
    if (pulls[t].force_n <= tie.governing_n) continue;
    const double before = tie.diameter_m;
    tie.governing_n = pulls[t].force_n;
    tie.governing = pulls[t].case_id + ": " + pulls[t].words;
    size_rod(brief, tie);
    grew = grew || tie.diameter_m > before;
    if (tie.thread.empty() && before > 0)
      works.remarks.push_back("tie " + tie.id + ": no rod of the series carries " +
                              kilonewtons(tie.governing_n) + " (" + tie.governing +
                              "); use more rods or stronger steel");
  }
  return grew;
}

void judge_shoes(const Brief& brief, const Assembly& assembly,
                 const std::vector<CaseProof>& patterns, const std::vector<CaseProof>& combinations,
                 Groundworks& works) {
  works.shoes = size_shoes(brief, assembly, patterns, combinations, works.laid, works.ties);
}

Groundworks hold_feet(const Brief& asked, const Assembly& assembly,
                      const std::vector<CaseProof>& proofs) {
  Brief brief = asked;
  if (brief.ground.every_pair) brief.ground.ties = candidate_ties(asked, true).ties;
  Held held = hold(brief, assembly, proofs);
  const TieLayout layout = tie_layout(asked, taken(held.states, true));
  if (brief.ground.every_pair && layout.best) {
    brief.ground.ties = chosen(asked, *layout.best);
    held = hold(brief, assembly, proofs);
  }
  Groundworks works = judge_feet(asked, assembly, proofs, brief.ground.ties, held.states);
  works.layout = layout;
  remark_on_history(held, works.remarks);
  return works;
}

}  // namespace skewback
