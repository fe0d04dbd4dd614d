#include <algorithm>
#include <cmath>
#include <limits>

#include "cut/arm_planes.hpp"
#include "cut/corner.hpp"
#include "geometry/plane_cut.hpp"

namespace skewback {
namespace {

constexpr double kKeyShare = 0.9;    // of the mass limit
constexpr double kLeastRing = 0.12;  // m between the last full joint and the key or the eye
constexpr double kLeastKey = 0.10;   // m that a corner of the key stands ahead of the other sides
constexpr int kSamples = 24;

std::vector<Plane> last_of(const std::vector<ArmCuts>& arms, double recession) {
  std::vector<Plane> out;
  for (const ArmCuts& arm : arms) out.push_back(arm.planes[arm.trunk].moved(recession));
  return out;
}

/// Points as far ahead of a as of b; normal towards b's arm.
Plane bisector(const Plane& a, const Plane& b, double z) {
  const Vec3 normal = (a.normal - b.normal).normalized();
  const double offset =
      (a.normal.dot(a.point) - b.normal.dot(b.point)) / (a.normal - b.normal).norm();
  return {normal * offset + Vec3(0, 0, z) - normal * normal.z() * z, normal};
}

/// Whether the sides still make a key with a side for each arm.
bool makes_key(const std::vector<Plane>& sides, double z) {
  const std::size_t n = sides.size();
  for (std::size_t k = 0; k < n; ++k) {
    const Vec3 p = corner(sides[k], sides[(k + 1) % n], z);
    for (std::size_t j = 0; j < n; ++j)
      if (j != k && j != (k + 1) % n && sides[j].distance(p) < kLeastKey) return false;
  }
  return true;
}

/// How far behind the arms' last joints the key begins: it is as large as its mass may be.
Result<double> recession_of_key(const Brief& brief, const Body& body,
                                const std::vector<ArmCuts>& arms, bool by_legs, double z) {
  Result<Solid> crown = ahead_of_all(body.outer, last_of(arms, 0), by_legs);
  if (!crown) return crown.faults();
  double most = kLeastRing;
  while (makes_key(last_of(arms, most + 0.02), z) && most < 100) most += 0.02;
  double low = kLeastRing, high = most;  // the key is too heavy at low, light enough at high
  const double limit = kKeyShare * brief.blocks.mass_max_kg;
  for (int i = 0; i < 6; ++i) {
    const double mid = (low + high) / 2;
    const Result<Solid> key = ahead_of_all(*crown, last_of(arms, mid), false);
    if (!key) return key.faults();
    (mass_properties(*key).volume * body.density > limit ? low : high) = mid;
  }
  return high;
}

/// How far ahead of a plane an opening's rim begins.
double rim_ahead(const Polygon& rim, const Plane& plane, double z) {
  double least = std::numeric_limits<double>::max();
  for (const Vec2& p : rim) least = std::min(least, plane.distance(Vec3(p.x(), p.y(), z)));
  return least;
}

const Polygon& eye_of(const Plan& plan, const Vec2& middle) {
  for (const Polygon& opening : plan.openings)
    if (contains({Polygon(opening.rbegin(), opening.rend()), {}}, middle)) return opening;
  return plan.openings.front();
}

/// Joints of one arm's rings, as distances ahead of its last full joint.
std::vector<double> rings(const Brief& brief, const Body& body, const ArmCuts& arm,
                          const Plane& left, const Plane& right, double length, double mass_most) {
  // the sector is as wide as its walls leave it, but hardly wider than the arm
  const Plane& last = arm.planes[arm.trunk];
  const Vec3 across = last.normal.cross(Vec3::UnitZ()).normalized();
  const Vec3 middle = last.point;
  const auto reach = [&](const Plane& wall, double s, double side) {
    const Vec3 p = middle + s * last.normal;
    const double along = side * wall.normal.dot(across);
    const double away = std::abs(along) < 1e-6 ? 1e9 : -wall.distance(p) / along;
    return std::clamp(away, 0.0, 0.6 * arm.width_max_m);
  };
  std::vector<double> along, mass;
  const double depth = body.section.depth_crown_m;
  for (int i = 0; i <= kSamples; ++i) {
    const double s = length * i / kSamples;
    const double width = std::max(0.1, std::max(reach(left, s, 1), reach(left, s, -1)) +
                                           std::max(reach(right, s, 1), reach(right, s, -1)));
    along.push_back(s);
    mass.push_back(width * depth * body.density * solid_fraction(body.section, depth, width));
  }
  return even_courses(along, mass, {brief.blocks.length_m, mass_most, 0});
}

/// Whether the walls of some arm would meet beside the eye: between them they would leave out some
/// of the crown there, or have it twice.
bool meet_beside(const Polygon& eye, const std::vector<Plane>& walls, double z) {
  const Region inside{Polygon(eye.rbegin(), eye.rend()), {}};
  const std::size_t n = walls.size();
  for (std::size_t k = 0; k < n; ++k)
    if (!contains(inside, corner(walls[(k + n - 1) % n], walls[k], z).head<2>())) return true;
  return false;
}

/// Upright, from the place where two arms' last full joints meet to the middle; normal as of the
/// bisector it stands in for.
Plane wall_to_middle(const Plane& a, const Plane& b, const Plane& bisector, const Vec2& middle,
                     double z) {
  const Vec3 from = corner(a, b, z), way = from - Vec3(middle.x(), middle.y(), z);
  Vec3 normal = way.cross(Vec3::UnitZ()).normalized();
  if (normal.dot(bisector.normal) < 0) normal = -normal;
  return {from, normal};
}

}  // namespace

Result<Solid> ahead_of_all(Solid solid, const std::vector<Plane>& planes, bool plainly) {
  for (const Plane& plane : planes) {
    if (plainly) {
      auto parts = split_plainly(solid, plane);
      if (!parts)
        return Fault{.key = "cut: where the arms meet",
                     .found = "a last joint plane that passes through a corner of the body",
                     .expected = "planes that pass between the corners",
                     .change = "a slightly different form.mesh_size or blocks.length"};
      solid = std::move(parts->second);
      continue;
    }
    Result<Solid> rest = clip(solid, plane.opposite());
    if (!rest) return rest;
    solid = std::move(rest).value();
  }
  return solid;
}

Result<JointPlanes> with_crown(const Brief& brief, const Body& body,
                               const std::vector<ArmLimits>& limits, JointPlanes planes) {
  const std::size_t n = planes.arms.size();
  double z = 0;
  for (const ArmCuts& arm : planes.arms) z += arm.planes.back().point.z() / static_cast<double>(n);
  const std::vector<Plane> last = last_of(planes.arms, 0);
  for (std::size_t k = 0; k < n; ++k)
    planes.walls.push_back(bisector(last[k], last[(k + 1) % n], z));
  if (planes.eye && meet_beside(eye_of(brief.plan, planes.middle), planes.walls, z))
    for (std::size_t k = 0; k < n; ++k)
      planes.walls[k] =
          wall_to_middle(last[k], last[(k + 1) % n], planes.walls[k], planes.middle, z);
  double recession = 0;
  if (!planes.eye) {
    const Result<double> found = recession_of_key(brief, body, planes.arms, planes.by_legs, z);
    if (!found) return found.faults();
    recession = *found;
  }
  for (std::size_t k = 0; k < n; ++k) {
    ArmCuts& cuts = planes.arms[k];
    const double rim =
        planes.eye ? rim_ahead(eye_of(brief.plan, planes.middle), last[k], z) : recession;
    if (rim < kLeastRing) {
      return Fault{.key = "cut: where the arms meet",
                   .found = "joints that reach the opening before they reach the waists",
                   .expected = "room for a ring of blocks round the opening",
                   .change = "a smaller opening, or free edges that bow less far in"};
    }
    const std::vector<double> joints = rings(brief, body, cuts, planes.walls[(k + n - 1) % n],
                                             planes.walls[k], rim, limits[k].course_mass_most_kg);
    const std::size_t end = joints.size() - (planes.eye ? 1 : 0);
    for (std::size_t i = 1; i < end; ++i) {
      cuts.planes.push_back(last[k].moved(joints[i]));
      cuts.phi_m.push_back(cuts.phi_m[cuts.trunk] + joints[i]);
    }
  }
  if (!planes.eye && n == 3 && brief.print.otherwise.front() == "divide")
    planes.hub = corner(planes.walls[0], planes.walls[1], z).head<2>();
  return planes;
}

}  // namespace skewback
