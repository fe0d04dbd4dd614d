#include "form/shape_fit.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>

#include "form/free_system.hpp"

namespace skewback {
namespace {

constexpr int kInnerSteps = 80;
constexpr double kInnerTolerance = 0.1;  // of the first residual
constexpr double kLongest = 3;           // of any u in a step: a factor of e^3 on a force
constexpr double kLeastDamping = 1e-7;

// The linearised map from u to the wish's residuals and back, at one net in equilibrium.
class Tangent {
 public:
  /// `system` is left with the forces of `net`, and is not to be given others meanwhile.
  Tangent(const Net& net, const ShapeWish& wish, FreeSystem& system)
      : system_(system), linear_(linearise(net, wish)), rows_(net.points.size()) {
    system.refactor(net);
    for (std::size_t k = 0; k < net.edges.size(); ++k) {
      const NetEdge& e = net.edges[k];
      const double slope = above_floor(e.q, wish.floor_q[k]);  // dq/du
      edges_.push_back(
          {system.row(e.a), system.row(e.b), slope * (net.points[e.a] - net.points[e.b])});
    }
    for (std::size_t p = 0; p < rows_.size(); ++p) rows_[p] = system.row(int(p));
    transposed_ = linear_.by_place.transpose();
  }

  [[nodiscard]] const VectorX& residuals() const { return linear_.r; }
  [[nodiscard]] const SparseMatrix& by_force() const { return linear_.by_force; }

  // dX = -D^-1 A dq, A the edge vectors
  [[nodiscard]] VectorX forward(const VectorX& du) const {
    FreeSystem::Sides x = system_.no_sides();
    for (std::size_t k = 0; k < edges_.size(); ++k) {
      const Vec3 push = du[Eigen::Index(k)] * edges_[k].by_u;
      for (int c = 0; c < 3; ++c) {
        x[edges_[k].a].of[c] -= push[c];
        x[edges_[k].b].of[c] += push[c];
      }
    }
    x.back() = {};  // fixed points
    system_.solve_in_place(x);
    VectorX moves(3 * Eigen::Index(rows_.size()));
    for (std::size_t p = 0; p < rows_.size(); ++p)
      for (int c = 0; c < 3; ++c) moves[3 * Eigen::Index(p) + c] = x[rows_[p]].of[c];
    return transposed_.transpose() * moves + linear_.by_force * du;
  }

  [[nodiscard]] VectorX backward(const VectorX& r) const {
    const VectorX back = transposed_ * r;
    FreeSystem::Sides x = system_.no_sides();
    for (std::size_t p = 0; p < rows_.size(); ++p)
      for (int c = 0; c < 3; ++c) x[rows_[p]].of[c] = back[3 * Eigen::Index(p) + c];
    x.back() = {};
    system_.solve_in_place(x);
    VectorX du = linear_.by_force.transpose() * r;
    for (std::size_t k = 0; k < edges_.size(); ++k) {
      const std::array<double, 4>&a = x[edges_[k].a].of, &b = x[edges_[k].b].of;
      du[Eigen::Index(k)] += Vec3(b[0] - a[0], b[1] - a[1], b[2] - a[2]).dot(edges_[k].by_u);
    }
    return du;
  }

 private:
  struct Edge {
    int a, b;  // rows of the system
    Vec3 by_u;
  };
  const FreeSystem& system_;
  Linear linear_;
  std::vector<Edge> edges_;
  std::vector<int> rows_;    // per point: of the system
  SparseMatrix transposed_;  // by_place', whose columns are short
};

// What conjugate gradients are led by: the part of J'J that does not pass through equilibrium.
class Leader {
 public:
  void take(const SparseMatrix& by_force, double damping) {
    SparseMatrix shift(by_force.cols(), by_force.cols());
    shift.setIdentity();
    SparseMatrix S = SparseMatrix(by_force.transpose() * by_force) + damping * shift;
    const bool planned = same_pattern(S, S_);
    S_ = std::move(S);
    if (!planned) factor_.analyzePattern(S_);
    factor_.factorize(S_);
    const SparseMatrix& L = factor_.matrixL().nestedExpression();
    if (!planned) lane_.plan(L);
    lane_.take(L, factor_.vectorD());
  }
  [[nodiscard]] VectorX operator()(const VectorX& r) const {
    VectorX y = factor_.permutationP() * r;
    lane_.solve(y, LaneSolve::Pivots::kInverse);
    return factor_.permutationPinv() * y;
  }

 private:
  static bool same_pattern(const SparseMatrix& a, const SparseMatrix& b) {
    return a.cols() == b.cols() && a.nonZeros() == b.nonZeros() &&
           std::equal(a.outerIndexPtr(), a.outerIndexPtr() + a.cols() + 1, b.outerIndexPtr()) &&
           std::equal(a.innerIndexPtr(), a.innerIndexPtr() + a.nonZeros(), b.innerIndexPtr());
  }

  SparseMatrix S_;
  Eigen::SimplicialLDLT<SparseMatrix> factor_;
  LaneSolve lane_;
};

// (J'J + damping) du = -gradient by conjugate gradients.
VectorX damped_step(const Tangent& tangent, const VectorX& gradient, double damping, Leader& lead,
                    int& steps) {
  lead.take(tangent.by_force(), damping);
  VectorX du = VectorX::Zero(gradient.size()), residual = -gradient, led = lead(residual);
  VectorX direction = led;
  double size = residual.dot(led);
  const double enough = size * kInnerTolerance * kInnerTolerance;
  for (int i = 0; i < kInnerSteps && size > enough; ++i, ++steps) {
    const VectorX image = tangent.backward(tangent.forward(direction)) + damping * direction;
    const double along = size / direction.dot(image);
    du += along * direction;
    residual -= along * image;
    led = lead(residual);
    const double next = residual.dot(led);
    direction = led + next / size * direction;
    size = next;
  }
  return du;
}

Net stepped(const Net& net, const ShapeWish& wish, const VectorX& du) {
  Net out = net;
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const double above = above_floor(net.edges[k].q, wish.floor_q[k]);
    out.edges[k].q = wish.floor_q[k] + above * std::exp(std::clamp(du[k], -kLongest, kLongest));
  }
  return out;
}

double largest_move(const Net& a, const Net& b) {
  double most = 0;
  for (std::size_t i = 0; i < a.points.size(); ++i)
    most = std::max(most, (a.points[i] - b.points[i]).norm());
  return most;
}

}  // namespace

Misfit misfit(const Net& net, const std::vector<double>& downward, const ShapeWish& wish) {
  Net held = net;
  if (auto points = equilibrium(net, as_forces(downward))) held.points = *points;
  FreeSystem system(held);
  const Tangent tangent(held, wish, system);
  return {0.5 * tangent.residuals().squaredNorm(), tangent.backward(tangent.residuals())};
}

Result<ShapeFit> fit_shape(const Net& net, const std::vector<double>& downward,
                           const ShapeWish& wish, const FitOptions& options) {
  ShapeFit fit;
  auto first = equilibrium_with_height(net, downward, wish.crown, wish.crown_z);
  if (!first) return first.faults();
  fit.net = std::move(first).value();
  fit.misfit = 0.5 * residuals(fit.net, wish).squaredNorm();
  // misfits are areas, so damping has to be one too: the answer must not depend on the plan's size
  const double unit = wish.unit_m * wish.unit_m;
  double damping = 1e-3 * unit;
  FreeSystem at_net(fit.net), tried(fit.net);
  Leader lead;
  while (fit.steps < options.steps_max && !fit.settled) {
    const Tangent tangent(fit.net, wish, at_net);
    const VectorX gradient = tangent.backward(tangent.residuals());
    for (; fit.steps < options.steps_max;) {  // shorter steps until one is better
      ++fit.steps;
      const VectorX du = damped_step(tangent, gradient, damping, lead, fit.inner_steps);
      auto next = equilibrium_with_height(tried, stepped(fit.net, wish, du), downward, wish.crown,
                                          wish.crown_z);
      if (!next) return next.faults();
      const double value = 0.5 * residuals(*next, wish).squaredNorm();
      const double hoped = -0.5 * gradient.dot(du);  // of the quadratic model, near enough
      const double gain = (fit.misfit - value) / std::max(1e-300, hoped);
      fit.move_m = largest_move(fit.net, *next);
      fit.settled = fit.move_m < options.settled * wish.unit_m;
      damping *= gain > 0.75 ? 0.2 : gain > 0.25 ? 1 : gain > 0 ? 2 : 5;
      damping = std::max(damping, kLeastDamping * unit);
      if (value < fit.misfit) {
        fit.net = std::move(next).value();
        fit.misfit = value;
        break;
      }
      if (fit.settled) break;
    }
  }
  return fit;
}

}  // namespace skewback
