#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "stand/mechanism.hpp"
#include "stand/polish.hpp"
#include "stand/program.hpp"
#include "stand/stand.hpp"

namespace skewback {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kResidualLimit = 1e-9;  // equilibrium, of the mean block weight
constexpr double kWorkMargin = 1e-6;     // relative: what a mechanism must beat rounding by

struct Question {
  const Assembly& assembly;
  const LoadCase& load;
  const StandOptions& options;
};

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

VectorX joined(const VectorX& a, const VectorX& b) {
  VectorX c(a.size() + b.size());
  c << a, b;
  return c;
}

SparseMatrix with_columns(const SparseMatrix& A, const SparseMatrix& B) {
  SparseMatrix C(A.rows(), A.cols() + B.cols());
  C.leftCols(A.cols()) = A;
  C.rightCols(B.cols()) = B;
  return C;
}

struct Balance {
  bool found = false;   // forces that balance to the last digits
  VectorX x;            // multipliers
  VectorX rows;         // dual, as velocities
  double factor = 0;    // load factor
  double support = 0;   // least added support, mean block weights
  std::string trouble;  // solver's words, when it gave none
};

/// Least force and moment that must be added to hold the blocks under their weight. Always
/// feasible.
Balance least_support(const Program& p, double tolerance) {
  const Eigen::Index m = p.A.rows(), n = p.A.cols();
  SparseMatrix I(m, m);
  I.setIdentity();
  LinearProgram lp;
  lp.A = with_columns(p.A, with_columns(I, -I));
  lp.b = -p.weight;
  lp.c = joined(VectorX::Zero(n), VectorX::Ones(2 * m));
  lp.lower = VectorX::Zero(n + 2 * m);
  lp.upper = VectorX::Constant(n + 2 * m, kInfinity);
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.support = s.objective;
  balance.x = s.x.head(n);
  balance.rows = -s.y;
  VectorX polished = balance.x;
  if (s.objective <= 1e-5 * static_cast<double>(p.blocks.size()) &&
      polish_forces(p.A, lp.b, polished) <= kResidualLimit) {
    balance.found = true;
    balance.x = polished;
  }
  return balance;
}

/// Puts the equilibrium right at the factor reached; pulls back towards the dead-load state by as
/// little as makes that possible.
void settle(const Program& p, const VectorX& dead, double cap, Balance& balance) {
  const Eigen::Index n = p.A.cols();
  const SparseMatrix live = p.live.sparseView();
  const VectorX x = balance.x;
  const double factor = balance.factor;
  for (const double back : {0.0, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6}) {
    VectorX all = joined((1 - back) * x + back * dead, VectorX::Constant(1, (1 - back) * factor));
    const bool capped = factor >= cap * (1 - 1e-7);
    if (capped) all[n] = (1 - back) * cap;
    const VectorX rhs = capped ? VectorX(-p.weight - all[n] * p.live) : VectorX(-p.weight);
    VectorX part = capped ? VectorX(all.head(n)) : all;
    const SparseMatrix A = capped ? p.A : with_columns(p.A, live);
    if (polish_forces(A, rhs, part) > kResidualLimit) continue;
    balance.found = true;
    balance.x = part.head(n);
    balance.factor = capped ? all[n] : part[n];
    return;
  }
}

/// Largest load factor up to the cap. `dead`: multipliers that balance the weight alone.
Balance largest_factor(const Program& p, double cap, double tolerance) {
  const Eigen::Index n = p.A.cols();
  LinearProgram lp;
  lp.A = with_columns(p.A, p.live.sparseView());
  lp.b = -p.weight;
  lp.c = joined(VectorX::Zero(n), VectorX::Constant(1, -1));
  lp.lower = VectorX::Zero(n + 1);
  lp.upper = joined(VectorX::Constant(n, kInfinity), VectorX::Constant(1, cap));
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.x = s.x.head(n);
  balance.factor = s.x[n];
  balance.rows = -s.y;
  return balance;
}

/// The mechanism in dual rows, if it holds for the true Coulomb cone. `at`: the load factor it must
/// prove; without one, the least that it does prove. None where the check fails.
std::optional<Mechanism> mechanism_from(const Question& q, const Program& p, const Balance& balance,
                                        std::optional<double> at) {
  if (balance.rows.size() == 0) return std::nullopt;
  const std::vector<Contact> everywhere = contacts_of(q.assembly, q.options);
  for (const bool polished : {true, false}) {
    const VectorX rows = polished ? polish_mechanism(p.A, balance.x, balance.rows) : balance.rows;
    Mechanism m;
    m.blocks = velocities_of(q.assembly, p, rows);
    if (!admissible(everywhere, m.blocks)) continue;
    const Power power = power_of(q.assembly, q.load, q.options, m.blocks);
    if (at) {
      m.load_factor = *at;
    } else {
      if (power.live <= 0) continue;
      const double balance_at = -power.weight / power.live;
      m.load_factor = balance_at + kWorkMargin * std::max(std::abs(balance_at), kWorkMargin);
    }
    m.work = power.weight + m.load_factor * power.live;
    if (m.work > 1e-9 * p.force_unit) return m;
  }
  return std::nullopt;
}

/// Verdict on weight alone that needs support inside the cone.
void judge_fall(const Question& q, const Balance& inner, CaseProof& proof) {
  const Program outer = build(q.assembly, q.load, q.options, Cone::kOuter);
  const Balance held = least_support(outer, q.options.tolerance);
  const double factor = q.load.has_live() ? 0.0 : 1.0;
  const auto mechanism = mechanism_from(q, outer, held, factor);
  if (mechanism) {
    proof.verdict = Verdict::kFalls;
    proof.evidence = *mechanism;
    proof.reason = "does not stand under its own weight: " + in_words(q.assembly, *mechanism);
    if (q.load.has_live()) proof.load_factor = 0;
    return;
  }
  proof.reason = "own weight not balanced on the inner friction cone (least added support " +
                 number(inner.support) +
                 " mean block weights) and no mechanism on the outer one (" + number(held.support) +
                 ")";
  for (const std::string& trouble : {inner.trouble, held.trouble}) {
    if (!trouble.empty()) proof.reason += "; solver: " + trouble;
  }
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

/// The upper side of the load factor: the inner dual where it holds for the true cone (nothing
/// slides), else the outer program's.
std::optional<Mechanism> upper_side(const Question& q, const Program& inner, const Balance& limit) {
  if (auto m = mechanism_from(q, inner, limit, std::nullopt)) return m;
  const Program outer = build(q.assembly, q.load, q.options, Cone::kOuter);
  const Balance reach = largest_factor(outer, 2 * q.options.load_factor_cap, q.options.tolerance);
  return mechanism_from(q, outer, reach, std::nullopt);
}

void judge_live(const Question& q, const Program& inner, const Balance& dead, CaseProof& proof) {
  const double cap = q.options.load_factor_cap;
  Balance limit = largest_factor(inner, cap, q.options.tolerance);
  if (limit.trouble.empty()) settle(inner, dead.x, cap, limit);
  if (!limit.found) {
    proof.reason = "stands under its own weight; no load factor found" +
                   (limit.trouble.empty() ? std::string() : ": " + limit.trouble);
    return;
  }
  proof.load_factor = limit.factor;
  proof.at_cap = limit.factor >= cap * (1 - 1e-6);
  if (!proof.at_cap) proof.limit_mechanism = upper_side(q, inner, limit);

  const Forces reached = forces_of(inner, limit.x, limit.factor);
  proof.residual_rel = residual_of(q.assembly, q.load, q.options, reached, inner.length_unit);
  proof.evidence = reached;
  if (limit.factor >= 1) {
    proof.verdict = Verdict::kStands;
    note_stress(q.assembly, between(forces_of(inner, dead.x, 0), reached, 1 / limit.factor), proof);
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
  proof.reason += proof.limit_mechanism
                      ? ", at most " + number(proof.limit_mechanism->load_factor) +
                            ": the friction cone is not resolved finely enough"
                      : "; no mechanism found for the upper side";
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

CaseProof prove(const Assembly& assembly, const LoadCase& load, const StandOptions& options) {
  const Question q{assembly, load, options};
  CaseProof proof;
  proof.id = load.id;
  proof.views = {"limit"};
  const Program inner = build(assembly, load, options, Cone::kInner);
  const Balance dead = least_support(inner, options.tolerance);
  if (!dead.found) {
    judge_fall(q, dead, proof);
    return proof;
  }
  if (load.has_live()) {
    judge_live(q, inner, dead, proof);
    return proof;
  }
  const Forces forces = forces_of(inner, dead.x, 1);
  proof.verdict = Verdict::kStands;
  proof.residual_rel = residual_of(assembly, load, options, forces, inner.length_unit);
  proof.evidence = forces;
  note_stress(assembly, forces, proof);
  return proof;
}

std::vector<CaseProof> prove_all(const Assembly& assembly, const StandOptions& options,
                                 const Progress& progress) {
  std::vector<CaseProof> proofs(assembly.cases.size());
  std::atomic<std::size_t> done{0};
  for_each_index(proofs.size(), [&](std::size_t i) {
    proofs[i] = prove(assembly, assembly.cases[i], options);
    progress.checkpoint("stand", static_cast<double>(++done) / static_cast<double>(proofs.size()));
  });
  return proofs;
}

}  // namespace skewback
