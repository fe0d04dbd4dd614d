#include "ground/layout.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "brief/tie_lines.hpp"
#include "solve/solve.hpp"

namespace skewback {
namespace {

constexpr double kNone = 1e-6;  // of the largest capacity: a tie that is not there
constexpr double kRank = 1e-9;  // of the largest singular value
constexpr double kFree = HUGE_VAL;

struct Rows {  // U'A and U', U an orthonormal basis of what rods (and ground) can give
  Eigen::MatrixXd basis, reduced;
};

Rows independent_rows(const Eigen::MatrixXd& A) {
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(A, Eigen::ComputeThinU);
  const auto& values = svd.singularValues();
  int rank = 0;
  while (rank < values.size() && values[rank] > kRank * values[0]) ++rank;
  Rows rows;
  rows.basis = svd.matrixU().leftCols(rank);
  rows.reduced = rows.basis.transpose() * A;
  return rows;
}

/// Shear of the ground on each footing along x and y as free variables, with the square inscribed
/// in the circle that the brief allows as their bounds.
Eigen::MatrixXd with_shear(const Eigen::MatrixXd& A, int footings) {
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(A.rows(), A.cols() + 2 * footings);
  out.leftCols(A.cols()) = A;
  for (int i = 0; i < footings; ++i) out.block<2, 2>(3 * i, A.cols() + 2 * i).setIdentity();
  return out;
}

struct CaseNeeds {
  Eigen::VectorXd needs;
  bool on_ground = false;
};

/// Cases that the rods, or rods and ground, can hold one by one.
std::vector<CaseNeeds> holdable(const Brief& brief, const std::vector<Rod>& rods,
                                const std::vector<const TieState*>& cases,
                                std::vector<std::string>* unheld) {
  std::vector<CaseNeeds> out;
  for (const TieState* state : cases) {
    const std::vector<Footing> footings = plan_needs(state->supports);
    FootingBalance found = hold_in_plan(state->supports, rods, 0);
    const bool alone = found.balanced;
    if (!alone) found = hold_in_plan(state->supports, rods, brief.ground.ground_shear_n);
    if (!found.balanced) {
      if (unheld != nullptr) unheld->push_back(state->case_id);
      continue;
    }
    CaseNeeds needs;
    needs.on_ground = !alone;
    needs.needs.resize(3 * static_cast<int>(footings.size()));
    for (int i = 0; i < static_cast<int>(footings.size()); ++i)
      needs.needs.segment<3>(3 * i) =
          Vec3(footings[i].force.x(), footings[i].force.y(), footings[i].yaw) - found.missing[i];
    out.push_back(std::move(needs));
  }
  return out;
}

/// Unknowns: capacity of each tie (or one for all), then per case rod forces, shears, and what each
/// rod leaves of its capacity. Forces in units of `unit`.
struct Program {
  std::vector<Eigen::Triplet<double>> entries;
  std::vector<double> b, lower, upper, c;
  int rows = 0;
  int add(double low, double high, double cost = 0) {
    lower.push_back(low);
    upper.push_back(high);
    c.push_back(cost);
    return static_cast<int>(c.size()) - 1;
  }
};

void add_case(const CaseNeeds& needs, const Rows& rows, const std::vector<Rod>& rods, bool equal,
              double unit, double shear_most, Program& p) {
  const int first = static_cast<int>(p.c.size());
  for (int k = 0; k < rows.reduced.cols(); ++k) {
    const bool rod = k < static_cast<int>(rods.size());
    p.add(rod ? 0 : -shear_most / unit, rod ? kFree : shear_most / unit);
  }
  const Eigen::VectorXd right = rows.basis.transpose() * needs.needs / unit;
  for (int i = 0; i < rows.reduced.rows(); ++i) {
    for (int k = 0; k < rows.reduced.cols(); ++k)
      if (rows.reduced(i, k) != 0)
        p.entries.emplace_back(p.rows + i, first + k, rows.reduced(i, k));
    p.b.push_back(right[i]);
  }
  p.rows += static_cast<int>(rows.reduced.rows());
  for (int k = 0; k < static_cast<int>(rods.size()); ++k) {
    const int left = p.add(0, kFree);
    p.entries.emplace_back(p.rows, first + k, 1);
    p.entries.emplace_back(p.rows, left, 1);
    p.entries.emplace_back(p.rows, equal ? 0 : rods[k].tie, -1);
    p.b.push_back(0);
    ++p.rows;
  }
}

std::optional<VectorX> solved(const Program& p) {
  LinearProgram lp;
  lp.A.resize(p.rows, static_cast<int>(p.c.size()));
  lp.A.setFromTriplets(p.entries.begin(), p.entries.end());
  const auto vector = [](const std::vector<double>& v) {
    return VectorX(Eigen::Map<const VectorX>(v.data(), static_cast<Eigen::Index>(v.size())));
  };
  lp.b = vector(p.b);
  lp.c = vector(p.c);
  lp.lower = vector(p.lower);
  lp.upper = vector(p.upper);
  const LpSummary summary = solve(lp);
  if (summary.status != SolveStatus::kOptimal) return std::nullopt;
  return summary.x;
}

LaidTie laid(const Brief& brief, const Tie& tie, double length, double capacity) {
  const RodSteel steel = rod_steel(brief);
  LaidTie out{.id = tie.id, .length_m = length, .force_n = capacity, .rods = tie.rods};
  const double mass = kSteelDensity * length * tie.rods;
  out.steel_kg = mass * capacity * steel.gamma_shank / steel.yield_pa;
  if (const auto thread = rod_thread(capacity, steel)) {
    out.thread = thread->name;
    out.thread_kg = mass * std::numbers::pi / 4 * thread->diameter_m * thread->diameter_m;
  }
  return out;
}

Layout layout_of(const Brief& brief, const std::vector<Tie>& ties, const std::vector<Rod>& rods,
                 const std::vector<double>& capacity) {
  Layout out;
  const double most = *std::ranges::max_element(capacity);
  for (std::size_t t = 0; t < ties.size(); ++t) {
    if (capacity[t] <= kNone * most) continue;
    const auto rod = std::ranges::find(rods, static_cast<int>(t), &Rod::tie);
    out.ties.push_back(laid(brief, ties[t], rod->length(), capacity[t] * brief.ground.tie_factor));
    out.steel_kg += out.ties.back().steel_kg;
    out.thread_kg += out.ties.back().thread_kg;
  }
  return out;
}

}  // namespace

Candidates candidate_ties(const Brief& brief, bool every_pair) {
  Candidates out;
  const auto& supports = brief.plan.supports;
  const auto take = [&](const Tie& tie) {
    const auto crossed = crossed_footings(supports, brief.ground, tie);
    if (crossed.empty()) {
      out.ties.push_back(tie);
    } else {
      out.refused.push_back(tie.id + ": runs through the footing of " + crossed.front());
    }
  };
  for (const Tie& tie : brief.ground.ties) take(tie);
  if (!every_pair) return out;
  for (int a = 0; a < static_cast<int>(supports.size()); ++a) {
    for (int b = a + 1; b < static_cast<int>(supports.size()); ++b) {
      const bool drawn = std::ranges::any_of(brief.ground.ties, [&](const Tie& t) {
        return std::minmax(t.from, t.to) == std::minmax(a, b);
      });
      if (drawn) continue;
      Tie tie;
      if (!brief.ground.ties.empty()) {
        tie = brief.ground.ties.front();
      } else {
        tie.level_m = std::min(supports[a].level_m, supports[b].level_m);
      }
      tie.id = supports[a].id + "-" + supports[b].id;
      tie.from = a;
      tie.to = b;
      take(tie);
    }
  }
  return out;
}

std::optional<Layout> least_steel(const Brief& brief, const std::vector<Tie>& ties,
                                  const std::vector<const TieState*>& cases, bool equal,
                                  std::vector<std::string>* unheld) {
  if (ties.empty()) return std::nullopt;
  const std::vector<Rod> rods = rods_of(brief.plan.supports, ties);
  std::vector<std::string> lost;
  const auto needs = holdable(brief, rods, cases, &lost);
  if (unheld != nullptr) *unheld = lost;
  if (needs.empty() || (unheld == nullptr && !lost.empty())) return std::nullopt;
  const int footings = static_cast<int>(brief.plan.supports.size());
  const Eigen::MatrixXd A = rod_columns(plan_needs(cases.front()->supports), rods);
  const Rows alone = independent_rows(A), ground = independent_rows(with_shear(A, footings));
  double unit = 1;
  for (const CaseNeeds& c : needs) unit = std::max(unit, c.needs.cwiseAbs().maxCoeff());
  Program p;
  std::vector<double> cost(ties.size(), 0);
  for (const Rod& rod : rods) cost[rod.tie] += rod.length();
  if (equal) {
    p.add(0, kFree, std::accumulate(cost.begin(), cost.end(), 0.0));
  } else {
    for (const double each : cost) p.add(0, kFree, each);
  }
  for (const CaseNeeds& c : needs) {
    add_case(c, c.on_ground ? ground : alone, rods, equal, unit,
             brief.ground.ground_shear_n / std::numbers::sqrt2, p);
  }
  const auto x = solved(p);
  if (!x) return std::nullopt;
  std::vector<double> capacity(ties.size());
  for (std::size_t t = 0; t < ties.size(); ++t)
    capacity[t] = unit * (*x)[equal ? 0 : static_cast<Eigen::Index>(t)];
  return layout_of(brief, ties, rods, capacity);
}

TieLayout tie_layout(const Brief& brief, const std::vector<const TieState*>& cases) {
  TieLayout out;
  const Candidates candidates = candidate_ties(brief, brief.ground.every_pair);
  for (const Tie& tie : candidates.ties) out.candidates.push_back(tie.id);
  out.refused = candidates.refused;
  if (candidates.ties.empty() || cases.empty()) {
    out.second_reason = "no tie lines";
    return out;
  }
  out.best = least_steel(brief, candidates.ties, cases, false, &out.unheld);
  std::vector<const TieState*> held;
  for (const TieState* state : cases)
    if (std::ranges::find(out.unheld, state->case_id) == out.unheld.end()) held.push_back(state);
  if (out.best) {
    for (const LaidTie& without : out.best->ties) {
      std::vector<Tie> rest;
      for (const Tie& tie : candidates.ties)
        if (tie.id != without.id) rest.push_back(tie);
      const auto other = least_steel(brief, rest, held, false);
      if (other && (!out.second || other->steel_kg < out.second->steel_kg)) out.second = other;
    }
    if (!out.second) out.second_reason = "every tie of the best is needed";
  }
  const Candidates all = candidate_ties(brief, true);
  if (!held.empty()) out.every_pair = least_steel(brief, all.ties, held, true);
  return out;
}

}  // namespace skewback
