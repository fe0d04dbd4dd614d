#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <memory>

#include "base/parallel.hpp"
#include "stand/friction_trial.hpp"
#include "stand/joint_movement.hpp"
#include "stand/motion_view.hpp"
#include "stand/pad_path.hpp"
#include "stand/prove_steps.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

double block_size(const Assembly& assembly) {
  double volume = 0;
  int count = 0;
  for (const Block& block : assembly.blocks) {
    if (block.fixed) continue;
    volume += block.mass.volume;
    ++count;
  }
  return count > 0 ? std::cbrt(volume / count) : 0;
}

void add_second_view(const Assembly& assembly, const LoadCase& load, const PadModel& model,
                     const PadOptions& pads, CaseProof& proof) {
  if (proof.verdict != Verdict::kStands) return;
  join_views(assembly, state_at_once_or_in_steps(model, load, pads), proof);
  judge_far_moves(assembly, load, model, pads, proof);
  if (proof.limit_mechanism && proof.verdict == Verdict::kStands &&
      slides(assembly, *proof.limit_mechanism)) {
    const double most = std::min(*proof.load_factor, pads.factor_cap);
    proof.pads_load_factor = pads_factor(model, load, pads, 1, most);
    proof.pads_at_cap = most < *proof.load_factor && *proof.pads_load_factor >= most;
  }
}

double factor_for_friction(const LoadCase& load) { return load.has_live() ? 1.0 : 0.0; }

/// Of a case that view 1 lets stand: only those have a second view.
void add_friction(const LimitTask& task, const Graph* graph, CaseProof& proof) {
  constexpr double kNear = 1e-3, kMost = 2;
  if (!proof.pads) return;
  proof.friction_needed =
      least_friction_on(graph, task, factor_for_friction(task.load), kNear, kMost);
}

}  // namespace

void judge_far_moves(const Assembly& assembly, const LoadCase& load, const PadModel& model,
                     PadOptions pads, CaseProof& proof) {
  constexpr double kFar = 0.05;  // of the mean size of a block
  if (proof.verdict != Verdict::kStands || !proof.pads || !proof.pads->found || pads.moved_shape)
    return;
  const double moves = proof.pads->move_max_m;
  if (moves <= kFar * block_size(assembly)) return;
  pads.moved_shape = true;
  const PadState moved = model.solve(load, pads);
  proof.flattening = moved.flattening;
  if (moved.found) return;
  char text[32];
  std::snprintf(text, sizeof text, "%.0f mm", 1e3 * moves);
  proof.verdict = Verdict::kUndecided;
  proof.reason = "it moves by " + std::string(text) +
                 " on its pads, and on the shape so moved there is no state: " + moved.reason;
}

double pads_factor(const PadModel& model, const LoadCase& load, PadOptions pads, double holds,
                   double most, double near) {
  double fails = most;
  double next = most;  // most often all of it
  while (next > holds) {
    pads.load_factor = next;
    (model.solve(load, pads).found ? holds : fails) = next;
    if (fails - holds <= near * fails) break;
    next = (holds + fails) / 2;
  }
  return holds;
}

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
  add_second_view(assembly, load, PadModel(assembly, options, pads), pads, proof);
  add_friction({assembly, load, options}, nullptr, proof);
  add_third_view(assembly, load, options, pads, proof);
  return proof;
}

std::vector<CaseProof> prove_without_friction(const Assembly& assembly, const StandOptions& options,
                                              const Progress& progress, const PadOptions& pads) {
  std::vector<CaseProof> proofs = limit_loads(assembly, options, progress);
  if (proofs.empty()) return proofs;
  const PadModel model(assembly, options, pads);
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    add_second_view(assembly, assembly.cases[i], model, pads, proofs[i]);
    progress.checkpoint("stand: pads",
                        static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
  return proofs;
}

void find_friction(const Assembly& assembly, const StandOptions& options, const Progress& progress,
                   std::vector<CaseProof>& proofs) {
  if (proofs.empty()) return;
  const Graph graph = build(assembly, assembly.cases[0], options).graph;
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    add_friction({assembly, assembly.cases[i], options}, &graph, proofs[i]);
    progress.checkpoint("stand: friction",
                        static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
}

void find_most_friction(const Assembly& assembly, const StandOptions& options,
                        const Progress& progress, std::vector<CaseProof>& proofs) {
  std::vector<std::size_t> left;
  for (std::size_t i = 0; i < proofs.size(); ++i)
    if (proofs[i].pads) left.push_back(i);
  if (left.empty()) return;
  const auto factor = [&](std::size_t i) { return proofs[i].load_factor.value_or(1e300); };
  std::ranges::stable_sort(left, {}, factor);
  const Graph graph = build(assembly, assembly.cases[0], options).graph;
  const double all = static_cast<double>(left.size());
  while (!left.empty()) {
    progress.checkpoint("stand: friction", 1 - static_cast<double>(left.size()) / all);
    CaseProof& proof = proofs[left.front()];
    add_friction({assembly, assembly.cases[left.front()], options}, &graph, proof);
    left.erase(left.begin());
    if (!proof.friction_needed) continue;
    std::vector<char> less(left.size(), 0);
    for_each_index(left.size(), [&](std::size_t k) {
      const LoadCase& load = assembly.cases[left[k]];
      progress.checkpoint("stand: friction", 1 - static_cast<double>(left.size()) / all);
      less[k] = friction_does(&graph, {assembly, load, options}, factor_for_friction(load),
                              *proof.friction_needed)
                    ? 1
                    : 0;
    });
    std::size_t kept = 0;
    for (std::size_t k = 0; k < left.size(); ++k)
      if (less[k] == 0) left[kept++] = left[k];
    left.resize(kept);
  }
}

void let_go_all(const Assembly& assembly, const StandOptions& options, const Progress& progress,
                const PadOptions& pads, std::vector<CaseProof>& proofs) {
  if (options.third_view == ThirdView::kNever) return;
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    add_third_view(assembly, assembly.cases[i], options, pads, proofs[i]);
    progress.checkpoint("stand: motion",
                        static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
}

std::vector<CaseProof> prove_all(const Assembly& assembly, const StandOptions& options,
                                 const Progress& progress, const PadOptions& pads) {
  std::vector<CaseProof> proofs = prove_without_friction(assembly, options, progress, pads);
  find_friction(assembly, options, progress, proofs);
  let_go_all(assembly, options, progress, pads, proofs);
  return proofs;
}

}  // namespace skewback
