#include <algorithm>
#include <cmath>

#include "deliver/case_words.hpp"
#include "deliver/facts.hpp"
#include "deliver/text.hpp"
#include "deliver/told_apart.hpp"
#include "lodge/compare_parts.hpp"
#include "works/required_site.hpp"

namespace skewback::lodge {
namespace {

using deliver::case_words;
using deliver::counted;
using deliver::fixed;

std::string case_moment(const std::string& id) { return id == "dead" ? "struck" : "walked"; }

std::string factor_text(const CaseProof& proof) {
  return (factor_at_cap(proof) ? "at least " : "") + fixed(*live_factor_of(proof), 2);
}

// "load factor from 1.82 to 1.67"; empty where the figures shown do not differ.
std::string factor_change(const CaseProof& was, const CaseProof& is) {
  const auto before = live_factor_of(was), now = live_factor_of(is);
  if (!before || !now) return "";
  const std::string from = factor_text(was), to = factor_text(is);
  const bool near = factor_at_cap(was) == factor_at_cap(is) && std::abs(*before - *now) < 5e-3;
  return from == to || near ? "" : "the load factor goes from " + from + " to " + to;
}

// Those that got worse, to falling first; then those that got better.
double verdict_weight(Verdict was, Verdict is) {
  const auto rank = [](Verdict v) {
    return v == Verdict::kFalls ? 2 : v == Verdict::kUndecided ? 1 : 0;
  };
  const int worse = rank(is) - rank(was);
  return 1e4 + 1e3 * worse + 10 * rank(is);
}

void tell_case(const Dossier& before, std::size_t i, const Dossier& now, std::size_t k,
               Told& told) {
  const CaseProof &was = before.proofs[i], &is = now.proofs[k];
  const std::string name = case_words(now, is.id), factor = factor_change(was, is);
  Change change{"", "", "case", is.id, {}, case_moment(is.id)};
  if (was.verdict != is.verdict) {
    change.says = name + " goes from " + word(was.verdict) + " to " + word(is.verdict);
    if (!factor.empty()) change.says += "; " + factor;
    if (is.verdict != Verdict::kStands && !is.reason.empty()) change.says += ": " + is.reason;
    told.tell(verdict_weight(was.verdict, is.verdict), change);
  } else if (!factor.empty()) {
    change.says = name + ": " + factor;
    told.tell(100 * share_changed(*live_factor_of(was), *live_factor_of(is)) /
                  std::max(1.0, *live_factor_of(is)),
              change);
  }
}

// The pattern that a whole run looks for; where only one of the two did, there is nothing to
// compare.
bool counts(const CaseProof& proof, bool both_searched) {
  return both_searched || proof.id != deliver::kWorstCase;
}
const CaseProof* governing(const std::vector<CaseProof>& proofs, bool both_searched) {
  for (const std::size_t i : deliver::worst_first(proofs))
    if (counts(proofs[i], both_searched)) return &proofs[i];
  return nullptr;
}

// Least over all cases, "worst" among them.
bool over_cases(const std::string& check) {
  return check == "live_factor" || check == "joint_stress" || check == "friction_reserve";
}

std::string plain(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name;
}

std::string passes_word(const std::optional<bool>& passes) {
  return !passes ? "is not checked" : *passes ? "passes" : "fails";
}
std::string passed_word(const std::optional<bool>& passes) {
  return !passes ? "was not checked" : *passes ? "passed" : "failed";
}

void tell_check(const RequiredCheck& was, const RequiredCheck& is, Told& told) {
  std::string says;
  double weight = 0;
  const std::string note = is.note.empty() ? "" : " (" + is.note + ")";
  if (was.passes != is.passes) {
    says = plain(is.name) + " " + passes_word(is.passes) + " now, it " + passed_word(was.passes);
    weight = is.passes == std::optional(false) ? 100 : !is.passes ? 50 : 10;
  }
  if (was.value && is.value) {
    const int places = decimals_of(std::max(std::abs(*was.value), std::abs(*is.value)));
    if (std::abs(*is.value - *was.value) >= 0.5 * std::pow(10, -places)) {
      const auto [from, to] = deliver::told_apart(*was.value, *is.value, deliver::decimals(places));
      says += (says.empty() ? plain(is.name) : ";") + " goes from " + from + " to " + to +
              (is.at_most ? ", at most " : ", at least ") + fixed(is.limit, decimals_of(is.limit)) +
              " is asked";
      weight = std::max(weight, share_changed(*was.value, *is.value));
    }
  }
  if (was.limit != is.limit) {
    const int places = std::max(decimals_of(was.limit), decimals_of(is.limit));
    says += (says.empty() ? plain(is.name) : ";") + (says.empty() ? ":" : "") + " the limit was " +
            fixed(was.limit, places);
    weight = std::max(weight, 1.0);
  }
  if (!says.empty())
    told.tell(weight, {"", says + (weight >= 50 ? note : ""), "none", "", {}, "walked"});
}

const BlockFinding* worst(const std::optional<BlockChecks>& checks) {
  if (!checks || checks->worst < 0) return nullptr;
  return &checks->findings[static_cast<std::size_t>(checks->worst)];
}

std::vector<std::string> over(const Dossier& d, const Assembly& assembly) {
  std::vector<std::string> ids;
  for (const BlockFinding& f : d.strength->findings) {
    const std::string& id = assembly.blocks[static_cast<std::size_t>(f.block)].id;
    if (f.utilisation > 1 && (ids.empty() || ids.back() != id)) ids.push_back(id);
  }
  return ids;
}

}  // namespace

std::vector<Change> verdict_changes(const Dossier& before, const Dossier& now) {
  if (before.proofs.empty() || now.proofs.empty()) return {};
  Told told("verdicts");
  const bool both = before.worst_pattern.has_value() == now.worst_pattern.has_value();
  const CaseProof *a = governing(before.proofs, both), *b = governing(now.proofs, both);
  if (a != nullptr && b != nullptr && a->id != b->id)
    told.tell(5e3, {"",
                    "the case to worry about first is " + b->id + ", it was " + a->id,
                    "case",
                    b->id,
                    {},
                    case_moment(b->id)});
  std::vector<std::string> gone;
  for (const Pair& pair :
       paired_by(before.proofs, now.proofs, [](const CaseProof& p) { return p.id; })) {
    if (pair.before && pair.now) {
      tell_case(before, *pair.before, now, *pair.now, told);
      continue;
    }
    const CaseProof& p = pair.now ? now.proofs[*pair.now] : before.proofs[*pair.before];
    if (!counts(p, both)) continue;
    if (pair.now) {
      told.tell(p.verdict == Verdict::kStands ? 1 : 4e3,
                {"",
                 case_words(now, p.id) + " is new: " + word(p.verdict),
                 "case",
                 p.id,
                 {},
                 case_moment(p.id)});
    } else {
      gone.push_back(p.id);
    }
  }
  if (!gone.empty())
    told.tell(0, {"", counted(gone.size(), "case") + (gone.size() == 1 ? " is" : " are") +
                          " no longer tried: " + named(gone)});
  return told.in_order();
}

std::vector<Change> check_changes(const Dossier& before, const Dossier& now) {
  if (before.required.empty() || now.required.empty()) return {};
  const bool both = before.worst_pattern.has_value() == now.worst_pattern.has_value();
  Told told("checks");
  for (const Pair& pair :
       paired_by(before.required, now.required, [](const RequiredCheck& c) { return c.name; })) {
    if (pair.before && pair.now) {
      const RequiredCheck &was = before.required[*pair.before], &is = now.required[*pair.now];
      const bool one_only = was.passes.has_value() != is.passes.has_value();
      if (one_only || (!both && over_cases(is.name))) continue;  // worked out for one of the two
      tell_check(was, is, told);
    } else if (pair.now) {
      const RequiredCheck& c = now.required[*pair.now];
      told.tell(60, {"", plain(c.name) + " is asked for now: " + passes_word(c.passes)});
    } else {
      told.tell(1, {"", plain(before.required[*pair.before].name) + " is no longer asked for"});
    }
  }
  return told.in_order();
}

std::vector<Change> strength_changes(const Dossier& before, const Dossier& now) {
  const BlockFinding *a = worst(before.strength), *b = worst(now.strength);
  const Assembly *were = deliver::assembly_of(before), *are = deliver::assembly_of(now);
  if (a == nullptr || b == nullptr || were == nullptr || are == nullptr) return {};
  Told told("strength");
  const Block& block = are->blocks[static_cast<std::size_t>(b->block)];
  const auto [is, was] = deliver::told_apart(b->utilisation, a->utilisation, deliver::decimals(2));
  if (std::abs(a->utilisation - b->utilisation) >= 5e-3)
    told.tell(2, {"",
                  "the block most used is " + block.id + " (" + b->check + ", case " + b->case_id +
                      "): " + is + " of its strength, the most was " + was,
                  "block", block.id, block.mass.centroid, "cut"});
  const std::vector<std::string> ids_were = over(before, *were), ids = over(now, *are);
  if (ids_were != ids)
    told.tell(3, {"",
                  ids.empty() ? "no block is used beyond its strength any more"
                              : counted(ids.size(), "block") + (ids.size() == 1 ? " is" : " are") +
                                    " used beyond their strength: " + named(ids) + "; " +
                                    std::to_string(ids_were.size()) + " before",
                  ids.empty() ? "none" : "block",
                  ids.empty() ? "" : ids.front(),
                  {},
                  "cut"});
  return told.in_order();
}

}  // namespace skewback::lodge
