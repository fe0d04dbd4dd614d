#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "stand/half_ring.hpp"
#include "stand/stand.hpp"

namespace skewback {

Polygon kept(const Polygon& ring, const Vec3& t) {
  Polygon out;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &p = ring[i], &q = ring[(i + 1) % ring.size()];
    const double sp = t[0] + t[1] * p.x() + t[2] * p.y(), sq = t[0] + t[1] * q.x() + t[2] * q.y();
    if (sp >= 0) out.push_back(p);
    if ((sp >= 0) != (sq >= 0)) out.push_back(p + sp / (sp - sq) * (q - p));
  }
  return out;
}

namespace {

struct Integrals {
  double energy = 0;            // of pressure squared, halved
  Vec3 force = Vec3::Zero();    // of pressure times (1, x, y)
  Mat3 moments = Mat3::Zero();  // of (1, x, y)(1, x, y)'
};

/// Adds a ring where the pressure t . (1, x, y) is not negative, as a fan of signed triangles;
/// formed from pressures at corners so that a narrow strip loses no digits.
void add_ring(const Polygon& ring, const Vec3& t, Integrals& sum) {
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
    const std::array<Vec3, 3> u = {Vec3(1, ring[0].x(), ring[0].y()),
                                   Vec3(1, ring[i].x(), ring[i].y()),
                                   Vec3(1, ring[i + 1].x(), ring[i + 1].y())};
    const Vec2 d = ring[i] - ring[0], e = ring[i + 1] - ring[0];
    const double share = (d.x() * e.y() - d.y() * e.x()) / 24;
    const Vec3 total = u[0] + u[1] + u[2];
    double pressures = 0;
    for (const Vec3& corner : u) pressures += t.dot(corner);
    sum.energy += 0.5 * share * pressures * pressures;
    sum.force += share * pressures * total;
    sum.moments += share * total * total.transpose();
    for (const Vec3& corner : u) {
      const double pressure = t.dot(corner);
      sum.energy += 0.5 * share * pressure * pressure;
      sum.force += share * pressure * corner;
      sum.moments += share * corner * corner.transpose();
    }
  }
}

Integrals integrals(const Regions& regions, const Vec3& t) {
  Integrals sum;
  for (const Region& region : regions) {
    add_ring(kept(region.outer, t), t, sum);
    for (const Polygon& hole : region.holes) add_ring(kept(hole, t), t, sum);
  }
  return sum;
}

Regions in_units(const Regions& regions, const Vec2& origin, double length) {
  Regions out = regions;
  for (Region& region : out) {
    for (Vec2& p : region.outer) p = (p - origin) / length;
    for (Polygon& hole : region.holes) {
      for (Vec2& p : hole) p = (p - origin) / length;
    }
  }
  return out;
}

double peak_of(const Regions& regions, const Vec3& t) {
  double peak = 0;
  for (const Region& region : regions) {
    for (const Vec2& p : region.outer) peak = std::max(peak, t[0] + t[1] * p.x() + t[2] * p.y());
  }
  return peak;
}

bool origin_inside_hull(const Regions& regions, double tolerance) {
  std::vector<Vec2> points;
  for (const Region& region : regions) {
    points.insert(points.end(), region.outer.begin(), region.outer.end());
  }
  const Polygon hull = convex_hull(points);
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 e = hull[(i + 1) % hull.size()] - hull[i], d = -hull[i];
    if (e.x() * d.y() - e.y() * d.x() <= tolerance * e.norm()) return false;
  }
  return hull.size() > 2;
}

/// Plane t whose pressure has the resultant 1 at the origin: minimises the convex
/// F(t) = 1/2 integral of max(t . (1, x, y), 0)^2 - t . (1, 0, 0) by Newton's method, line search.
std::optional<Vec3> solve_plane(const Regions& regions) {
  const Vec3 load = Vec3::UnitX();
  Vec3 t = load / area(regions);  // uniform: F < 0 there, so later steps cannot lift everything off
  Integrals at = integrals(regions, t);
  for (int round = 0; round < 200; ++round) {
    const Vec3 gradient = at.force - load;
    if (gradient.lpNorm<Eigen::Infinity>() <= 1e-13) break;
    const Vec3 step = at.moments.ldlt().solve(-gradient);
    const double slope = gradient.dot(step);
    if (!step.allFinite() || !(slope < 0)) break;
    const double value = at.energy - t[0];
    // near the end the gain is below what the energy is rounded to: the full step is then right
    const double rounding = 1e-13 * std::max(1.0, std::abs(value));
    double s = 1;
    Integrals next = integrals(regions, t + step);
    while (s > 1e-6 && next.energy - t[0] - s * step[0] > value + 1e-4 * s * slope + rounding) {
      s /= 2;
      next = integrals(regions, t + s * step);
    }
    if (s <= 1e-6) break;
    t += s * step;
    at = next;
  }
  if ((at.force - load).lpNorm<Eigen::Infinity>() <= 1e-10) return t;
  return std::nullopt;
}

}  // namespace

std::optional<LinearPressure> linear_pressure(const Regions& contact, double N, const Vec2& p) {
  const double A = area(contact);
  if (!(A > 0) || !(N > 0)) {
    return N == 0 ? std::optional<LinearPressure>(LinearPressure{}) : std::nullopt;
  }
  const double length = std::sqrt(A);
  const Regions scaled = in_units(contact, p, length);
  if (!origin_inside_hull(scaled, 1e-9)) return std::nullopt;
  const std::optional<Vec3> t = solve_plane(scaled);
  if (!t) return std::nullopt;
  LinearPressure out;
  out.peak_pa = peak_of(scaled, *t) * N / A;
  const Vec2 slope = t->tail<2>() / length;
  out.plane = N / A * Vec3((*t)[0] - slope.dot(p), slope.x(), slope.y());
  for (const Region& region : scaled) {
    out.compressed_m2 += A * area(kept(region.outer, *t));
    for (const Polygon& hole : region.holes) out.compressed_m2 += A * area(kept(hole, *t));
  }
  return out;
}

std::optional<double> peak_pressure(const Regions& contact, double N, const Vec2& p) {
  const std::optional<LinearPressure> found = linear_pressure(contact, N, p);
  return found ? std::optional<double>(found->peak_pa) : std::nullopt;
}

std::vector<JointResultant> joint_resultants(const Assembly& assembly, const Forces& forces) {
  std::vector<JointResultant> joints(assembly.joints.size());
  for (const ContactForce& c : forces.contacts) {
    const auto j = static_cast<std::size_t>(c.joint);
    joints[j].force += c.force;
    joints[j].moment += (c.point - assembly.joints[j].frame.origin).cross(c.force);
  }
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const Frame& frame = assembly.joints[j].frame;
    const double N = joints[j].force.dot(frame.z);
    if (N <= 0) continue;
    const double shear = (joints[j].force - N * frame.z).norm();
    joints[j].angle_deg = std::atan2(shear, N) * 180 / kPi;
    const Vec2 at(-joints[j].moment.dot(frame.y) / N, joints[j].moment.dot(frame.x) / N);
    joints[j].peak_pressure_pa = peak_pressure(assembly.joints[j].contact, N, at);
  }
  return joints;
}

}  // namespace skewback
