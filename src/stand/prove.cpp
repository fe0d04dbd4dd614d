#include <algorithm>
#include <atomic>
#include <memory>

#include "base/parallel.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

void add_second_view(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                     const PadModel& model, const PadOptions& pads, CaseProof& proof) {
  if (proof.verdict != Verdict::kStands) return;
  proof.friction_needed = least_friction(assembly, load, load.has_live() ? 1.0 : 0.0, options);
  join_views(assembly, model.solve(load, pads), proof);
}

}  // namespace

void join_views(const Assembly&, PadState pads, CaseProof& proof) {
  proof.pads = std::move(pads);
  if (proof.verdict == Verdict::kFalls) return;
  if (!proof.pads->found) {
    if (proof.verdict != Verdict::kStands) return;
    proof.verdict = Verdict::kUndecided;
    proof.reason =
        "some set of forces balances it, but no state of the pads was found: " + proof.pads->reason;
    return;
  }
  proof.views = {"limit", "pads"};
  proof.joint_stress_max_pa = proof.pads->peak_pa;
  proof.governing_joint = proof.pads->peak_joint;
}

CaseProof prove(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                const PadOptions& pads) {
  CaseProof proof = limit_load(assembly, load, options);
  add_second_view(assembly, load, options, PadModel(assembly, options, pads), pads, proof);
  return proof;
}

std::vector<CaseProof> prove_all(const Assembly& assembly, const StandOptions& options,
                                 const Progress& progress, const PadOptions& pads) {
  std::vector<CaseProof> proofs = limit_loads(assembly, options, progress);
  if (proofs.empty()) return proofs;
  const PadModel model(assembly, options, pads);
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    add_second_view(assembly, assembly.cases[i], options, model, pads, proofs[i]);
    progress.checkpoint("stand: pads",
                        static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
  return proofs;
}

}  // namespace skewback
