#include "cut/joints.hpp"

#include <algorithm>

#include "assembly/pad_rules.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m
constexpr double kSetIn = 3e-8;  // m: rounding in plane booleans never puts a corner outside a face
constexpr double kLeastContact = 1e-4;  // m2; no pad is cut for less, and it is not counted on

std::size_t at(int i) { return static_cast<std::size_t>(i); }

Pad pad_of(const JointRequest& request, const Regions& contact) {
  const double t = request.pad_thickness_m, G = request.pad_shear_modulus_pa;
  return {t, pad_modulus_pa(G, pad_shape(contact, t)) / t, G / t};
}

}  // namespace

Facing::Facing(const JointRequest& request, const Assembly& assembly, const Plane& mid,
               const std::vector<int>& below, const std::vector<int>& above)
    : request_(request), mid_(mid), frame_(frame_on(mid)) {
  below_ = faces(assembly, below, 1);
  above_ = faces(assembly, above, -1);
}

std::vector<Facing::Face> Facing::faces(const Assembly& assembly, const std::vector<int>& blocks,
                                        int facing) const {
  const Frame frame = frame_on(mid_.moved(-facing * request_.pad_thickness_m / 2));
  std::vector<Face> out;
  for (int block : blocks) {
    Face face;
    face.block = block;
    face.regions = faces_in_plane(assembly.blocks[at(block)].solid, frame, facing, kOnPlane);
    if (face.regions.empty()) continue;
    face.low = Vec2::Constant(1e18);
    face.high = Vec2::Constant(-1e18);
    for (const Region& r : face.regions)
      for (const Vec2& p : r.outer)
        face.low = face.low.cwiseMin(p), face.high = face.high.cwiseMax(p);
    out.push_back(std::move(face));
  }
  return out;
}

std::optional<Joint> Facing::joint(const Face& a, const Face& b) const {
  if ((a.low.array() > b.high.array()).any() || (b.low.array() > a.high.array()).any())
    return std::nullopt;
  const Regions contact = offset(intersect(a.regions, b.regions), -kSetIn);
  if (area(contact) < kLeastContact) return std::nullopt;
  Joint joint;
  joint.a = a.block;
  joint.b = b.block;
  const Vec2 centre = centroid(contact);
  joint.frame = frame_;
  joint.frame.origin = frame_.to_world(centre);
  joint.contact = contact;
  for (Region& r : joint.contact) {
    for (Vec2& p : r.outer) p -= centre;
    for (Polygon& hole : r.holes) {
      for (Vec2& p : hole) p -= centre;
    }
  }
  joint.friction = request_.friction;
  if (request_.pad_thickness_m > 0) joint.pad = pad_of(request_, contact);
  return joint;
}

std::vector<Joint> Facing::joints() const {
  std::vector<Joint> out;
  for (const Face& a : below_)
    for (const Face& b : above_)
      if (std::optional<Joint> found = joint(a, b)) out.push_back(std::move(*found));
  return out;
}

Solid pad_solid(const Joint& joint) {
  Solid out;
  if (!joint.pad || joint.pad->thickness_m <= 0) return out;
  const double half = joint.pad->thickness_m / 2;
  for (const Region& region : joint.contact) {
    const TriangleMesh2 mesh = triangulate(region);
    const int base = static_cast<int>(out.vertices.size());
    const int n = static_cast<int>(mesh.vertices.size());
    for (const double z : {-half, half})
      for (const Vec2& p : mesh.vertices)
        out.vertices.push_back(joint.frame.to_world(Vec3(p.x(), p.y(), z)));
    for (const auto& t : mesh.triangles) {
      out.faces.push_back({base + t[2], base + t[1], base + t[0]});
      out.faces.push_back({base + n + t[0], base + n + t[1], base + n + t[2]});
    }
    // a triangulation adds no points: they come outline by outline
    int first = base;
    const auto wall = [&](const Polygon& outline) {
      const int m = static_cast<int>(outline.size());
      for (int i = 0; i < m; ++i) {
        const int a = first + i, b = first + (i + 1) % m;
        out.faces.push_back({a, b, b + n, a + n});
      }
      first += m;
    };
    if (mesh.triangles.empty()) continue;
    wall(region.outer);
    for (const Polygon& hole : region.holes) wall(hole);
  }
  return out;
}

}  // namespace skewback
