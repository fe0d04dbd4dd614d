#pragma once
// The report: what was asked, what was found, what was not looked at. Worst first.

#include <string>

#include "deliver/elevations.hpp"
#include "deliver/pages.hpp"

namespace skewback::deliver {

struct Count {
  std::size_t stands = 0, undecided = 0, falls = 0;
};
[[nodiscard]] Count count(const std::vector<CaseProof>& proofs);

/// "stands (limit only)": the verdict with the views it rests on.
[[nodiscard]] std::string verdict_words(const CaseProof& proof);
/// "3.21", "at least 20.0", "none" where nothing is multiplied.
[[nodiscard]] std::string factor_words(const CaseProof& proof);
[[nodiscard]] std::optional<Colour> verdict_tint(Verdict verdict);

[[nodiscard]] std::vector<std::string> cautions();
/// How many cases stand, and which to look at first.
[[nodiscard]] std::string what_was_found(const Dossier& dossier);
/// What went wrong outside the load cases, to be read on the first page.
[[nodiscard]] std::vector<std::string> troubles(const Dossier& dossier);
/// What no stage of this run looked at, one line each.
[[nodiscard]] std::vector<std::string> not_looked_at(const Dossier& dossier);

// The parts, in order.
void add_front(Pages& pages, const Dossier& dossier, const Image& picture);
void add_brief(Pages& pages, const Dossier& dossier);
void add_form(Pages& pages, const Dossier& dossier);
void add_blocks(Pages& pages, const Dossier& dossier, const Outlines& outlines);
void add_verdicts(Pages& pages, const Dossier& dossier, const Outlines& outlines);
void add_combinations(Pages& pages, const Dossier& dossier);
void add_envelopes(Pages& pages, const Dossier& dossier);
void add_states(Pages& pages, const Dossier& dossier);
void add_ground(Pages& pages, const Dossier& dossier);
void add_service(Pages& pages, const Dossier& dossier);
void add_quantities(Pages& pages, const Dossier& dossier);
/// What to look for while building; feet on jacks and on wedges ask for different things.
[[nodiscard]] std::vector<std::string> watch_words(const Dossier& dossier);
/// Where the crown comes up on the way down, and steps that no eye sets; empty: neither.
[[nodiscard]] std::string lowering_words(const CentringRequest& ask,
                                         const std::vector<const Stage*>& stages);
void add_work(Pages& pages, const Dossier& dossier, const Outlines& outlines);
void add_limits(Pages& pages, const Dossier& dossier);

[[nodiscard]] std::string report_pdf(const Dossier& dossier, const Outlines& outlines,
                                     const Image& picture);

}  // namespace skewback::deliver
