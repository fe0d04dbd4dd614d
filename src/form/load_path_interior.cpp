#include <algorithm>
#include <cmath>

#include "form/load_path_program.hpp"

namespace skewback {
namespace {

constexpr double kBack = 0.995;   // share of the way to the boundary
constexpr double kShift = 1e-12;  // of each diagonal entry: plan mechanisms leave u open
constexpr double kEnough = 0.1;   // of the gap allowed
constexpr int kRefinements = 3;
constexpr double kExact = 1e-15;

struct State {
  VectorX q, s, z, u;
};
struct Residual {
  VectorX z, u, s;  // of vertical balance (doubled), plan balance, slack
};
struct Step {
  VectorX q, s, z, u;
};

// The largest share of `step` that keeps v >= 0.
double reach(const VectorX& v, const VectorX& step) {
  double most = 1e300;
  for (Eigen::Index i = 0; i < v.size(); ++i)
    if (step[i] < 0) most = std::min(most, -v[i] / step[i]);
  return most;
}

class Newton {
 public:
  explicit Newton(const PathProgram& p) : p_(p) {}

  [[nodiscard]] Residual residual(const State& x) const {
    const VectorX dz = p_.B.transpose() * x.z;
    Residual r;
    r.z = 2 * (p_.p - p_.B * x.q.cwiseProduct(dz));
    r.u = p_.A * x.q - p_.give * x.u;
    r.s = p_.c + p_.A.transpose() * x.u - dz.cwiseAbs2() - x.s;
    return r;
  }

  /// False: the matrix could not be factorised.
  [[nodiscard]] bool prepare(const State& x) {
    const Eigen::Index n = p_.B.rows();
    const VectorX dz = p_.B.transpose() * x.z;
    Gz_ = p_.B * (2 * dz).asDiagonal();
    std::vector<Eigen::Triplet<double>> entries;
    const auto put = [&](const SparseMatrix& M, Eigen::Index from, double sign) {
      for (Eigen::Index k = 0; k < M.outerSize(); ++k)
        for (SparseMatrix::InnerIterator it(M, k); it; ++it)
          entries.emplace_back(from + it.row(), it.col(), sign * it.value());
    };
    put(Gz_, 0, 1);
    put(p_.A, n, -1);
    G_.resize(3 * n, p_.B.cols());
    G_.setFromTriplets(entries.begin(), entries.end());

    weight_ = x.q.cwiseQuotient(x.s);
    const SparseMatrix K = p_.B * (2 * x.q).asDiagonal() * p_.B.transpose();
    H_ = G_ * weight_.asDiagonal() * G_.transpose();
    SparseMatrix top(3 * n, 3 * n);
    entries.clear();
    put(K, 0, 1);
    for (Eigen::Index i = n; p_.give > 0 && i < 3 * n; ++i) entries.emplace_back(i, i, p_.give);
    top.setFromTriplets(entries.begin(), entries.end());
    H_ += top;

    SparseMatrix shifted = H_;
    SparseMatrix shift(3 * n, 3 * n);
    entries.clear();
    const VectorX diagonal = H_.diagonal();
    const double typical = diagonal.maxCoeff();
    for (Eigen::Index i = 0; i < 3 * n; ++i)
      entries.emplace_back(i, i, kShift * diagonal[i] + 1e-20 * typical);
    shift.setFromTriplets(entries.begin(), entries.end());
    shifted += shift;
    return factor_.factorise(shifted);
  }

  /// Solves for a step with the residuals `r` and complementarity q s -> q s + `rc`.
  [[nodiscard]] Step step(const State& x, const Residual& r, const VectorX& rc) const {
    const Eigen::Index n = p_.B.rows();
    const VectorX known = rc.cwiseQuotient(x.s) - weight_.cwiseProduct(r.s);
    VectorX right(3 * n);
    right << r.z, r.u;
    right -= G_ * known;
    VectorX d = factor_.solve(right);
    for (int i = 0; i < kRefinements; ++i) {
      const VectorX left = right - H_ * d;
      if (left.norm() <= kExact * right.norm()) break;
      d += VectorX(factor_.solve(left));
    }
    const VectorX Gd = G_.transpose() * d;
    return {known + weight_.cwiseProduct(Gd), r.s - Gd, d.head(n), d.tail(2 * n)};
  }

 private:
  const PathProgram& p_;
  SparseMatrix Gz_, G_, H_;
  VectorX weight_;
  SparseCholesky factor_;
};

// All edges alike, at the scale where the two halves of the path are equal.
State start(const PathProgram& p) {
  State x;
  const Eigen::Index m = p.B.cols();
  x.q = VectorX::Ones(m);
  SparseCholesky factor;
  const SparseMatrix K = p.B * p.B.transpose();
  if (!factor.factorise(K)) return {};
  x.z = factor.solve(p.p);
  const double scale = std::sqrt(p.p.dot(x.z) / p.c.sum());
  x.q *= scale;
  x.z /= scale;
  x.u = VectorX::Zero(2 * p.B.rows());
  const VectorX dz = p.B.transpose() * x.z;
  x.s = (p.c - dz.cwiseAbs2()).cwiseMax(0.3 * p.c.mean());
  return x;
}

}  // namespace

PathValue value_of(const PathProgram& p, const PathAnswer& a) {
  const VectorX dz = p.B.transpose() * a.z, room = p.A.transpose() * a.u;
  PathValue value;
  value.path = p.c.dot(a.q) + a.q.dot(dz.cwiseAbs2());
  if (p.give > 0) value.path += (p.A * a.q).squaredNorm() / (2 * p.give);
  // z and u drawn towards zero, which is inside: t^2 dz^2 <= c + t room on every edge
  double t = 1;
  for (Eigen::Index e = 0; e < dz.size(); ++e) {
    const double steep = dz[e] * dz[e];
    if (steep <= p.c[e] + room[e]) continue;
    const double root = std::sqrt(room[e] * room[e] + 4 * steep * p.c[e]);
    t = std::min(t, room[e] > 0 ? (room[e] + root) / (2 * steep) : 2 * p.c[e] / (root - room[e]));
  }
  value.bound = 2 * t * p.p.dot(a.z) - t * t * p.give / 2 * a.u.squaredNorm();
  return value;
}

PathAnswer solve_path(const PathProgram& p, double tolerance, int max_iterations) {
  PathAnswer answer;
  const double m = double(p.B.cols()), load = p.p.sum();
  State x = start(p);
  if (x.q.size() == 0) return answer;
  Newton newton(p);
  for (; answer.iterations < max_iterations; ++answer.iterations) {
    const Residual r = newton.residual(x);
    const double mu = x.q.dot(x.s) / m;
    answer.q = x.q;
    answer.z = x.z;
    answer.u = x.u;
    const PathValue value = value_of(p, answer);
    if (std::abs(value.path - value.bound) <= tolerance * value.path &&
        r.z.lpNorm<Eigen::Infinity>() <= tolerance * load &&
        r.u.lpNorm<Eigen::Infinity>() <= tolerance * load) {
      answer.converged = true;
      return answer;
    }
    if (!newton.prepare(x)) return answer;
    const Step affine = newton.step(x, r, -x.q.cwiseProduct(x.s));
    const double reach_q = std::min(1.0, reach(x.q, affine.q)),
                 reach_s = std::min(1.0, reach(x.s, affine.s)), a = std::min(reach_q, reach_s);
    const double mu_affine = (x.q + a * affine.q).dot(x.s + a * affine.s) / m;
    const double target =  // not far under what is asked for: rounding takes over there
        std::max(mu * std::pow(mu_affine / mu, 3), kEnough * tolerance * value.path / m);

    const VectorX dz = p.B.transpose() * affine.z;
    Residual second = r;  // what the affine step would leave of the products
    second.z -= 2 * (p.B * affine.q.cwiseProduct(dz));
    second.s -= dz.cwiseAbs2();
    const VectorX rc = VectorX::Constant(x.q.size(), target) - x.q.cwiseProduct(x.s) -
                       affine.q.cwiseProduct(affine.s);
    const Step full = newton.step(x, second, rc);
    const double share = std::min(1.0, kBack * std::min(reach(x.q, full.q), reach(x.s, full.s)));
    x.q += share * full.q;
    x.s += share * full.s;
    x.z += share * full.z;
    x.u += share * full.u;
    if (!x.q.allFinite() || !x.s.allFinite()) return answer;
  }
  return answer;
}

}  // namespace skewback
