#include "lodge/shelf.hpp"

#include <algorithm>
#include <ranges>

#include "base/sha256.hpp"
#include "lodge/finding.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

using Query = std::map<std::string, std::string>;

std::string value_of(const Query& query, const std::string& name) {
  const auto found = query.find(name);
  return found == query.end() ? "" : found->second;
}

// The one word that tells two sheaves of a view apart.
std::string detail(const std::string& name, const Query& query) {
  return name == "proof"    ? value_of(query, "case")
         : name == "layers" ? value_of(query, "block")
                            : "";
}

std::optional<Sheaf> make(const std::string& name, const std::string& of, const Dossier& dossier) {
  if (name == "shape") return shape_view(dossier);
  if (name == "blocks") return blocks_view(dossier);
  if (name == "proof") return proof_view(dossier, of);
  if (name == "ground") return ground_view(dossier);
  if (name == "stages") return stages_view(dossier);
  if (name == "centring") return centring_view(dossier);
  if (name == "layers") return layers_view(dossier, of);
  if (name == "survey") return survey_view(dossier);
  return std::nullopt;
}

}  // namespace

Source source_of(const Desk& desk) {
  return {[&desk](Part part) { return desk.known(part); }, [&desk] { return desk.revision(); }};
}

std::vector<Picked> newest_first(const Source& source) {
  std::vector<Picked> all;
  for (const Part part : {Part::kWhole, Part::kProof, Part::kBlocks, Part::kShape}) {
    const Known known = source.known(part);
    if (known.of <= 0 || !known.dossier) continue;
    all.push_back({known.of, known.draft.empty() && known.failed.empty(), known.dossier});
  }
  const int revision = source.revision();
  for (Picked& picked : all) picked.fresh = picked.fresh && picked.of == revision;
  std::ranges::stable_sort(all, std::greater{}, &Picked::of);
  return all;
}

nlohmann::ordered_json headed(const std::string& name, const Picked& picked,
                              const nlohmann::ordered_json& head) {
  nlohmann::ordered_json all = {{"view", name}, {"of", picked.of}, {"fresh", picked.fresh}};
  for (const auto& [key, value] : head.items())
    if (!all.contains(key)) all[key] = value;
  return all;
}

std::optional<Shown> Shelf::kept(const std::string& name, const Picked& picked) {
  const std::lock_guard guard(lock_);
  for (const Kept& one : kept_)
    if (one.name == name && one.picked.dossier == picked.dossier && one.picked.of == picked.of &&
        one.picked.fresh == picked.fresh)
      return one.shown;
  return std::nullopt;
}

std::optional<Shown> Shelf::view(const std::string& name, const Query& query) {
  const std::string of = detail(name, query), full = name + "?" + of;
  for (const Picked& picked : newest_first(source_)) {
    if (auto shown = kept(full, picked)) return shown;
    std::optional<Sheaf> sheaf = make(name, of, *picked.dossier);
    if (!sheaf) continue;
    sheaf->head = headed(name, picked, sheaf->head);
    Shown shown{sheaf->bytes(), ""};
    shown.tag = "\"" + std::to_string(picked.of) + "-" + name + "-" +
                sha256(shown.bytes).substr(0, 16) + "\"";
    const std::lock_guard guard(lock_);
    kept_.push_front({full, picked, shown});
    if (kept_.size() > kKeepMost) kept_.pop_back();
    return shown;
  }
  return std::nullopt;
}

namespace {

using List = nlohmann::ordered_json;

List list_of(const Picked& picked) {
  const List found = lodge::findings(*picked.dossier);
  return found.is_object() && found.contains("list") ? found.at("list") : found;
}

List* named(List& list, const std::string& id) {
  const auto at = std::ranges::find(list, id, [](const List& f) { return f.value("id", ""); });
  return at == list.end() ? nullptr : &*at;
}

/// What an older dossier was looked at for and the newest not yet stays, marked with its revision.
void keep_older(const Picked& older, List& list) {
  for (List& old : list_of(older)) {
    if (old.value("weight", kNotChecked) == kNotChecked) continue;
    List* now = named(list, old.value("id", ""));
    if (now != nullptr && now->value("weight", kNotChecked) != kNotChecked) continue;
    old["stale"] = older.of;
    now != nullptr ? void(*now = std::move(old)) : list.push_back(std::move(old));
  }
}

/// Worst first, as within one dossier.
void put_in_order(List& list) {
  std::vector<List> all(list.begin(), list.end());
  std::ranges::stable_sort(all, {}, [](const List& f) { return f.value("weight", 0); });
  list = all;
}

/// A sentence for each part that did not come out: why, where it was not merely stopped.
List not_come_out(const Source& source) {
  List all = List::array();
  std::string said;
  for (const auto& [part, name] :
       {std::pair{Part::kShape, "shape"}, std::pair{Part::kBlocks, "blocks"},
        std::pair{Part::kProof, "proof"}, std::pair{Part::kWhole, "whole"}}) {
    const std::string why = source.known(part).failed;
    // what comes after a part that failed has its reason
    if (why.empty() || why == "stopped" || why == said) continue;
    said = why;
    Finding f{name, kFails};
    f.says = std::string("The ") + name + " did not come out: " + stopped(why);
    f.place = nowhere();
    all.push_back(List{{"id", f.id},
                       {"weight", static_cast<int>(f.weight)},
                       {"share", nullptr},
                       {"says", f.says},
                       {"place", f.place},
                       {"moment", f.moment}});
  }
  return all;
}

}  // namespace

nlohmann::ordered_json Shelf::findings() const {
  std::vector<Picked> all = newest_first(source_);
  std::ranges::stable_sort(all, std::greater{},
                           [](const Picked& p) { return !p.dossier->proofs.empty(); });
  List list = not_come_out(source_);
  if (all.empty()) return {{"of", nullptr}, {"fresh", false}, {"list", std::move(list)}};
  for (List& f : list_of(all.front())) list.push_back(std::move(f));
  const Picked* whole = nullptr;
  for (const Picked& picked : all)
    if (picked.dossier->ground && picked.of < all.front().of && whole == nullptr) whole = &picked;
  if (whole != nullptr) keep_older(*whole, list);
  put_in_order(list);
  return {{"of", all.front().of}, {"fresh", all.front().fresh}, {"list", std::move(list)}};
}

std::optional<nlohmann::ordered_json> Shelf::node(const Vec2& at) const {
  for (const Picked& picked : newest_first(source_))
    if (auto found = node_json(*picked.dossier, at)) return headed("node", picked, *found);
  return std::nullopt;
}

}  // namespace skewback::lodge
