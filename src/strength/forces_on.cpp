#include "strength/forces_on.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Integral of the pressure times (1, x, y) over the contact where `side` . (1, x, y) >= 0.
Vec3 pressure_sum(const Regions& contact, const Vec3& pressure, const Vec3& side) {
  Regions part;
  for (const Region& region : contact) {
    Region kept_part{kept(kept(region.outer, pressure), side), {}};
    for (const Polygon& hole : region.holes)
      kept_part.holes.push_back(kept(kept(hole, pressure), side));
    part.push_back(std::move(kept_part));
  }
  return moments(part) * pressure;
}

void add(Resultant& sum, const Vec3& force, const Vec3& arm) {
  sum.force += force;
  sum.moment += arm.cross(force);
}

void add_joint(const Joint& joint, const JointLoad& load, bool on_b, const Frame& cut,
               Resultant& sum) {
  const double sign = on_b ? 1 : -1;
  const Frame& f = joint.frame;
  if (!load.pressure.isZero()) {
    const Vec3 side(cut.z.dot(f.origin - cut.origin), cut.z.dot(f.x), cut.z.dot(f.y));
    const Vec3 n = pressure_sum(joint.contact, load.pressure, side);
    const Vec3 about = f.origin - cut.origin;
    sum.force += sign * n[0] * f.z;
    sum.moment += sign * (n[0] * about + n[1] * f.x + n[2] * f.y).cross(f.z);
  }
  for (const ContactForce& c : load.points) {
    const Vec3 arm = c.point - cut.origin;
    if (cut.z.dot(arm) >= 0) add(sum, sign * c.force, arm);
  }
}

/// A force spread evenly over a length 2 half about its point: the part of it in front.
void add_spread(const Vec3& force, const Vec3& point, const Vec3& across, double half,
                const Frame& cut, Resultant& sum) {
  const Vec3 arm = point - cut.origin;
  const double here = cut.z.dot(arm), step = cut.z.dot(across) * half;
  if (std::abs(here) >= std::abs(step) || step == 0) {
    if (here >= 0) add(sum, force, arm);
    return;
  }
  // from s = -here / step to the end at which it is in front
  const double end = step > 0 ? 1 : -1, from = -here / step;
  add(sum, force * std::abs(end - from) / 2, arm + across * half * (end + from) / 2);
}

}  // namespace

std::vector<JointLoad> joint_loads(const Assembly& assembly, const PadState& state) {
  std::vector<JointLoad> loads(assembly.joints.size());
  const std::vector<JointResultant> sums = joint_resultants(assembly, state.forces);
  for (std::size_t j = 0; j < loads.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const double N = sums[j].force.dot(joint.frame.z);
    if (N <= 0) continue;
    loads[j].normal_n = N;
    loads[j].peak_pa = state.joints[j].peak_pa;
    const Vec2 p(-sums[j].moment.dot(joint.frame.y) / N, sums[j].moment.dot(joint.frame.x) / N);
    if (const auto found = linear_pressure(joint.contact, N, p)) loads[j].pressure = found->plane;
  }
  for (const ContactForce& c : state.forces.contacts) {
    JointLoad& load = loads[at(c.joint)];
    const Vec3& z = assembly.joints[at(c.joint)].frame.z;
    ContactForce rest = c;
    if (!load.pressure.isZero()) rest.force -= c.force.dot(z) * z;
    load.points.push_back(rest);
  }
  return loads;
}

BlockCut cut_block(const Assembly& assembly, int block, const Frame& frame) {
  const Solid& solid = assembly.blocks[at(block)].solid;
  return {block, frame, slice(solid, frame), part_in_front(solid, frame.plane())};
}

double spread_half_m(const Brief& brief, const Vec3& point, double to_edge_m) {
  double walk = std::numeric_limits<double>::max();
  for (const auto& line : brief.walkway.lines) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Vec2 a = line[i], d = line[i + 1] - a, p = point.head<2>() - a;
      const double s = std::clamp(p.dot(d) / std::max(d.squaredNorm(), 1e-12), 0.0, 1.0);
      walk = std::min(walk, (p - s * d).norm());
    }
  }
  const double inside = brief.walkway.width_m / 2 - walk;
  return std::max(inside > 0 ? std::min(inside, to_edge_m) : to_edge_m, 0.0);
}

Resultant in_front(const Brief& brief, const Assembly& assembly, const std::vector<int>& joints,
                   const LoadCase& load, const std::vector<JointLoad>& loads, const BlockCut& cut,
                   const Vec3& across) {
  const Block& block = assembly.blocks[at(cut.block)];
  Resultant sum;
  const Vec3 pull = load.gravity + load.live_acceleration;
  sum.force = block.density * cut.part.volume * pull;
  sum.moment = (block.density * cut.part.moment).cross(pull);
  double low = std::numeric_limits<double>::max(), high = std::numeric_limits<double>::lowest();
  if (!across.isZero()) {
    for (const Vec3& v : block.solid.vertices) {
      low = std::min(low, across.dot(v));
      high = std::max(high, across.dot(v));
    }
  }
  const auto spread = [&](const Vec3& force, const Vec3& point) {
    const double to_edge = std::min(across.dot(point) - low, high - across.dot(point));
    const double half = across.isZero() ? 0 : spread_half_m(brief, point, to_edge);
    add_spread(force, point, across, half, cut.frame, sum);
  };
  for (const CarriedMass& carried : block.carried) spread(carried.mass_kg * pull, carried.point);
  for (const LiveForce& live : load.live) {
    if (live.block == cut.block) spread(live.force, live.point);
  }
  for (const int j : joints) {
    const Joint& joint = assembly.joints[at(j)];
    add_joint(joint, loads[at(j)], joint.b == cut.block, cut.frame, sum);
  }
  return sum;
}

Vec3 section_load(const BlockCut& cut, const Resultant& r) {
  return {-r.force.dot(cut.frame.z), r.moment.dot(cut.frame.y), -r.moment.dot(cut.frame.x)};
}

}  // namespace skewback
