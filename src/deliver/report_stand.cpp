#include "deliver/drawings.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string joint_name(const Assembly& assembly, int joint) {
  if (joint < 0 || static_cast<std::size_t>(joint) >= assembly.joints.size()) return "";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  const auto id = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].id; };
  return j.a < 0 || j.b < 0 ? "" : id(j.a) + " | " + id(j.b);
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
          mpa(proof.joint_stress_max_pa), joint, paths[i].substr(folder)},
         verdict_tint(proof.verdict)});
  }
  pages.table({{"case", 1.7},
               {"verdict", 1.8},
               {"live factor", 1.45, true},
               {"residual", 1.05, true},
               {"peak joint (MPa)", 1.0, true},
               {"at joint", 1.9},
               {"file in evidence/", 1.9}},
              rows);
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
