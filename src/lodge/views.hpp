#pragma once
// What the page is shown of a dossier: pure, each view a sheaf (docs/lodge.md, "Views").

#include "deliver/deliver.hpp"
#include "lodge/sheaf.hpp"

namespace skewback::lodge {

/// None where the dossier does not hold what the view shows.
[[nodiscard]] std::optional<Sheaf> shape_view(const Dossier& dossier);
[[nodiscard]] std::optional<Sheaf> blocks_view(const Dossier& dossier);
/// Of the case `id`; empty: the first.
[[nodiscard]] std::optional<Sheaf> proof_view(const Dossier& dossier, const std::string& id);
/// Of any assembly and proof: what an answer to a question shows too.
[[nodiscard]] Sheaf proof_sheaf(const Assembly& assembly, const LoadCase& load,
                                const CaseProof& proof);
[[nodiscard]] std::optional<Sheaf> ground_view(const Dossier& dossier);
[[nodiscard]] std::optional<Sheaf> stages_view(const Dossier& dossier);
[[nodiscard]] std::optional<Sheaf> centring_view(const Dossier& dossier);
[[nodiscard]] std::optional<Sheaf> layers_view(const Dossier& dossier, const std::string& block);
[[nodiscard]] std::optional<Sheaf> survey_view(const Dossier& dossier);

/// Sentences, worst first, each with its place (docs/lodge.md, "Findings"); of whatever the dossier
/// holds so far.
[[nodiscard]] nlohmann::ordered_json findings(const Dossier& dossier);
struct AllKnown {
  const Dossier* newest = nullptr;
  const Dossier* older = nullptr;  // that went further, of revision `older_of`
  int older_of = 0;
  std::vector<std::pair<std::string, std::string>>
      failed;  // a part's name, why it did not come out
};
/// Of what is known together: where the newest was not looked at, what was said of the older stays,
/// marked with its revision; a part that did not come out has a sentence. Dossiers may be null.
[[nodiscard]] nlohmann::ordered_json findings(const AllKnown& known);

/// Force polygon of the node of the form nearest to a place in plan.
[[nodiscard]] std::optional<nlohmann::ordered_json> node_json(const Dossier& dossier,
                                                              const Vec2& at);

}  // namespace skewback::lodge
