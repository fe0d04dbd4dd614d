#include "stand/depth.hpp"

#include <algorithm>
#include <cmath>

#include "stand/limit.hpp"

namespace skewback {
namespace {

constexpr double kTie = 0.01;  // joints that help about as much: the first is named

Joint shallower(const Joint& joint, double share) {
  const double middle = depth_of(joint).middle();
  Joint out = joint;
  const auto draw = [&](Polygon& polygon) {
    for (Vec2& p : polygon) p.y() = middle + share * (p.y() - middle);
  };
  for (Region& region : out.contact) {
    draw(region.outer);
    for (Polygon& hole : region.holes) draw(hole);
  }
  return out;
}

// Change of the least support with the share, joint by joint: the optimum's forces on contact
// points that move, against its dual velocities (sensitivity of a linear program to its matrix).
VectorX slopes(const Assembly& drawn, const Program& program, const Balance& balance,
               double share) {
  VectorX sum = VectorX::Zero(static_cast<Eigen::Index>(drawn.joints.size()));
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const Contact& c = program.contacts[i];
    if (c.joint < 0) continue;
    const Joint& joint = drawn.joints[static_cast<std::size_t>(c.joint)];
    const double y = (c.point - joint.frame.origin).dot(joint.frame.y);
    const Vec3 moves = (y - depth_of(joint).middle()) / share * joint.frame.y;
    const Vec3 moment = moves.cross(world_force(c, balance.f, i)) / program.length_unit;
    for (const auto& [block, sign] : {std::pair{c.b, 1.0}, {c.a, -1.0}}) {
      const int slot = block < 0 ? -1 : program.slot[static_cast<std::size_t>(block)];
      if (slot < 0) continue;
      sum[c.joint] += sign * moment.dot(balance.rows.segment<3>(6 * slot + 3));
    }
  }
  return sum;
}

}  // namespace

Extent depth_of(const Joint& joint) {
  Extent extent{1e300, -1e300};
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      extent.low = std::min(extent.low, p.y());
      extent.high = std::max(extent.high, p.y());
    }
  }
  return extent;
}

DepthTrial try_share(const Assembly& assembly, const LoadCase& load, double live_factor,
                     const StandOptions& options, double share, const Graph& graph) {
  Assembly drawn = assembly;
  for (Joint& joint : drawn.joints) joint = shallower(joint, share);
  // forces inside the cone or not is all that is asked: no mechanism
  Program program = build(drawn, load, options, &graph);
  program.weight += live_factor * program.live;
  DepthTrial trial;
  trial.holds = holds(program, options.tolerance);
  if (trial.holds) return trial;
  constexpr double kEnough = 1e-6;  // only to aim by
  const Balance balance = least_support(program, kEnough);
  if (balance.rows.size() == 0) return trial;
  trial.lacking = balance.support;
  const VectorX each = slopes(drawn, program, balance, share);
  trial.slope = each.sum();
  const double most = each.minCoeff();
  for (Eigen::Index j = 0; j < each.size() && trial.joint < 0; ++j) {
    if (each[j] <= (1 - kTie) * most) trial.joint = static_cast<int>(j);
  }
  return trial;
}

}  // namespace skewback
