#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "stand/stand.hpp"

namespace skewback {

namespace {

/// Part of a ring where t . (1, x, y) >= 0. Edges along the cut may overlap; integrals stay exact.
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

/// Adds the integrals of (1, x, y)(1, x, y)' over a ring (signed by its sense).
void add_moments(const Polygon& ring, Mat3& M) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &p = ring[i], &q = ring[(i + 1) % ring.size()];
    const double cross = p.x() * q.y() - q.x() * p.y();
    const Vec2 s = p + q;
    M(0, 0) += cross / 2;
    M(0, 1) += cross * s.x() / 6;
    M(0, 2) += cross * s.y() / 6;
    M(1, 1) += cross * (p.x() * p.x() + p.x() * q.x() + q.x() * q.x()) / 12;
    M(2, 2) += cross * (p.y() * p.y() + p.y() * q.y() + q.y() * q.y()) / 12;
    M(1, 2) += cross * (p.x() * (2 * p.y() + q.y()) + q.x() * (p.y() + 2 * q.y())) / 24;
  }
}

Mat3 moments_under(const Regions& regions, const Vec3& t) {
  Mat3 M = Mat3::Zero();
  for (const Region& region : regions) {
    add_moments(kept(region.outer, t), M);
    for (const Polygon& hole : region.holes) add_moments(kept(hole, t), M);
  }
  return M.selfadjointView<Eigen::Upper>();
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

bool inside_hull(const Regions& regions, const Vec2& p, double tolerance) {
  std::vector<Vec2> points;
  for (const Region& region : regions) {
    points.insert(points.end(), region.outer.begin(), region.outer.end());
  }
  const Polygon hull = convex_hull(points);
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 e = hull[(i + 1) % hull.size()] - hull[i], d = p - hull[i];
    if (e.x() * d.y() - e.y() * d.x() <= tolerance * e.norm()) return false;
  }
  return hull.size() > 2;
}

/// Plane t with the no-tension resultant (1 at p): minimises the convex
/// F(t) = 1/2 integral of max(t.(1,x,y), 0)^2 - t.(1, p) by Newton's method with a line search.
std::optional<Vec3> solve_plane(const Regions& regions, const Vec2& p) {
  const Vec3 load(1, p.x(), p.y());
  const auto F = [&](const Vec3& t) {
    return 0.5 * t.dot(moments_under(regions, t) * t) - load.dot(t);
  };
  const Vec3 everywhere(1, 0, 0);  // a uniform pressure to start with: F < 0 there
  const double whole = moments_under(regions, everywhere)(0, 0);
  Vec3 t = everywhere / whole;
  double value = F(t);
  for (int round = 0; round < 200; ++round) {
    const Mat3 M = moments_under(regions, t);
    const Vec3 gradient = M * t - load;
    if (gradient.lpNorm<Eigen::Infinity>() <= 1e-13) return t;
    const Vec3 step = M.ldlt().solve(-gradient);
    const double slope = gradient.dot(step);
    if (!step.allFinite() || !(slope < 0)) break;
    double s = 1;
    while (s > 1e-12 && F(t + s * step) > value + 1e-4 * s * slope) s /= 2;
    if (s <= 1e-12) break;
    t += s * step;
    value = F(t);
  }
  const Vec3 left = moments_under(regions, t) * t - load;
  if (left.lpNorm<Eigen::Infinity>() <= 1e-9) return t;
  return std::nullopt;
}

}  // namespace

std::optional<double> peak_pressure(const Regions& contact, double N, const Vec2& p) {
  const double A = area(contact);
  if (!(A > 0) || !(N > 0)) return N == 0 ? std::optional<double>(0.0) : std::nullopt;
  const double length = std::sqrt(A);
  const Vec2 origin = centroid(contact);
  const Regions scaled = in_units(contact, origin, length);
  const Vec2 at = (p - origin) / length;
  if (!inside_hull(scaled, at, 1e-9)) return std::nullopt;
  const std::optional<Vec3> plane = solve_plane(scaled, at);
  if (!plane) return std::nullopt;
  return peak_of(scaled, *plane) * N / A;
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
