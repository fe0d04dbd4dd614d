#include "works/feet_actions.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <map>

#include "base/parallel.hpp"
#include "ground/holding.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "works/settle_feet.hpp"
#include "works/settled_ground.hpp"
#include "works/states.hpp"
#include "works/tie_spread.hpp"

namespace skewback {
namespace {

constexpr double kTolerance = 1e-7;  // of the pads: these are not evidence

const CaseProof* proof_of(const Dossier& dossier, const std::string& id) {
  const auto it = std::ranges::find(dossier.proofs, id, &CaseProof::id);
  return it == dossier.proofs.end() || !it->pads || !it->pads->found ? nullptr : &*it;
}

const LoadCase* case_of(const Dossier& dossier, const std::string& id) {
  const auto& cases = dossier.cut->assembly.cases;
  const auto it = std::ranges::find(cases, id, &LoadCase::id);
  return it == cases.end() ? nullptr : &*it;
}

/// What stands in a state of its own: an action of the combinations, or the weight and warmth.
struct Lone {
  std::string id;
  const LoadCase* load = nullptr;
  double warmer_k = 0;
};

std::vector<Lone> lone_actions(const Dossier& dossier) {
  std::vector<Lone> out;
  for (const LoadCase& action : dossier.actions) out.push_back({action.id, &action, 0});
  const LoadCase* dead = dead_case(dossier.cut->assembly);
  const Loads& loads = dossier.brief.loads;
  if (dead != nullptr && loads.warmer_k > 0) out.push_back({"warmer", dead, loads.warmer_k});
  if (dead != nullptr && loads.colder_k > 0) out.push_back({"colder", dead, -loads.colder_k});
  return out;
}

/// Those of the load cases, once each (weight comes high and low here anyway), and warmth.
std::vector<FootingCombination> combinations(const Dossier& dossier) {
  std::vector<FootingCombination> out;
  const auto is_action = [&](const std::string& id) {
    return std::ranges::find(dossier.actions, id, &LoadCase::id) != dossier.actions.end();
  };
  const auto same = [](const ActionPart& a, const ActionPart& b) { return a.action == b.action; };
  for (const CaseNote& note : dossier.notes) {
    if (note.kind != CaseKind::kCombination || note.parts.empty()) continue;
    const bool pattern = note.parts.size() == 1 && !is_action(note.parts[0].action);
    const bool known = std::ranges::any_of(
        out, [&](const auto& c) { return std::ranges::equal(c.parts, note.parts, same); });
    if (!pattern && !known) out.push_back({note.id, note.parts});
  }
  const Factors& f = dossier.brief.factors;
  const ActionPart people{"full", ActionKind::kPeople, f.psi_people};
  for (const Lone& lone : lone_actions(dossier)) {
    if (lone.warmer_k == 0) continue;
    const ActionPart warmth{lone.id, ActionKind::kWarmth, f.psi_warmth};
    out.push_back({lone.id, {warmth}});
    if (case_of(dossier, people.action) == nullptr) continue;
    out.push_back({lone.id + "-people", {warmth, people}});
    out.push_back({"people-" + lone.id, {people, warmth}});
  }
  return out;
}

std::vector<PadState> on_still_feet(const Dossier& dossier, const std::vector<Lone>& lone,
                                    const Progress& progress) {
  const PadModel model(dossier.cut->assembly, dossier.stand_options);
  std::vector<PadState> found(lone.size());
  progress.checkpoint("ground: wind, snow, warmth by themselves", 0);
  for_each_index(lone.size(), [&](std::size_t i) {
    PadOptions pads;
    pads.tolerance = kTolerance;
    pads.warmer_k = lone[i].warmer_k;
    found[i] = model.solve(*lone[i].load, pads);
  });
  return found;
}

std::vector<TieState> as_they_stay(const Dossier& dossier, const std::vector<Lone>& lone,
                                   const std::vector<PadState>& found,
                                   std::vector<std::string>& missing) {
  Brief brief = dossier.brief;
  brief.ground.ties = dossier.ground->laid;
  const std::vector<int> ground = ground_blocks(brief, dossier.cut->assembly);
  const std::vector<Rod> rods = rods_of(brief.plan.supports, brief.ground.ties);
  std::vector<TieState> out;
  for (std::size_t i = 0; i < lone.size(); ++i) {
    if (found[i].found) {
      out.push_back(held_state(brief, lone[i].id,
                               reactions(brief, dossier.cut->assembly, ground, found[i].forces),
                               rods));
    } else {
      missing.push_back(lone[i].id + " (" + found[i].reason + ")");
    }
  }
  return out;
}

std::vector<TieState> on_their_ties(const Dossier& dossier, const std::vector<Lone>& lone,
                                    std::vector<std::string>& missing, const Progress& progress) {
  const SpreadModel model(dossier.brief, dossier.cut->assembly, dossier.stand_options,
                          *dossier.ground);
  TieSpread spread;
  spread.states.resize(lone.size());
  std::atomic<std::size_t> done{0};
  for_each_index(lone.size(), [&](std::size_t i) {
    spread.states[i] = model.spread(*lone[i].load, Tightened::kAtStriking, lone[i].warmer_k);
    spread.states[i].case_id = lone[i].id;
    progress.checkpoint("ground: wind, snow, warmth",
                        static_cast<double>(++done) / static_cast<double>(lone.size()));
  });
  for (SpreadState& state : spread.states) {
    state.warmer_k = 0;  // taken as an action like the others
    if (!state.settled) missing.push_back(state.case_id + " (" + state.reason + ")");
  }
  return held_by_rods(spread, Tightened::kAtStriking);
}

/// How far adding up is from putting on at once, on feet that stay.
class AddedUp {
 public:
  AddedUp(const Dossier& dossier, const std::vector<Lone>& lone, const std::vector<PadState>& still)
      : dossier_(dossier), ground_(ground_blocks(dossier.brief, dossier.cut->assembly)) {
    for (const CaseNote& note : dossier.notes) {
      const CaseProof* proof = proof_of(dossier, note.id);
      if (note.kind == CaseKind::kPattern && proof) alone_[note.id] = feel(*proof->pads);
    }
    for (std::size_t i = 0; i < lone.size(); ++i)
      if (still[i].found) alone_[lone[i].id] = feel(still[i]);
  }

  [[nodiscard]] AddingUp worst() const {
    AddingUp out;
    for (const CaseNote& note : dossier_.notes) {
      const CaseProof* proof = proof_of(dossier_, note.id);
      if (note.kind != CaseKind::kCombination || proof == nullptr) continue;
      const Reactions sum = added_up(note), at_once = feel(*proof->pads);
      for (std::size_t s = 0; s < sum.size(); ++s) {
        const double rel = (sum[s] - at_once[s]).norm() / at_once[s].norm();
        if (rel > out.rel || out.case_id.empty()) out = {rel, note.id};
      }
    }
    return out;
  }

 private:
  using Reactions = std::vector<Vec3>;

  [[nodiscard]] Reactions feel(const PadState& pads) const {
    Reactions out;
    for (const SupportReaction& r :
         reactions(dossier_.brief, dossier_.cut->assembly, ground_, pads.forces))
      out.push_back(r.force);
    return out;
  }

  /// Empty where a part has no state.
  [[nodiscard]] Reactions added_up(const CaseNote& note) const {
    const LoadCase* dead = dead_case(dossier_.cut->assembly);
    if (dead == nullptr || !alone_.contains(dead->id)) return {};
    const Reactions& weight = alone_.at(dead->id);
    Reactions sum;
    for (const Vec3& w : weight) sum.emplace_back(note.dead_factor * w);
    for (std::size_t k = 0; k < note.parts.size(); ++k) {
      const auto own = alone_.find(note.parts[k].action);
      if (own == alone_.end()) return {};
      for (std::size_t s = 0; s < sum.size(); ++s)
        sum[s] += note.variable_factors[k] * (own->second[s] - weight[s]);
    }
    return sum;
  }

  const Dossier& dossier_;
  std::vector<int> ground_;
  std::map<std::string, Reactions> alone_;
};

std::string how_in_words(bool settled, const AddingUp& error) {
  std::string how = settled ? "reactions are those of feet held by elastic rods"
                            : "reactions are those of feet that stay where they are";
  if (error.case_id.empty()) return how;
  char text[200];
  std::snprintf(text, sizeof text,
                "; added up they differ from the combination put on at once by %.1f %% of a "
                "reaction at most (case %s, feet that stay)",
                100 * error.rel, error.case_id.c_str());
  return how + text;
}

constexpr int kRounds = 3;

}  // namespace

std::vector<std::string> patterns_without_reactions(const Dossier& dossier) {
  std::vector<std::string> out;
  const std::vector<TieState>& known = dossier.ground->cases;
  for (const CaseProof& proof : pattern_proofs(dossier))
    if (std::ranges::find(known, proof.id, &TieState::case_id) == known.end())
      out.push_back(proof.id + " (" + word(proof.verdict) + ")");
  return out;
}

void judge_ground(Dossier& dossier, const Progress& progress) {
  const std::vector<Lone> lone = lone_actions(dossier);
  const std::vector<PadState> still = on_still_feet(dossier, lone, progress);
  const AddingUp error = AddedUp(dossier, lone, still).worst();
  FootingActions actions;
  actions.combinations = combinations(dossier);
  for (int round = 1; round <= kRounds; ++round) {
    const bool settled = settle_feet(dossier, progress);
    actions.missing.clear();
    actions.states = settled ? on_their_ties(dossier, lone, actions.missing, progress)
                             : as_they_stay(dossier, lone, still, actions.missing);
    actions.how = how_in_words(settled, error);
    if (!size_rods(dossier.brief, dossier.cut->assembly, actions, *dossier.ground)) break;
    if (round == kRounds)
      dossier.ground->remarks.emplace_back(
          "rods grew in every round: their forces are those of the size below the one given");
  }
  judge_shoes(dossier.brief, dossier.cut->assembly, pattern_proofs(dossier),
              combination_proofs(dossier), *dossier.ground);
  if (!error.case_id.empty()) dossier.ground->adding_up = error;
  const std::vector<std::string> patterns = patterns_without_reactions(dossier);
  actions.missing.insert(actions.missing.begin(), patterns.begin(), patterns.end());
  judge_footings(dossier.brief, dossier.cut->assembly, actions, *dossier.ground);
  try_settled_feet(dossier, progress);
}

}  // namespace skewback
