#include "solve/interior_point.hpp"

#include <algorithm>
#include <cmath>

#include "solve/normal_matrix.hpp"
#include "solve/standard_form.hpp"

namespace skewback {

namespace {

using Array = Eigen::ArrayXd;

// Bounded variables have a slack w = upper - x with multiplier v; for the others w = 1, v = 0 and
// `bounded` = 0 keeps them out of every formula.
struct Point {
  Array x, z, w, v;
  VectorX y;
};

struct Residuals {
  VectorX primal;    // b - A x
  Array dual;        // c - A'y - z + v
  Array upper;       // upper - x - w
  double mu = 0;     // mean complementarity
  double worst = 0;  // largest of the relative measures
};

class Solver {
 public:
  explicit Solver(const StandardForm& form)
      : form_(form), At_(form.A.transpose()), normal_(form.A), bounded_(form.upper.size()) {
    for (Eigen::Index j = 0; j < bounded_.size(); ++j) {
      bounded_[j] = std::isfinite(form.upper[j]) ? 1.0 : 0.0;
    }
    upper_ = (bounded_ > 0).select(form.upper.array(), 0.0);
    pairs_ = static_cast<double>(form.c.size()) + bounded_.sum();
  }

  bool run(const LpOptions& options, Point& best, int& iterations);

 private:
  bool factorise(const Array& d);
  void newton(const Point& p, const Residuals& r, const Array& xz, const Array& wv,
              Point& step) const;
  VectorX solve_normal(VectorX rhs, double enough) const;
  [[nodiscard]] Residuals residuals(const Point& p) const;
  bool start(Point& p);
  [[nodiscard]] double complementarity(const Point& p) const {
    return ((p.x * p.z).sum() + (bounded_ * p.w * p.v).sum()) / pairs_;
  }

  const StandardForm& form_;
  SparseMatrix At_;
  NormalMatrix normal_;
  Array bounded_, upper_, d_;
  double pairs_ = 1;
  SparseCholesky factor_;
};

bool Solver::factorise(const Array& d) {
  d_ = d;
  const double scale = std::max(normal_.form(d.matrix()).diagonal().maxCoeff(), 1e-300);
  double shifted = 0;
  for (const double shift : {1e-15, 1e-13, 1e-11, 1e-9}) {
    if (factor_.factorise(normal_.shift((shift - shifted) * scale))) return true;
    shifted = shift;
  }
  return false;
}

/// Solves A D A' dy = rhs by conjugate gradients on the product form, with the factor of the
/// shifted normal matrix as preconditioner; stops when what is left of rhs is
/// `enough`.
VectorX Solver::solve_normal(VectorX rhs, double enough) const {
  constexpr int kRounds = 20, kIdle = 4;
  int idle = 0;
  VectorX dy = VectorX::Zero(rhs.size()), best = dy, least = rhs, direction;
  double rho = 0;
  for (int round = 0; round < kRounds && idle < kIdle; ++round) {
    if (rhs.lpNorm<Eigen::Infinity>() <= enough) break;
    const VectorX z = factor_.solve(rhs);
    const double next = rhs.dot(z);
    if (!(next > 0)) break;
    direction = round == 0 ? z : VectorX(z + next / rho * direction);
    rho = next;
    const VectorX image = form_.A * (d_ * (At_ * direction).array()).matrix();
    const double step = rho / direction.dot(image);
    if (!std::isfinite(step)) break;
    dy += step * direction;
    rhs -= step * image;
    ++idle;
    if (rhs.lpNorm<Eigen::Infinity>() < least.lpNorm<Eigen::Infinity>()) {
      best = dy;
      least = rhs;
      idle = 0;
    }
  }
  return best;
}

/// Solves for the step that removes the residuals and moves the products x z, w v by xz, wv.
/// Refined on the true equation A dx = primal residual.
void Solver::newton(const Point& p, const Residuals& r, const Array& xz, const Array& wv,
                    Point& step) const {
  const Array g = r.dual - xz / p.x + bounded_ * (wv - p.v * r.upper) / p.w;
  step.y = VectorX::Zero(form_.b.size());
  step.x = -d_ * g;
  const double enough = std::max(1e-14, 1e-3 * r.mu);
  for (int round = 0; round < 2; ++round) {
    const VectorX left = r.primal - form_.A * step.x.matrix();
    if (round > 0 && left.lpNorm<Eigen::Infinity>() <= enough) break;
    const VectorX dy = solve_normal(left, enough);
    step.y += dy;
    step.x += d_ * (At_ * dy).array();
  }
  step.w = bounded_ * (r.upper - step.x);
  step.z = (xz - p.z * step.x) / p.x;
  step.v = bounded_ * (wv - p.v * step.w) / p.w;
}

Residuals Solver::residuals(const Point& p) const {
  Residuals r;
  r.primal = form_.b - form_.A * p.x.matrix();
  r.dual = form_.c.array() - (At_ * p.y).array() - p.z + p.v;
  r.upper = bounded_ * (upper_ - p.x - p.w);
  r.mu = complementarity(p);
  const double objective = form_.c.dot(p.x.matrix());
  const double dual_objective = form_.b.dot(p.y) - (upper_ * p.v).sum();
  const auto size = [](const auto& values) {
    return values.size() > 0 ? values.abs().maxCoeff() : 0.0;
  };
  const double b = 1 + size(form_.b.array()), c = 1 + size(form_.c.array());
  r.worst = std::max({size(r.primal.array()) / b, size(r.upper) / b, size(r.dual) / c,
                      std::abs(objective - dual_objective) / (1 + std::abs(objective))});
  return r;
}

/// Least-squares point pushed into the interior (Mehrotra's rule).
bool Solver::start(Point& p) {
  const Eigen::Index n = form_.c.size();
  if (!factorise(Array::Ones(n))) return false;
  p.x = (At_ * factor_.solve(form_.b)).array();
  p.y = factor_.solve(form_.A * form_.c);
  p.z = form_.c.array() - (At_ * p.y).array();
  const auto inside = [](Array& a) { a += std::max(-1.5 * a.minCoeff(), 0.0) + 1e-3; };
  inside(p.x);
  inside(p.z);
  const double xz = (p.x * p.z).sum();
  const double dx = 0.5 * xz / p.z.sum(), dz = 0.5 * xz / p.x.sum();
  p.x += dx;
  p.z += dz;
  p.w = (bounded_ > 0).select((upper_ - p.x).max(0.1 * upper_.max(1e-3)), 1.0);
  p.v = bounded_ * std::max(dz, 1e-3);
  p.z += p.v;
  return true;
}

double longest(const Array& a, const Array& da) {
  double step = 1e300;
  for (Eigen::Index i = 0; i < a.size(); ++i) {
    if (da[i] < 0) step = std::min(step, -a[i] / da[i]);
  }
  return step;
}

bool Solver::run(const LpOptions& options, Point& best, int& iterations) {
  Point p;
  if (!start(p)) return false;
  double best_worst = std::numeric_limits<double>::infinity();
  double least_mu = best_worst;
  int idle = 0;
  for (iterations = 0; iterations < options.max_iterations; ++iterations) {
    const Residuals r = residuals(p);
    if (!std::isfinite(r.worst)) break;
    // The gap may grow against an objective that falls: products that fall are progress too.
    idle = r.worst < best_worst || r.mu < 0.9 * least_mu ? 0 : idle + 1;
    least_mu = std::min(least_mu, r.mu);
    if (r.worst < best_worst) {
      best_worst = r.worst;
      best = p;
    }
    if (r.worst <= options.tolerance || idle > 12 || p.x.maxCoeff() > 1e13) break;
    if (!factorise(1 / (p.z / p.x + bounded_ * p.v / p.w))) break;

    Point affine, step;
    newton(p, r, -p.x * p.z, -bounded_ * p.w * p.v, affine);
    const double ap = std::min({1.0, longest(p.x, affine.x), longest(p.w, affine.w)});
    const double ad = std::min({1.0, longest(p.z, affine.z), longest(p.v, affine.v)});
    Point trial{p.x + ap * affine.x, p.z + ad * affine.z, p.w + ap * affine.w, p.v + ad * affine.v,
                p.y};
    // Products far below the infeasibility would leave nothing to remove it with.
    const double floor = std::min(r.mu, 0.1 * r.primal.lpNorm<Eigen::Infinity>());
    const double target =
        std::max(floor, r.mu * std::pow(std::max(complementarity(trial), 0.0) / r.mu, 3));
    newton(p, r, target - p.x * p.z - affine.x * affine.z,
           bounded_ * (target - p.w * p.v - affine.w * affine.v), step);
    const double back = std::max(0.9, 1 - r.mu);
    const double keep = std::min(back, 0.9995);
    const double sp = std::min({1.0, keep * longest(p.x, step.x), keep * longest(p.w, step.w)});
    const double sd = std::min({1.0, keep * longest(p.z, step.z), keep * longest(p.v, step.v)});
    p.x += sp * step.x;
    p.w += sp * step.w;
    p.y += sd * step.y;
    p.z += sd * step.z;
    p.v += sd * step.v;
  }
  return best_worst <= options.tolerance;
}

}  // namespace

bool interior_point(const LinearProgram& program, const LpOptions& options, LpSummary& out) {
  if (program.A.cols() == 0) return false;
  const StandardForm form = standard_form(program);
  Point best;
  Solver solver(form);
  const bool converged = solver.run(options, best, out.iterations);
  if (best.x.size() == 0) return false;
  out.x = original_x(form, best.x.matrix());
  out.y = best.y.head(program.b.size());
  return converged;
}

}  // namespace skewback
