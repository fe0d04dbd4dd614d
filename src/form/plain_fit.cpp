#include "form/plain_fit.hpp"

#include <algorithm>
#include <cmath>

#include "form/free_system.hpp"
#include "form/wish.hpp"

namespace skewback::plain {
namespace {

constexpr int kInnerSteps = 80;
constexpr double kInnerTolerance = 1e-3;  // of the first residual
constexpr double kLongestStep = 1.5;      // of any u: a factor of e^1.5 on a force
constexpr double kCrownWeight = 30;       // the rise is put exactly right after each step anyway

using Rows3 = FreeSystem::Rows3;  // one row a free point

// The linearised map from u to the wish's residuals and back, at one net.
class Tangent {
 public:
  Tangent(const Net& net, const ShapeWish& wish)
      : net_(net), wish_(wish), system_(net), slope_(net.edges.size()) {
    for (std::size_t k = 0; k < net.edges.size(); ++k)
      slope_[k] = above_floor(net.edges[k].q, wish.floor_q[k]);
  }

  // Residuals: x, y by plan weight, level rows, crown.
  [[nodiscard]] VectorX residuals(const std::vector<Vec3>& points) const {
    const Eigen::Index n = Eigen::Index(points.size()), rows = wish_.level.rows();
    VectorX r(2 * n + rows + 1), z(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      r.segment<2>(2 * i) = wish_.plan_weight[i] * (points[i].head<2>() - wish_.drawn[i]);
      z[i] = points[i].z();
    }
    r.segment(2 * n, rows) = wish_.level_weight * (wish_.level * z);
    r[2 * n + rows] = kCrownWeight * (mean_height(points, wish_.crown) - wish_.crown_z);
    return r;
  }

  [[nodiscard]] VectorX forward(const VectorX& du) const {
    Rows3 dx = Rows3::Zero(system_.size(), 3);
    for (std::size_t k = 0; k < net_.edges.size(); ++k) {
      const NetEdge& e = net_.edges[k];
      const Vec3 push = du[k] * slope_[k] * (net_.points[e.a] - net_.points[e.b]);
      if (const int i = system_.index(e.a); i >= 0) dx.row(i) -= push.transpose();
      if (const int i = system_.index(e.b); i >= 0) dx.row(i) += push.transpose();
    }
    system_.solve_plainly_in_place(dx);
    const Eigen::Index n = Eigen::Index(net_.points.size()), rows = wish_.level.rows();
    VectorX r = VectorX::Zero(2 * n + rows + 1), dz = VectorX::Zero(n);
    for (Eigen::Index p = 0; p < n; ++p)
      if (const int i = system_.index(int(p)); i >= 0) {
        r.segment<2>(2 * p) = wish_.plan_weight[p] * dx.row(i).head<2>().transpose();
        dz[p] = dx(i, 2);
      }
    r.segment(2 * n, rows) = wish_.level_weight * (wish_.level * dz);
    for (int i : wish_.crown) r[2 * n + rows] += kCrownWeight / double(wish_.crown.size()) * dz[i];
    return r;
  }

  [[nodiscard]] VectorX backward(const VectorX& r) const {
    const Eigen::Index n = Eigen::Index(net_.points.size()), rows = wish_.level.rows();
    VectorX back_z = wish_.level_weight * (wish_.level.transpose() * r.segment(2 * n, rows));
    for (int i : wish_.crown)
      back_z[i] += kCrownWeight / double(wish_.crown.size()) * r[2 * n + rows];
    Rows3 adjoint = Rows3::Zero(system_.size(), 3);
    for (Eigen::Index p = 0; p < n; ++p)
      if (const int i = system_.index(int(p)); i >= 0) {
        adjoint.row(i).head<2>() = wish_.plan_weight[p] * r.segment<2>(2 * p).transpose();
        adjoint(i, 2) = back_z[p];
      }
    system_.solve_plainly_in_place(adjoint);
    VectorX du(net_.edges.size());
    for (std::size_t k = 0; k < net_.edges.size(); ++k) {
      const NetEdge& e = net_.edges[k];
      Vec3 between = Vec3::Zero();
      if (const int i = system_.index(e.b); i >= 0) between += adjoint.row(i).transpose();
      if (const int i = system_.index(e.a); i >= 0) between -= adjoint.row(i).transpose();
      du[k] = slope_[k] * between.dot(net_.points[e.a] - net_.points[e.b]);
    }
    return du;
  }

 private:
  const Net& net_;
  const ShapeWish& wish_;
  FreeSystem system_;
  std::vector<double> slope_;  // dq/du
};

// Misfits are areas, so damping has to be one too: the answer must not depend on the plan's size.
double area_unit(const std::vector<Vec3>& points) {
  Vec3 low = points.front(), high = low;
  for (const Vec3& p : points) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  return (high - low).squaredNorm() / 200;  // about 1 m2 for a plan of 10 m by 10 m
}

// (J'J + damping) du = -gradient by conjugate gradients.
VectorX damped_step(const Tangent& tangent, const VectorX& gradient, double damping) {
  VectorX du = VectorX::Zero(gradient.size()), residual = -gradient, direction = residual;
  double size = residual.squaredNorm();
  const double enough = size * kInnerTolerance * kInnerTolerance;
  for (int i = 0; i < kInnerSteps && size > enough; ++i) {
    const VectorX image = tangent.backward(tangent.forward(direction)) + damping * direction;
    const double along = size / direction.dot(image);
    du += along * direction;
    residual -= along * image;
    const double next = residual.squaredNorm();
    direction = residual + next / size * direction;
    size = next;
  }
  return du;
}

Net stepped(const Net& net, const ShapeWish& wish, const VectorX& du) {
  Net out = net;
  const double longest = du.lpNorm<Eigen::Infinity>();
  const double shrink = longest > kLongestStep ? kLongestStep / longest : 1.0;
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    out.edges[k].q =
        wish.floor_q[k] + above_floor(net.edges[k].q, wish.floor_q[k]) * std::exp(shrink * du[k]);
  return out;
}

}  // namespace

Misfit misfit(const Net& net, const std::vector<double>& downward, const ShapeWish& wish) {
  Net held = net;
  if (auto points = equilibrium(net, as_forces(downward))) held.points = *points;
  const Tangent tangent(held, wish);
  const VectorX r = tangent.residuals(held.points);
  return {0.5 * r.squaredNorm(), tangent.backward(r)};
}

Result<ShapeFit> fit_shape(const Net& net, const std::vector<double>& downward,
                           const ShapeWish& wish, int steps_max) {
  ShapeFit fit;
  auto first = equilibrium_with_height(net, downward, wish.crown, wish.crown_z);
  if (!first) return first.faults();
  fit.net = *first;
  const double unit = area_unit(net.points);
  double damping = 1e-4 * unit;
  for (; fit.steps < steps_max; ++fit.steps) {
    const Tangent tangent(fit.net, wish);
    const VectorX r = tangent.residuals(fit.net.points);
    fit.misfit = 0.5 * r.squaredNorm();
    const VectorX du = damped_step(tangent, tangent.backward(r), damping);
    auto next =
        equilibrium_with_height(stepped(fit.net, wish, du), downward, wish.crown, wish.crown_z);
    if (!next) return next.faults();
    const double value = 0.5 * tangent.residuals(next->points).squaredNorm();
    if (value < fit.misfit) {
      const bool little = value > 0.999 * fit.misfit;
      fit.net = *next;
      fit.misfit = value;
      damping *= 0.3;
      if (little) break;
    } else {
      damping *= 10;
      if (damping > 1e3 * unit) break;
    }
  }
  return fit;
}

}  // namespace skewback::plain
