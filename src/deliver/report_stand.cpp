#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

/// Share of the joints' depth that a case needs, in %: "13.2", "≤ 18.5", "> 100".
std::string depth_words(const Dossier& dossier, std::size_t i) {
  if (!dossier.depth_needed || i >= dossier.depth_needed->cases.size()) return "";
  const DepthNeed& need = dossier.depth_needed->cases[i];
  if (!need.share) return "> 100";
  return (need.at_most ? "≤ " : "") + fixed(100 * *need.share, 1);
}

std::string least_depth(const Dossier& dossier) {
  const DepthNeeds& needs = *dossier.depth_needed;
  std::string text = "Least depth, one shape for all cases: ";
  const std::string with =
      " with the live load times " + fixed(needs.live_factor, 2) + " on dead load as it is";
  if (!needs.share) {
    text += "the full depth of the joints does not hold";
    for (std::size_t k = 0; k < needs.unheld.size(); ++k) {
      text += (k > 0 ? ", " : " ") + needs.cases[static_cast<std::size_t>(needs.unheld[k])].id;
    }
    return text + with + ".";
  }
  text += fixed(100 * *needs.share, 1) + " % of every joint's depth holds them all" + with;
  if (needs.governing < 0) return text + ", and less was not tried.";
  const DepthNeed& need = needs.cases[static_cast<std::size_t>(needs.governing)];
  text += "; " + need.id + " needs it";
  if (need.joint >= 0) {
    text += ", most of all at " + joint_name(dossier.cut->assembly, need.joint) + ", where it is " +
            fixed(1000 * needs.joint_depth_m[static_cast<std::size_t>(need.joint)], 0) + " mm";
  }
  return text + ". The blocks keep their weight, and their strength is not looked at.";
}

std::string mpa(const std::optional<double>& pascal) {
  return pascal ? fixed(*pascal / 1e6, 2) : "";
}

}  // namespace

void add_verdicts(Pages& pages, const Dossier& dossier, const Outlines& outlines) {
  pages.new_page();
  pages.heading("Does it stand?");
  pages.paragraph(
      "Each case is dead load as it is, with the live load of the case grown until no set of "
      "contact forces within friction holds every block. \"Limit only\": the verdict rests on that "
      "view alone, which takes friction as associated. The evidence file of a case holds the "
      "forces "
      "or the mechanism it rests on; the command skewback verify checks it again by other code.");
  const auto paths = evidence_paths(dossier.proofs, "evidence");
  const std::size_t folder = std::string("evidence/").size();
  std::vector<Row> rows;
  for (const std::size_t i : worst_first(dossier.proofs)) {
    const CaseProof& proof = dossier.proofs[i];
    const std::string joint =
        dossier.cut ? joint_name(dossier.cut->assembly, proof.governing_joint) : "";
    rows.push_back(
        {{proof.id, verdict_words(proof), factor_words(proof), scientific(proof.residual_rel),
          mpa(proof.joint_stress_max_pa), joint, depth_words(dossier, i), paths[i].substr(folder)},
         verdict_tint(proof.verdict)});
  }
  pages.table({{"case", 1.7},
               {"verdict", 1.8},
               {"live factor", 1.45, true},
               {"residual", 1.05, true},
               {"peak joint (MPa)", 1.0, true},
               {"at joint", 1.85},
               {"depth needed (%)", 0.95, true},
               {"file in evidence/", 1.9}},
              rows);
  if (dossier.depth_needed && dossier.cut) pages.paragraph(least_depth(dossier));
  for (const std::size_t i : worst_first(dossier.proofs)) {
    const CaseProof& proof = dossier.proofs[i];
    if (!proof.reason.empty()) pages.bullet(proof.id + ": " + proof.reason);
  }
  if (dossier.cut && !dossier.dead_resultants.empty()) {
    const Sheet thrust = thrust_sheet(dossier, outlines, {pages.width_mm(), 225});
    pages.keep(thrust.height_mm + 18);
    pages.subheading("Where the thrust runs");
    pages.figure(thrust, "");
  }
}

}  // namespace skewback::deliver
