#include "lodge/shelf.hpp"

#include <algorithm>
#include <ranges>

#include "base/sha256.hpp"
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

nlohmann::ordered_json Shelf::findings() const {
  AllKnown known;
  for (const auto& [part, name] :
       {std::pair{Part::kShape, "shape"}, std::pair{Part::kBlocks, "blocks"},
        std::pair{Part::kProof, "proof"}, std::pair{Part::kWhole, "whole"}}) {
    const Known one = source_.known(part);
    // what comes after a part that failed has its reason
    const bool said = !known.failed.empty() && known.failed.back().second == one.failed;
    if (!one.failed.empty() && !one.let_go && !said) known.failed.emplace_back(name, one.failed);
  }
  std::vector<Picked> all = newest_first(source_);
  std::ranges::stable_sort(all, std::greater{},
                           [](const Picked& p) { return !p.dossier->proofs.empty(); });
  Picked newest;
  if (!all.empty()) newest = all.front();
  known.newest = newest.dossier.get();
  const auto older = std::ranges::find_if(
      all, [&](const Picked& p) { return p.dossier->ground && p.of < newest.of; });
  if (older != all.end()) {
    known.older = older->dossier.get();
    known.older_of = older->of;
  }
  nlohmann::ordered_json of = nullptr;
  if (newest.of > 0) of = newest.of;
  return {
      {"of", std::move(of)}, {"fresh", newest.fresh}, {"list", lodge::findings(known).at("list")}};
}

std::optional<nlohmann::ordered_json> Shelf::node(const Vec2& at) const {
  for (const Picked& picked : newest_first(source_))
    if (auto found = node_json(*picked.dossier, at)) return headed("node", picked, *found);
  return std::nullopt;
}

}  // namespace skewback::lodge
