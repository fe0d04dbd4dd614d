#include "ground/raft_plan.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

namespace skewback {

Mat3 plan_moments(const Polygon& convex) {
  Mat3 sum = Mat3::Zero();
  for (std::size_t i = 1; i + 1 < convex.size(); ++i) {
    const Vec2 &a = convex[0], &b = convex[i], &c = convex[i + 1];
    const double area = ((b - a).x() * (c - a).y() - (b - a).y() * (c - a).x()) / 2;
    for (const Vec2& p : {Vec2((a + b) / 2), Vec2((b + c) / 2), Vec2((c + a) / 2)}) {
      const Vec3 v(1, p.x(), p.y());
      sum += area / 3 * v * v.transpose();
    }
  }
  return sum;
}

RaftPlan raft_plan(const Polygon& outline) {
  RaftPlan plan;
  plan.outline = outline;
  plan.moments = plan_moments(outline);
  plan.area_m2 = plan.moments(0, 0);
  plan.centre = plan.moments.block<2, 1>(1, 0) / plan.area_m2;
  const Eigen::Matrix2d second =
      plan.moments.block<2, 2>(1, 1) - plan.area_m2 * plan.centre * plan.centre.transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(second);
  plan.across = axes.eigenvectors().col(0);
  const double ratio = std::sqrt(axes.eigenvalues()[1] / axes.eigenvalues()[0]);
  plan.size_m = {std::sqrt(plan.area_m2 / ratio), std::sqrt(plan.area_m2 * ratio)};
  return plan;
}

RaftCut cut_plan(const Polygon& convex, const Vec2& n, double share) {
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const Vec2& p : convex) {
    low = std::min(low, n.dot(p));
    high = std::max(high, n.dot(p));
  }
  RaftCut cut;
  cut.offset_m = low + share * (high - low);
  std::vector<Vec2> ends;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Vec2 &p = convex[i], &q = convex[(i + 1) % convex.size()];
    const double a = n.dot(p) - cut.offset_m, b = n.dot(q) - cut.offset_m;
    if (a > 0) cut.side.push_back(p);
    if ((a > 0) == (b > 0)) continue;
    const Vec2 at = p + a / (a - b) * (q - p);
    cut.side.push_back(at);
    ends.push_back(at);
  }
  if (ends.size() == 2) cut.width_m = (ends[1] - ends[0]).norm();
  return cut;
}

std::vector<Vec2> footing_corners(const Support& support, const FootingSize& size) {
  const Vec2 along = (support.b - support.a).normalized(), out(along.y(), -along.x());
  const Vec2 middle = (support.a + support.b) / 2, half = size.length_m / 2 * along;
  return {middle - size.inner_m * out - half, middle + size.outer_m * out - half,
          middle + size.outer_m * out + half, middle - size.inner_m * out + half};
}

}  // namespace skewback
