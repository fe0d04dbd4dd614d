#include <algorithm>
#include <iterator>
#include <tuple>

#include "lodge/finding.hpp"
#include "lodge/views.hpp"
#include "works/live.hpp"

namespace skewback::lodge {
namespace {

/// A required check that has no words of its own here still gets its line.
void say_others(const Required& required, Found& found) {
  for (const RequiredCheck& check : required) {
    const bool said =
        std::ranges::any_of(found, [&](const Finding& f) { return f.id == check.name; });
    if (said) continue;
    Finding other{check.name, weight_of(check, std::nullopt)};
    other.says =
        sentence(check.name + ": " + (check.note.empty() ? "no more is known" : check.note));
    found.push_back(std::move(other));
  }
}

Json finding_json(const Finding& f) {
  Json all{{"id", f.id},
           {"weight", static_cast<int>(f.weight)},
           {"share", json(f.share)},
           {"says", f.says},
           {"place", f.place.is_null() ? nowhere() : f.place},
           {"moment", f.moment}};
  if (f.stale) all["stale"] = *f.stale;
  return all;
}

bool proved(const CaseProof& proof) { return proof.reason != kNotProvedYet; }

/// The dossier with those cases alone that have been proved so far.
Dossier proved_so_far(const Dossier& all) {
  Dossier some = all;
  Assembly& assembly = some.cut->assembly;
  some.proofs.clear();
  some.notes.clear();
  some.required.clear();
  assembly.cases.clear();
  for (std::size_t i = 0; i < all.proofs.size(); ++i) {
    if (!proved(all.proofs[i])) continue;
    some.proofs.push_back(all.proofs[i]);
    assembly.cases.push_back(all.cut->assembly.cases[i]);
    if (i < all.notes.size()) some.notes.push_back(all.notes[i]);
  }
  return some;
}

void say_on_its_way(const Dossier& all, Found& found) {
  const auto done = std::ranges::count_if(all.proofs, proved);
  Finding f{"cases", kNotChecked};
  f.says = std::to_string(done) + " of " + std::to_string(all.proofs.size()) +
           " cases are proved so far; what is said of them is of those alone.";
  f.moment = "struck";
  found.push_back(std::move(f));
}

Json in_order(Found found) {
  for (Finding& f : found) {  // weighed by another reason than its figure, which the words give
    const bool within = f.share && *f.share <= 1;
    if (f.share && (f.weight == kFails ? within : f.weight == kNearLimit && !within))
      f.share.reset();
  }
  std::ranges::stable_sort(found, [](const Finding& a, const Finding& b) {
    return std::tuple(a.weight, -a.share.value_or(0)) < std::tuple(b.weight, -b.share.value_or(0));
  });
  Json list = Json::array();
  for (const Finding& f : found) list.push_back(finding_json(f));
  return {{"list", std::move(list)}};
}

Found found_of(const Dossier& dossier) {
  const Required required = asked_of(dossier);
  Found found;
  say_standing(dossier, required, found);
  say_joints(dossier, required, found);
  say_blocks(dossier, required, found);
  say_shape(dossier, found);
  const std::size_t before = found.size();
  say_ground(dossier, required, found);
  say_building(dossier, required, found);
  say_lifting(dossier, required, found);
  say_walk(dossier, required, found);
  say_built(dossier, required, found);
  for (std::size_t i = before; i < found.size(); ++i) found[i].of_whole = true;
  say_others(required, found);
  say_unlooked(dossier, found);
  return found;
}

Found found_so_far(const Dossier& dossier) {
  if (!dossier.cut || std::ranges::all_of(dossier.proofs, proved)) return found_of(dossier);
  Found found;
  say_on_its_way(dossier, found);
  std::ranges::move(found_of(proved_so_far(dossier)), std::back_inserter(found));
  return found;
}

/// What the newest has no sentence for may be mended since, unless only a whole run would say it.
void keep_older(const Dossier& older, int of, Found& found) {
  for (Finding& old : found_of(older)) {
    if (old.weight == kNotChecked) continue;
    const auto now = std::ranges::find(found, old.id, &Finding::id);
    if (now == found.end() ? !old.of_whole : now->weight != kNotChecked) continue;
    old.stale = of;
    if (now != found.end()) {
      *now = std::move(old);
    } else {
      found.push_back(std::move(old));
    }
  }
}

}  // namespace

Json findings(const Dossier& dossier) { return in_order(found_so_far(dossier)); }

Json findings(const AllKnown& known) {
  Json list = Json::array();
  for (const auto& [part, why] : known.failed) {
    Finding f{part, kFails};
    f.says = "The " + part + " did not come out: " + stopped(why);
    list.push_back(finding_json(f));
  }
  Found found;
  if (known.newest != nullptr) found = found_so_far(*known.newest);
  if (known.older != nullptr) keep_older(*known.older, known.older_of, found);
  const Json rest = in_order(std::move(found));
  for (const Json& f : rest.at("list")) list.push_back(f);
  return {{"list", std::move(list)}};
}

}  // namespace skewback::lodge
