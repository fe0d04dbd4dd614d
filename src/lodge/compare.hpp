#pragma once
// Two versions of a bridge laid one over the other, and what changed, in words.

#include <filesystem>

#include "deliver/deliver.hpp"
#include "lodge/sheaf.hpp"

namespace skewback::lodge {

struct Change {
  // "form", "body", "blocks", "joints", "verdicts", "checks", "strength", "ground", "printing",
  // "centring", "programme", "quantities", "not compared", "brief"
  std::string of;
  std::string says;                 // "the rise is 1.62 m, 0.07 m more"
  std::string kind = "none", id{};  // its place, as in the findings (docs/lodge.md), in `now`
  std::optional<Vec3> at{};
  std::string moment{};
};
/// From `before` to `now`, the weightiest first within each kind; keys of the brief that differ
/// come last. What differs by less than the last figure shown is not said; what only one of the
/// two holds is not compared, and that is said.
[[nodiscard]] std::vector<Change> changes(const Dossier& before, const Dossier& now);

/// [{"of","says","place","moment"}], places and moments as in the findings.
[[nodiscard]] nlohmann::ordered_json changes_json(const std::vector<Change>& list);

/// `before`'s blocks as in blocks_view, to be laid over `now`; head also `with` (its file),
/// `changes` (from `before` to `now`) and `back` (from `now` to `before`: places in `before`).
[[nodiscard]] std::optional<Sheaf> compare_view(const Dossier& before, const Dossier& now);

/// Briefs that `open` can be compared with: files "*.toml" of the folder with a plan in
/// them, by name, without it.
[[nodiscard]] std::vector<std::string> briefs_beside(const std::filesystem::path& folder,
                                                     const std::string& open);

}  // namespace skewback::lodge
