#include "form/plain_fit.hpp"

#include <algorithm>
#include <cmath>

#include "form/free_system.hpp"
#include "form/plain_tangent.hpp"
#include "form/wish.hpp"

namespace skewback::plain {
namespace {

constexpr int kInnerSteps = 80;
constexpr double kInnerTolerance = 1e-3;  // of the first residual
constexpr double kLongestStep = 1.5;      // of any u: a factor of e^1.5 on a force

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
  VectorX du = VectorX::Zero(gradient.size()), residual = -gradient, direction = residual, image;
  double size = residual.squaredNorm();
  const double enough = size * kInnerTolerance * kInnerTolerance;
  for (int i = 0; i < kInnerSteps && size > enough; ++i) {
    tangent.normal(direction, damping, image);
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
  const VectorX r = residuals(held.points, wish);
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
  Tangent tangent(fit.net, wish);
  FreeSystem system(fit.net);
  VectorX r = residuals(fit.net.points, wish), gradient = tangent.backward(r);
  fit.misfit = 0.5 * r.squaredNorm();
  for (; fit.steps < steps_max; ++fit.steps) {
    const VectorX du = damped_step(tangent, gradient, damping);
    auto next = equilibrium_with_height(system, stepped(fit.net, wish, du), downward, wish.crown,
                                        wish.crown_z);
    if (!next) return next.faults();
    r = residuals(next->points, wish);
    const double value = 0.5 * r.squaredNorm();
    if (value < fit.misfit) {
      const bool little = value > 0.999 * fit.misfit;
      fit.net = std::move(next).value();
      fit.misfit = value;
      damping *= 0.3;
      if (little) break;
      if (fit.steps + 1 == steps_max) continue;
      tangent.move_to(fit.net);
      gradient = tangent.backward(r);
    } else {
      damping *= 10;
      if (damping > 1e3 * unit) break;
    }
  }
  return fit;
}

}  // namespace skewback::plain
