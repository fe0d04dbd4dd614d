// Does it stand: the cases, how much more it would carry, what tries it beside them.

#include <algorithm>

#include "deliver/case_words.hpp"
#include "deliver/facts.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"
#include "lodge/finding.hpp"
#include "works/required_site.hpp"

namespace skewback::lodge {
namespace {

/// When it first has to carry that: weight alone as soon as the centring is gone.
std::string moment_of(const Assembly& assembly, const std::string& id) {
  const auto load = std::ranges::find(assembly.cases, id, &LoadCase::id);
  return load != assembly.cases.end() && load->has_live() ? "walked" : "struck";
}

Json place_of(const Assembly& assembly, const CaseProof& proof) {
  return proof.governing_joint >= 0 ? joint_place(assembly, proof.governing_joint)
                                    : place("case", proof.id, std::nullopt);
}

void say_verdict(const Dossier& d, const Assembly& assembly, Verdict verdict, Found& found) {
  std::vector<std::string> others;
  const CaseProof* worst = nullptr;
  for (const std::size_t i : deliver::worst_first(d.proofs)) {
    const CaseProof& proof = d.proofs[i];
    if (proof.verdict != verdict) continue;
    if (worst == nullptr) {
      worst = &proof;
    } else {
      others.push_back(proof.id);
    }
  }
  if (worst == nullptr) return;
  const bool falls = verdict == Verdict::kFalls;
  Finding f{falls ? "falls" : "undecided", kFails};
  f.says = "Case " + worst->id + (falls ? " falls" : " is undecided");
  if (!worst->reason.empty()) f.says += ": " + worst->reason;
  f.says = sentence(f.says);
  if (!others.empty())
    f.says += (falls ? " So do " : " So are ") + deliver::counted(others.size(), "other case") +
              ": " + few(others) + ".";
  f.place = place_of(assembly, *worst);
  f.moment = moment_of(assembly, worst->id);
  found.push_back(std::move(f));
}

void say_all_stand(const Dossier& d, Found& found) {
  const deliver::Count cases = deliver::count(d.proofs);
  if (cases.stands != d.proofs.size()) return;
  Finding f{"cases", kHolds};
  f.says = cases.stands == 1 ? "The one case stands."
                             : "All " + std::to_string(cases.stands) + " cases stand.";
  f.moment = "struck";
  found.push_back(std::move(f));
}

const CaseProof* least_factor(const Dossier& d) {
  const CaseProof* least = nullptr;
  for (std::size_t i = 0; i < d.proofs.size(); ++i) {
    const bool pattern = i >= d.notes.size() || d.notes[i].kind == CaseKind::kPattern;
    const auto factor = live_factor_of(d.proofs[i]);
    if (pattern && factor && (least == nullptr || *factor < *live_factor_of(*least)))
      least = &d.proofs[i];
  }
  return least;
}

/// Of the pattern that was sought: "; 31.4 kN on v3, v4 and v5, begun from case half: west".
std::string where_loaded(const Dossier& d, const CaseProof& proof) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (!d.worst_pattern || proof.id != deliver::kWorstCase || assembly == nullptr) return "";
  double newtons = 0;
  std::vector<std::string> blocks;
  for (const LiveForce& cell : d.worst_pattern->load.live) {
    newtons += cell.force.norm();
    const std::string& id = assembly->blocks[static_cast<std::size_t>(cell.block)].id;
    if (std::ranges::find(blocks, id) == blocks.end()) blocks.push_back(id);
  }
  return "; " + measure(newtons, "N") + " on " + few(blocks, 6) + ", begun from case " +
         d.worst_pattern->load.id;
}

void say_live_factor(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!check.value || !check.passes) {
    found.push_back(not_checked(check, "how much live load it carries"));
    if (check.passes) found.back().weight = weight_of(check, std::nullopt);
    return;
  }
  Finding f{check.name};
  f.share = check.limit / *check.value;
  f.weight = weight_of(check, f.share);
  const CaseProof* least = least_factor(d);
  const bool at_least = least != nullptr && factor_at_cap(*least);
  const auto [carries, required] = measures(*check.value, check.limit, "");
  f.says = "It carries " + std::string(at_least ? "at least " : "") + carries +
           " times its live load beside its weight; " + required + " is required.";
  if (f.weight == kFails && *f.share <= 1)
    f.says += " But not every case of weight alone or with people stands.";
  if (!d.worst_pattern) f.says += " The worst place for people was not sought yet.";
  if (least != nullptr && !at_least) {
    f.says += " Least in case " + deliver::case_words(d, least->id) + where_loaded(d, *least) + ".";
    f.place = place("case", least->id, std::nullopt);
  }
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_combinations(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!check.value || !check.passes) {
    found.push_back(not_checked(check, "combinations of loads with factors on"));
    return;
  }
  std::size_t all = 0, standing = 0;
  for (std::size_t i = 0; i < d.proofs.size() && i < d.notes.size(); ++i) {
    if (d.notes[i].kind != CaseKind::kCombination) continue;
    ++all;
    if (d.proofs[i].verdict == Verdict::kStands) ++standing;
  }
  Finding f{check.name, weight_of(check, std::nullopt)};
  f.says = std::to_string(standing) + " of " + std::to_string(all) +
           " combinations of loads with their factors on stand.";
  if (!check.note.empty()) f.says += " " + sentence(check.note);
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_tried(const Dossier& d, Found& found) {
  if (d.tried.empty()) return;
  std::vector<std::string> failing;
  const TriedState* first = nullptr;
  for (const TriedState& state : d.tried) {
    if (state.holds) continue;
    if (first == nullptr) first = &state;
    failing.push_back(state.what);
  }
  Finding f{"other_states", failing.empty() ? kHolds : kFails};
  f.says =
      "Of " + deliver::counted(d.tried.size(), "state") +
      " beside the load cases (warmth, creep, accidents, feet on ties that stretch), " +
      (failing.empty() ? "all hold."
                       : std::to_string(failing.size()) + " do not hold: " + few(failing) + ".");
  if (first != nullptr && !first->reason.empty())
    f.says += " " + sentence(first->what + ": " + first->reason);
  if (first != nullptr) f.place = place("case", first->case_id, std::nullopt);
  f.moment = "walked";
  found.push_back(std::move(f));
}

void say_moved(const Dossier& d, const RequiredCheck& check, Found& found) {
  if (!check.value || !d.moved) {
    found.push_back(not_checked(check, "footings that stand a little off"));
    return;
  }
  Finding f{check.name, weight_of(check, std::nullopt)};
  f.says = "With a footing moved " + measure(d.moved->shift_m * d.brief.factors.moved, "m") +
           " any way, " + std::to_string(d.moved->held) + " of " + std::to_string(d.moved->states) +
           " states hold.";
  if (!d.moved->worst.empty())
    f.says += (*check.passes ? " Pressed most: " : " First not held: ") + d.moved->worst + ".";
  if (d.moved->over > 0) {
    f.says += " In " + d.moved->over_words + ".";
    f.weight = std::min(f.weight, kNearLimit);
  }
  f.moment = "footings";
  found.push_back(std::move(f));
}

}  // namespace

void say_standing(const Dossier& d, const Required& required, Found& found) {
  const Assembly* assembly = deliver::assembly_of(d);
  if (assembly == nullptr) return;
  if (!d.proofs.empty()) {
    say_verdict(d, *assembly, Verdict::kFalls, found);
    say_verdict(d, *assembly, Verdict::kUndecided, found);
    say_all_stand(d, found);
  }
  if (const auto* check = find(required, "live_factor")) say_live_factor(d, *check, found);
  if (const auto* check = find(required, "combinations")) say_combinations(d, *check, found);
  if (const auto* check = find(required, "moved_footings")) say_moved(d, *check, found);
  say_tried(d, found);
}

}  // namespace skewback::lodge
