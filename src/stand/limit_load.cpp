#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "stand/facets.hpp"
#include "stand/stand.hpp"

namespace skewback {

namespace {

constexpr int kRays = 8;

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

/// Verdict on weight alone that needs support inside the cone.
void judge_fall(const LimitTask& q, const Program& program, const Balance& dead, Sought sought,
                CaseProof& proof) {
  const double factor = q.load.has_live() ? 0.0 : 1.0;
  auto mechanism = mechanism_from(q, program, dead, factor);
  if (!mechanism && sought == Sought::kBothSides) {
    mechanism = mechanism_from(
        q, program, faceted_support(program, Facets::kOuter, kRays, q.options.tolerance), factor);
  }
  if (mechanism) {
    proof.verdict = Verdict::kFalls;
    proof.evidence = *mechanism;
    proof.reason = "does not stand under its own weight: " + in_words(q.assembly, *mechanism);
    if (q.load.has_live()) proof.load_factor = 0;
    return;
  }
  proof.reason = "at the limit: own weight not balanced to the last digits (least added support " +
                 number(dead.support) + " mean block weights), and no mechanism that holds";
  if (!dead.trouble.empty()) proof.reason += "; solver: " + dead.trouble;
}

/// forces = (1 - t) a + t b, both over the same contacts.
Forces between(const Forces& a, const Forces& b, double t) {
  Forces f = b;
  f.load_factor = (1 - t) * a.load_factor + t * b.load_factor;
  for (std::size_t i = 0; i < f.contacts.size(); ++i) {
    f.contacts[i].force = (1 - t) * a.contacts[i].force + t * b.contacts[i].force;
  }
  for (std::size_t i = 0; i < f.props.size(); ++i) {
    f.props[i].force = (1 - t) * a.props[i].force + t * b.props[i].force;
  }
  return f;
}

void note_stress(const Assembly& assembly, const Forces& forces, CaseProof& proof) {
  const std::vector<JointResultant> joints = joint_resultants(assembly, forces);
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const auto& peak = joints[j].peak_pressure_pa;
    if (!peak || (proof.joint_stress_max_pa && *peak <= *proof.joint_stress_max_pa)) continue;
    proof.joint_stress_max_pa = *peak;
    proof.governing_joint = static_cast<int>(j);
  }
}

/// The upper side of the load factor: the dual where it holds, else that of cones faceted outside.
std::optional<Mechanism> upper_side(const LimitTask& q, const Program& program,
                                    const Balance& limit, Sought sought) {
  if (auto m = mechanism_from(q, program, limit, std::nullopt)) return m;
  if (sought != Sought::kBothSides) return std::nullopt;
  const double reach = 2 * q.options.load_factor_cap;
  return mechanism_from(q, program,
                        faceted_factor(program, Facets::kOuter, kRays, reach, q.options.tolerance),
                        std::nullopt);
}

void judge_live(const LimitTask& q, const Program& program, const Balance& dead, Sought sought,
                CaseProof& proof) {
  const double cap = q.options.load_factor_cap;
  const Balance limit = largest_factor(program, dead.f, cap, q.options.tolerance, sought);
  if (!limit.found) {
    proof.reason = "stands under its own weight; no load factor found" +
                   (limit.trouble.empty() ? std::string() : ": " + limit.trouble);
    return;
  }
  proof.load_factor = limit.factor;
  proof.at_cap = limit.factor >= cap * (1 - 1e-6);
  if (!proof.at_cap) proof.limit_mechanism = upper_side(q, program, limit, sought);

  const Forces reached = forces_of(program, limit.f, limit.factor);
  proof.residual_rel = residual_of(q.assembly, q.load, q.options, reached, program.length_unit);
  proof.evidence = reached;
  if (limit.factor >= 1) {
    proof.verdict = Verdict::kStands;
    note_stress(q.assembly, between(forces_of(program, dead.f, 0), reached, 1 / limit.factor),
                proof);
    return;
  }
  if (proof.limit_mechanism && proof.limit_mechanism->load_factor <= 1) {
    proof.verdict = Verdict::kFalls;
    proof.evidence = *proof.limit_mechanism;
    proof.reason = "carries " + number(limit.factor) +
                   " of the live load: " + in_words(q.assembly, *proof.limit_mechanism);
    return;
  }
  proof.reason = "load factor at least " + number(limit.factor);
  proof.reason +=
      proof.limit_mechanism
          ? ", at most " + number(proof.limit_mechanism->load_factor) + ": 1 lies between"
          : "; no mechanism found for the upper side";
}

/// What all cases under one gravity share.
struct WeightState {
  Program program;  // its live load is that of the case it was made for
  Balance dead;
};

WeightState weight_state(const Assembly& assembly, const LoadCase& load,
                         const StandOptions& options, const Graph* graph = nullptr) {
  WeightState state;
  state.program = build(assembly, load, options, graph);
  state.dead = balance_weight(state.program, options.tolerance);
  return state;
}

CaseProof judge(const LimitTask& q, WeightState state, Sought sought) {
  CaseProof proof;
  proof.id = q.load.id;
  proof.views = {"limit"};
  if (!state.dead.found) {
    judge_fall(q, state.program, state.dead, sought, proof);
    return proof;
  }
  Program& program = state.program;
  put_live(q.assembly, q.load, program);
  if (q.load.has_live()) {
    judge_live(q, program, state.dead, sought, proof);
    return proof;
  }
  const Forces forces = forces_of(program, state.dead.f, 1);
  proof.verdict = Verdict::kStands;
  proof.residual_rel = residual_of(q.assembly, q.load, q.options, forces, program.length_unit);
  proof.evidence = forces;
  note_stress(q.assembly, forces, proof);
  return proof;
}

std::vector<CaseProof> judge_all(const Assembly& assembly, const StandOptions& options,
                                 const Progress& progress, Sought sought) {
  // Cases under the same gravity share the state under weight alone.
  std::vector<std::size_t> first(assembly.cases.size()), leaders;
  for (std::size_t i = 0; i < first.size(); ++i) {
    const auto same = std::find_if(leaders.begin(), leaders.end(), [&](std::size_t j) {
      return assembly.cases[j].gravity == assembly.cases[i].gravity;
    });
    first[i] = static_cast<std::size_t>(same - leaders.begin());
    if (same == leaders.end()) leaders.push_back(i);
  }
  std::vector<WeightState> states(leaders.size());
  if (leaders.empty()) return {};
  const Graph graph = build(assembly, assembly.cases[0], options).graph;
  for_each_index(leaders.size(), [&](std::size_t i) {
    states[i] = weight_state(assembly, assembly.cases[leaders[i]], options, &graph);
  });
  std::vector<CaseProof> proofs(assembly.cases.size());
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    proofs[i] = judge({assembly, assembly.cases[i], options}, states[first[i]], sought);
    progress.checkpoint("stand", static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
  return proofs;
}

}  // namespace

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::kStands:
      return "stands";
    case Verdict::kFalls:
      return "falls";
    case Verdict::kUndecided:
      break;
  }
  return "undecided";
}

CaseProof limit_load(const Assembly& assembly, const LoadCase& load, const StandOptions& options) {
  return judge({assembly, load, options}, weight_state(assembly, load, options),
               Sought::kBothSides);
}

CaseProof limit_quickly(const Assembly& assembly, const LoadCase& load,
                        const StandOptions& options) {
  return judge({assembly, load, options}, weight_state(assembly, load, options), Sought::kQuickly);
}

std::vector<CaseProof> limit_loads(const Assembly& assembly, const StandOptions& options,
                                   const Progress& progress) {
  return judge_all(assembly, options, progress, Sought::kBothSides);
}

std::vector<CaseProof> limit_forces(const Assembly& assembly, const StandOptions& options,
                                    const Progress& progress) {
  return judge_all(assembly, options, progress, Sought::kForces);
}

}  // namespace skewback
