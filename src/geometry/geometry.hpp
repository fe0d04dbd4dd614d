#pragma once
// Frames, planes, polygons, solids. Metres, right-handed, z up. Frames by suffix: _W world, _J
// joint.

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <array>
#include <utility>
#include <vector>

#include "base/result.hpp"

namespace skewback {

using Vec2 = Eigen::Vector2d;
using Vec3 = Eigen::Vector3d;
using Mat3 = Eigen::Matrix3d;

// ---- planes, frames, rigid motions -------------------------------------------------------------

struct Plane {
  Vec3 point = Vec3::Zero();
  Vec3 normal = Vec3::UnitZ();  // unit length
  [[nodiscard]] double distance(const Vec3& p) const { return normal.dot(p - point); }  // signed, m
  [[nodiscard]] Plane opposite() const { return {point, -normal}; }
  [[nodiscard]] Plane moved(double along_normal) const {
    return {point + along_normal * normal, normal};
  }
};

struct Frame {
  Vec3 origin = Vec3::Zero();
  Vec3 x = Vec3::UnitX(), y = Vec3::UnitY(), z = Vec3::UnitZ();  // orthonormal, right-handed
  [[nodiscard]] Vec3 to_local(const Vec3& p_W) const {
    const Vec3 d = p_W - origin;
    return {d.dot(x), d.dot(y), d.dot(z)};
  }
  [[nodiscard]] Vec3 to_world(const Vec3& p) const {
    return origin + p.x() * x + p.y() * y + p.z() * z;
  }
  [[nodiscard]] Vec3 to_world(const Vec2& p) const { return origin + p.x() * x + p.y() * y; }
  [[nodiscard]] Plane plane() const { return {origin, z}; }
};

/// Frame in a plane whose y axis is the line of steepest ascent in it (world x if the plane is
/// level).
[[nodiscard]] Frame frame_on(const Plane& plane);

struct Rigid {  // p -> R p + t
  Mat3 R = Mat3::Identity();
  Vec3 t = Vec3::Zero();
  [[nodiscard]] Vec3 operator()(const Vec3& p) const { return R * p + t; }
};

// ---- plane regions -----------------------------------------------------------------------------

using Polygon =
    std::vector<Vec2>;  // closed, last point not repeated; counter-clockwise = positive area

struct Region {                // one connected piece of a plane
  Polygon outer;               // counter-clockwise
  std::vector<Polygon> holes;  // clockwise
};
using Regions = std::vector<Region>;

[[nodiscard]] double area(const Polygon& polygon);  // signed
[[nodiscard]] double area(const Region& region);
[[nodiscard]] double area(const Regions& regions);
[[nodiscard]] Vec2 centroid(const Region& region);
[[nodiscard]] Vec2 centroid(const Regions& regions);
[[nodiscard]] bool contains(const Region& region, const Vec2& p);  // boundary: either
[[nodiscard]] bool self_crossing(const Polygon& polygon);
[[nodiscard]] Polygon convex_hull(const std::vector<Vec2>& points);  // ccw, no collinear points

/// Second moments of area about the origin: {integral x2, integral y2, integral xy}.
[[nodiscard]] std::array<double, 3> second_moments(const Region& region);

// Boolean operations on a 10 nm grid (Clipper). Slivers under 1e-12 m2 are dropped.
[[nodiscard]] Regions intersect(const Regions& a, const Regions& b);
[[nodiscard]] Regions unite(const Regions& a);
[[nodiscard]] Regions subtract(const Regions& a, const Regions& b);
/// Grows (d > 0) or shrinks (d < 0) with mitred corners.
[[nodiscard]] Regions offset(const Regions& a, double d);
[[nodiscard]] Regions strip_along(const std::vector<Vec2>& line, double width);  // flat ends

// ---- solids ------------------------------------------------------------------------------------

struct Solid {  // closed surface; faces are flat, counter-clockwise seen from outside
  std::vector<Vec3> vertices;
  std::vector<std::vector<int>> faces;
};

struct MassProperties {
  double volume = 0;             // m3
  Vec3 centroid = Vec3::Zero();  // m
  Mat3 inertia = Mat3::Zero();   // about the centroid at unit density, m5
};

/// Exact for closed surfaces with flat faces, holes and voids included (divergence theorem).
[[nodiscard]] MassProperties mass_properties(const Solid& solid);
[[nodiscard]] bool closed(const Solid& solid);  // every edge used once in each direction
[[nodiscard]] Solid moved(const Solid& solid, const Rigid& X);
[[nodiscard]] Solid box(const Vec3& low, const Vec3& high);
/// Prism between a polygon in `frame` at local z = from and the same polygon at z = to (from < to).
[[nodiscard]] Solid prism(const Frame& frame, const Polygon& polygon, double from, double to);
/// Closed tube skinned through rings of equal point count, each counter-clockwise for an eye that
/// stands before the first ring and looks towards the last; both ends capped by a fan about their
/// centroid.
[[nodiscard]] Solid skin(const std::vector<std::vector<Vec3>>& rings);
[[nodiscard]] Solid join(const std::vector<Solid>& parts);  // concatenates; no boolean

/// Flat pieces of the surface that lie in the frame's plane (|z| <= tol), in frame coordinates,
/// united and cleaned. Only faces whose outward normal is along +z (`facing` = +1) or -z (-1).
[[nodiscard]] Regions faces_in_plane(const Solid& solid, const Frame& frame, int facing,
                                     double tol);

/// What a plane leaves of a closed solid: its cross-section, in the frame's x and y.
[[nodiscard]] Regions slice(const Solid& solid, const Frame& frame);

// ---- the operations CGAL does for us (geometry/cgal.cpp) ---------------------------------------

/// Keeps what is behind the plane (distance <= 0), closed by a flat cap. Empty solid if nothing is.
/// Solids handed in must be closed; faces are triangulated. Faults: not closed, or the clip failed.
[[nodiscard]] Result<Solid> clip(const Solid& solid, const Plane& plane);
/// {behind, in front}; both caps lie in the plane.
[[nodiscard]] Result<std::pair<Solid, Solid>> split(const Solid& solid, const Plane& plane);
/// a minus b. No face of b may be coplanar with a face of a.
[[nodiscard]] Result<Solid> subtract(const Solid& a, const Solid& b);
/// a and b as one. No face of b may be coplanar with a face of a.
[[nodiscard]] Result<Solid> unite(const Solid& a, const Solid& b);
[[nodiscard]] Result<bool> self_intersects(const Solid& solid);

struct TriangleMesh2 {
  std::vector<Vec2> vertices;
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise
};
struct TriangleMesh3 {  // an open surface
  std::vector<Vec3> vertices;
  std::vector<std::array<int, 3>> triangles;
};
/// Constrained triangulation of a region, no points added. Empty if a point comes twice or outlines
/// cross.
[[nodiscard]] TriangleMesh2 triangulate(const Region& region);

}  // namespace skewback
