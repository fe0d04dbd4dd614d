#include "stand/facets.hpp"

#include <cmath>
#include <limits>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

Vec3 generator(const ConeContact& cone, Facets facets, int rays, int ray) {
  const bool inner = facets == Facets::kInner;
  const double half = kPi / rays, turn = kPi / 2 + (2 * ray + (inner ? 0 : 1)) * half;
  const double radius = inner ? cone.friction : cone.friction / std::cos(half);
  return {1, radius * std::cos(turn), radius * std::sin(turn)};
}

using Triplets = std::vector<Eigen::Triplet<double>>;

/// Columns of all generators, then `more`.
SparseMatrix columns_of(const Program& p, Facets facets, int rays, const SparseMatrix& more) {
  Triplets entries;
  Eigen::Index column = 0;
  for (const ConeContact& cone : p.cones) {
    for (int ray = 0; ray < rays; ++ray, ++column) {
      const Vec3 g = generator(cone, facets, rays, ray);
      for (const auto& [node, rows] : {std::pair{cone.a, &cone.on_a}, {cone.b, &cone.on_b}}) {
        if (node < 0) continue;
        const Eigen::Matrix<double, 6, 1> entry = *rows * g;
        for (int i = 0; i < 6; ++i) entries.emplace_back(6 * node + i, column, entry[i]);
      }
    }
  }
  for (Eigen::Index k = 0; k < more.outerSize(); ++k) {
    for (SparseMatrix::InnerIterator it(more, k); it; ++it) {
      entries.emplace_back(it.row(), column + it.col(), it.value());
    }
  }
  SparseMatrix A(p.weight.size(), column + more.cols());
  A.setFromTriplets(entries.begin(), entries.end());
  return A;
}

VectorX forces_from(const Program& p, Facets facets, int rays, const VectorX& x) {
  VectorX f = VectorX::Zero(3 * static_cast<Eigen::Index>(p.cones.size()));
  Eigen::Index column = 0;
  for (std::size_t i = 0; i < p.cones.size(); ++i) {
    for (int ray = 0; ray < rays; ++ray, ++column) {
      f.segment<3>(3 * static_cast<Eigen::Index>(i)) +=
          x[column] * generator(p.cones[i], facets, rays, ray);
    }
  }
  return f;
}

}  // namespace

Balance faceted_support(const Program& p, Facets facets, int rays, double tolerance) {
  const Eigen::Index m = p.weight.size();
  SparseMatrix supports(m, 2 * m);
  for (Eigen::Index i = 0; i < m; ++i) {
    supports.insert(i, i) = 1;
    supports.insert(i, m + i) = -1;
  }
  LinearProgram lp;
  lp.A = columns_of(p, facets, rays, supports);
  const Eigen::Index n = lp.A.cols();
  lp.b = -p.weight;
  lp.c = VectorX::Zero(n);
  lp.c.tail(2 * m).setOnes();
  lp.lower = VectorX::Zero(n);
  lp.upper = VectorX::Constant(n, kInfinity);
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.support = s.objective;
  balance.f = forces_from(p, facets, rays, s.x);
  balance.rows = -s.y;
  return balance;
}

Balance faceted_factor(const Program& p, Facets facets, int rays, double cap, double tolerance) {
  LinearProgram lp;
  lp.A = columns_of(p, facets, rays, p.live.sparseView());
  const Eigen::Index n = lp.A.cols();
  lp.b = -p.weight;
  lp.c = VectorX::Zero(n);
  lp.c[n - 1] = -1;
  lp.lower = VectorX::Zero(n);
  lp.upper = VectorX::Constant(n, kInfinity);
  lp.upper[n - 1] = cap;
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.f = forces_from(p, facets, rays, s.x);
  balance.factor = s.x[n - 1];
  balance.rows = -s.y;
  return balance;
}

}  // namespace skewback
