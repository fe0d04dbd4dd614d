#include "stand/polish.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kCloseness = 0.9;  // of the way to the edge of a cone in one step

/// Inverse Hessian of -log(x0^2 - |t|^2) at (x0, t), over 1/2: x x' - det / 2 J; in (n, t) with
/// x0 = mu n. Without friction: n^2 alone. All over n: a force that is a millionth of another moves
/// a millionth as easily, not a billionth.
Mat3 metric(const ConeContact& cone, const Vec3& f) {
  const double mu = cone.friction;
  Mat3 D = Mat3::Zero();
  if (mu <= 0) {
    D(0, 0) = f[0];
    return D;
  }
  const Vec3 x(mu * f[0], f[1], f[2]);
  const double det = std::max(0.0, x[0] * x[0] - x.tail<2>().squaredNorm());
  D = x * x.transpose();
  D(0, 0) -= det / 2;
  D(1, 1) += det / 2;
  D(2, 2) += det / 2;
  D.row(0) /= mu;
  D.col(0) /= mu;
  D /= std::max(f[0], 1e-300);
  if (std::isfinite(cone.n_most)) {  // n <= n_most: adds to the Hessian alike
    const double slack = std::max(cone.n_most - f[0], 0.0);
    D -= D.col(0) * D.row(0) / (slack + D(0, 0) + 1e-300);
  }
  return D;
}

void pull_inside(const ConeContact& cone, Eigen::Ref<Vec3> f) {
  f[0] = std::clamp(f[0], 0.0, cone.n_most);
  const double t = f.tail<2>().norm(), most = cone.friction * f[0];
  if (t > most) f.tail<2>() *= t > 0 ? most / t : 0;
}

void form(const Program& p, const VectorX& f, BlockCholesky& S, std::vector<Mat3>& metrics,
          double& trace) {
  S.set_zero();
  trace = 0;
  for (std::size_t i = 0; i < p.cones.size(); ++i) {
    const ConeContact& cone = p.cones[i];
    metrics[i] = metric(cone, f.segment<3>(3 * static_cast<Eigen::Index>(i)));
    const Eigen::Matrix<double, 6, 3> a = cone.on_a * metrics[i], b = cone.on_b * metrics[i];
    if (cone.a >= 0) {
      const Block6 d = a * cone.on_a.transpose();
      S.add_diagonal(cone.a, d);
      trace += d.trace();
    }
    if (cone.b >= 0) {
      const Block6 d = b * cone.on_b.transpose();
      S.add_diagonal(cone.b, d);
      trace += d.trace();
    }
    if (cone.a >= 0 && cone.b >= 0) S.add_pair(cone.a, cone.b, a * cone.on_b.transpose());
  }
}

double shifted(const Program& p, double share, double trace, BlockCholesky& S) {
  const double shift = share * trace / static_cast<double>(6 * p.blocks.size());
  for (std::size_t s = 0; s < p.blocks.size(); ++s) {
    S.add_diagonal(static_cast<int>(s), shift * Block6::Identity());
  }
  return shift;
}

/// Longest step, up to 1, that keeps f + step df inside its cone.
double longest(const ConeContact& cone, const Vec3& f, const Vec3& df) {
  double step = 1;
  for (int halving = 0; halving < 60; ++halving) {
    const Vec3 g = f + step / kCloseness * df;
    if (step <= 1e-12 ||
        (g[0] >= 0 && g[0] <= cone.n_most && g.tail<2>().norm() <= cone.friction * g[0])) {
      break;
    }
    step *= 0.7;
  }
  return step;
}

}  // namespace

double polish_forces(const Program& p, const VectorX& b, VectorX& f) {
  constexpr int kRounds = 20;
  constexpr double kEnough = 2e-14, kShift = 1e-14;
  if (b.size() == 0) return 0;
  for (std::size_t i = 0; i < p.cones.size(); ++i) {
    pull_inside(p.cones[i], f.segment<3>(3 * static_cast<Eigen::Index>(i)));
  }
  const auto off = [&](const VectorX& g) { return VectorX(b - rows_of(p, g)); };
  VectorX best = f;
  double least = off(f).lpNorm<Eigen::Infinity>(), trace = 0;
  BlockCholesky S(p.graph.pattern);
  std::vector<Mat3> metrics(p.cones.size());
  for (int round = 0; round < kRounds && least > kEnough; ++round) {
    form(p, f, S, metrics, trace);
    shifted(p, kShift, trace, S);
    if (!S.factorise()) break;
    VectorX z = off(f);
    S.solve(z);
    if (!z.allFinite()) break;
    VectorX df = VectorX::Zero(f.size());
    double step = 1;
    for (std::size_t i = 0; i < p.cones.size(); ++i) {
      const ConeContact& cone = p.cones[i];
      Vec3 pull = Vec3::Zero();
      if (cone.a >= 0) pull += cone.on_a.transpose() * z.segment<6>(6 * cone.a);
      if (cone.b >= 0) pull += cone.on_b.transpose() * z.segment<6>(6 * cone.b);
      const auto at = 3 * static_cast<Eigen::Index>(i);
      df.segment<3>(at) = metrics[i] * pull;
      step = std::min(step, longest(cone, f.segment<3>(at), df.segment<3>(at)));
    }
    // the whole step cut back into the cones, or the part of it that stays inside: the better
    const VectorX inside = f + step * df;
    f += df;
    for (std::size_t i = 0; i < p.cones.size(); ++i) {
      pull_inside(p.cones[i], f.segment<3>(3 * static_cast<Eigen::Index>(i)));
    }
    double residual = off(f).lpNorm<Eigen::Infinity>();
    const double safe = off(inside).lpNorm<Eigen::Infinity>();
    if (safe < residual) {
      f = inside;
      residual = safe;
    }
    if (residual < least) {
      best = f;
      least = residual;
    }
  }
  f = best;
  return least;
}

VectorX polish_mechanism(const Program& p, const VectorX& f, const VectorX& y) {
  constexpr int kRounds = 3;
  constexpr double kShift = 1e-9;
  if (f.size() == 0 || y.size() == 0) return y;
  BlockCholesky S(p.graph.pattern);
  std::vector<Mat3> metrics(p.cones.size());
  double trace = 0;
  form(p, f, S, metrics, trace);
  if (!(trace > 0)) return y;
  const double shift = shifted(p, kShift, trace, S);
  if (!S.factorise()) return y;
  VectorX v = y;
  for (int round = 0; round < kRounds; ++round) {
    v *= shift;
    S.solve(v);
  }
  return v.allFinite() ? v : y;
}

}  // namespace skewback
