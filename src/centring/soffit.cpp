#include "centring/soffit.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace skewback {
namespace {

using Face = SoffitFace;

Face face_of(const Solid& solid, const std::vector<int>& loop) {
  Face face;
  for (const int i : loop) face.corners.push_back(solid.vertices[i]);
  Vec3 twice = Vec3::Zero();
  for (std::size_t i = 0; i < face.corners.size(); ++i) {
    const Vec3 &p = face.corners[i], &q = face.corners[(i + 1) % face.corners.size()];
    twice += (p - face.corners[0]).cross(q - face.corners[0]);
    face.centre += p / static_cast<double>(face.corners.size());
  }
  face.area = twice.norm() / 2;
  if (face.area > 0) face.normal = twice.normalized();
  return face;
}

bool is_bed(const Assembly& assembly, int block, const Face& face) {
  return std::ranges::any_of(assembly.joints, [&](const Joint& joint) {
    if (joint.a != block && joint.b != block) return false;
    if (std::abs(joint.frame.z.dot(face.normal)) < 0.999) return false;
    const double reach = (joint.pad ? joint.pad->thickness_m / 2 : 0.0) + 1e-3;
    return std::abs(joint.frame.plane().distance(face.centre)) <= reach;
  });
}

/// Does the ray from a point hit the triangle ahead of it (Moeller and Trumbore 1997)?
bool hits(const Vec3& from, const Vec3& way, const Vec3& a, const Vec3& b, const Vec3& c) {
  const Vec3 e1 = b - a, e2 = c - a, p = way.cross(e2);
  const double det = e1.dot(p);
  if (std::abs(det) < 1e-14) return false;
  const Vec3 s = from - a, q = s.cross(e1);
  const double u = s.dot(p) / det, v = way.dot(q) / det, t = e2.dot(q) / det;
  return u >= 0 && v >= 0 && u + v <= 1 && t > 1e-6;
}

bool seen_from_outside(const Face& face, const std::vector<Face>& faces) {
  // From inside the first triangle: the mean of the corners may lie outside a face that is not
  // convex.
  const Vec3 eye = (face.corners[0] + face.corners[1] + face.corners[2]) / 3;
  return std::ranges::none_of(faces, [&](const Face& other) {
    if (&other == &face) return false;
    for (std::size_t k = 2; k < other.corners.size(); ++k) {
      if (hits(eye, face.normal, other.corners[0], other.corners[k - 1], other.corners[k])) {
        return true;
      }
    }
    return false;
  });
}

}  // namespace

std::vector<SoffitFace> soffit(const Assembly& assembly, int block) {
  const Solid& solid = assembly.blocks[block].solid;
  std::vector<Face> all, down;
  for (const auto& loop : solid.faces) all.push_back(face_of(solid, loop));
  Vec3 mean = Vec3::Zero();
  for (const Face& face : all) {
    if (face.area < 1e-9 || face.normal.z() > -0.1 || is_bed(assembly, block, face)) continue;
    if (!seen_from_outside(face, all)) continue;
    down.push_back(face);
    mean += face.area * face.normal;
  }
  if (down.empty()) return down;
  mean.normalize();
  // Sides that lean a little are no soffit.
  std::erase_if(down, [&](const Face& face) { return face.normal.dot(mean) < std::sqrt(0.5); });
  return down;
}

namespace {

/// Plane of the soffit face over or under a point, seen along the frame's z; the frame's own if
/// there is none.
Plane surface_at(const std::vector<Face>& faces, const Frame& frame, const Vec2& p) {
  for (const Face& face : faces) {
    Region flat;
    for (const Vec3& corner : face.corners) flat.outer.push_back(frame.to_local(corner).head<2>());
    if (contains(flat, p)) return {face.centre, face.normal};
  }
  return frame.plane();
}

}  // namespace

std::vector<Prop> seats_of(const Assembly& assembly, int block, double friction) {
  const std::vector<Face> faces = soffit(assembly, block);
  if (faces.empty()) return {};
  Vec3 centre = Vec3::Zero(), normal = Vec3::Zero();
  double whole = 0;
  for (const Face& face : faces) {
    centre += face.area * face.centre;
    normal += face.area * face.normal;
    whole += face.area;
  }
  const Frame frame = frame_on({centre / whole, normal.normalized()});
  Polygon corners;
  for (const Face& face : faces) {
    for (const Vec3& corner : face.corners) corners.push_back(frame.to_local(corner).head<2>());
  }
  std::vector<Prop> seats;
  std::vector<Vec2> taken;
  // corners first; a soffit of three sides may need the directions between
  for (const auto& way : {Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1), Vec2(-1.4, 0),
                          Vec2(0, -1.4), Vec2(1.4, 0), Vec2(0, 1.4)}) {
    if (taken.size() >= 4) break;
    const Vec2 extreme =
        *std::ranges::max_element(corners, {}, [&](const Vec2& p) { return way.dot(p); });
    if (std::ranges::any_of(taken, [&](const Vec2& t) { return (t - extreme).norm() < 0.05; }))
      continue;
    taken.push_back(extreme);
    const Vec2 p = 0.9 * extreme;  // the frame's origin is the middle of the soffit
    const Plane surface = surface_at(faces, frame, p);
    const Vec3 start = frame.to_world(p);
    const double along = -surface.distance(start) / surface.normal.dot(frame.z);
    seats.push_back({block, start + along * frame.z, -surface.normal, friction});
  }
  return seats;
}

}  // namespace skewback
