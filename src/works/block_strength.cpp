#include "works/block_strength.hpp"

#include <atomic>
#include <cstdio>

#include "base/parallel.hpp"

namespace skewback {
namespace {

std::string times(double factor) {
  char text[32];
  std::snprintf(text, sizeof text, " x %.3g", factor);
  return text;
}

/// People times their factor on weight as it is. The state of the pads has the factor in it.
LoadCase factored(const LoadCase& pattern, double factor) {
  LoadCase load = pattern;
  if (!load.has_live()) return load;
  load.id += times(factor);
  for (LiveForce& live : load.live) live.force *= factor;
  load.live_acceleration *= factor;
  return load;
}

}  // namespace

void check_strength(Dossier& dossier, const Progress& progress) {
  const double people = dossier.brief.factors.people;
  Assembly design = dossier.cut->assembly;
  std::vector<CaseProof> proofs(design.cases.size());
  std::vector<DesignCase> cases(design.cases.size());
  const PadModel model(design, dossier.stand_options);
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    LoadCase& load = design.cases[i];
    const CaseNote& note = dossier.notes[i];
    const CaseProof& known = dossier.proofs[i];
    cases[i].proof = i;
    cases[i].dead_gamma = note.dead_factor;
    cases[i].live_gamma = people;
    if (note.kind == CaseKind::kPattern && load.has_live() && known.verdict == Verdict::kStands) {
      load = factored(load, people);
      proofs[i].pads = model.solve(load, {});
    } else {
      proofs[i].pads = known.pads;
    }
    proofs[i].id = load.id;
    proofs[i].verdict = known.verdict;
    progress.checkpoint("strength",
                        static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
  dossier.strength = check_blocks(dossier.brief, design, proofs, cases, progress);
}

}  // namespace skewback
