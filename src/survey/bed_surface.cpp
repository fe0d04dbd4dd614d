#include "survey/bed_surface.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <limits>

namespace skewback {
namespace {

constexpr double kOnBed = 1e-6, kFlat = 1e-9, kAlong = 0.999;

bool is_drawn(const BedError& error) {
  return error.height_m == 0 && error.slope.isZero(0) &&
         std::ranges::all_of(error.corner_m, [](double c) { return c == 0; });
}

struct Bed {
  const Joint* joint;
  double z;  // of the bed in the joint's frame, as drawn
  Warp off;
};
std::vector<Bed> beds_of(const StackModel& model, const AsMade& made, int block) {
  std::vector<Bed> beds;
  const auto& joints = model.assembly().joints;
  for (std::size_t j = 0; j < joints.size(); ++j) {
    const double half = joints[j].pad ? joints[j].pad->thickness_m / 2 : 0;
    const JointCorners& corners = model.corners()[j];
    if (joints[j].a == block && !is_drawn(made.on_a[j]))
      beds.push_back({&joints[j], -half, bed_warp(corners, made.on_a[j])});
    if (joints[j].b == block && !is_drawn(made.on_b[j]))
      beds.push_back({&joints[j], half, bed_warp(corners, made.on_b[j])});
  }
  return beds;
}

/// Move of a corner of the block; of beds in one plane the nearest joint's.
Vec3 move_of(const std::vector<Bed>& beds, const Vec3& v) {
  Vec3 move = Vec3::Zero();
  for (const Bed& bed : beds) {
    const Vec3 p = bed.joint->frame.to_local(v);
    if (std::abs(p.z() - bed.z) > kOnBed) continue;
    const bool another = std::ranges::any_of(beds, [&](const Bed& other) {
      const Frame &own = bed.joint->frame, &its = other.joint->frame;
      return &other != &bed && std::abs(own.z.dot(its.z)) > kAlong &&
             std::abs(its.to_local(v).z() - other.z) <= kOnBed &&
             (its.origin - v).norm() < (own.origin - v).norm();
    });
    if (!another) move += bed.off.at(p.head<2>()) * bed.joint->frame.z;
  }
  return move;
}

Vec3 normal_of(const std::vector<Vec3>& vertices, const std::vector<int>& face) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 1; i + 1 < face.size(); ++i) {
    const Vec3& from = vertices[static_cast<std::size_t>(face[0])];
    sum += (vertices[static_cast<std::size_t>(face[i])] - from)
               .cross(vertices[static_cast<std::size_t>(face[i + 1])] - from);
  }
  return sum.normalized();
}

bool flat(const std::vector<Vec3>& vertices, const std::vector<int>& face) {
  const Plane plane{vertices[static_cast<std::size_t>(face[0])], normal_of(vertices, face)};
  return std::ranges::all_of(face, [&](int v) {
    return std::abs(plane.distance(vertices[static_cast<std::size_t>(v)])) <= kFlat;
  });
}

/// Triangles of a face, by its corners as drawn.
std::vector<std::vector<int>> split(const std::vector<Vec3>& drawn, const std::vector<int>& face) {
  const Frame frame = frame_on({drawn[static_cast<std::size_t>(face[0])], normal_of(drawn, face)});
  Region region;
  for (const int v : face)
    region.outer.push_back(frame.to_local(drawn[static_cast<std::size_t>(v)]).head<2>());
  const TriangleMesh2 mesh = triangulate(region);
  if (mesh.triangles.empty()) return {face};
  std::vector<int> index;
  for (const Vec2& p : mesh.vertices) {
    const auto near = std::ranges::min_element(
        region.outer, {}, [&](const Vec2& q) { return (p - q).squaredNorm(); });
    index.push_back(face[static_cast<std::size_t>(near - region.outer.begin())]);
  }
  std::vector<std::vector<int>> out;
  for (const auto& t : mesh.triangles) {
    out.push_back({index[static_cast<std::size_t>(t[0])], index[static_cast<std::size_t>(t[1])],
                   index[static_cast<std::size_t>(t[2])]});
  }
  return out;
}

}  // namespace

Warp warp_through(const JointCorners& corners, const std::array<double, 4>& heights) {
  Eigen::Matrix4d A;
  Eigen::Vector4d b;
  for (int k = 0; k < 4; ++k) {
    const Vec2& p = corners[static_cast<std::size_t>(k)];
    A.row(k) << 1, p.x(), p.y(), p.x() * p.y();
    b[k] = heights[static_cast<std::size_t>(k)];
  }
  return {Eigen::CompleteOrthogonalDecomposition<Eigen::Matrix4d>(A).solve(b)};
}

Warp bed_warp(const JointCorners& corners, const BedError& error) {
  Warp warp = warp_through(corners, error.corner_m);
  warp.c.head<3>() += Vec3(error.height_m, error.slope.x(), error.slope.y());
  return warp;
}

Solid as_made_solid(const StackModel& model, const AsMade& made, int block) {
  const Solid& drawn = model.assembly().blocks[static_cast<std::size_t>(block)].solid;
  const std::vector<Bed> beds = beds_of(model, made, block);
  if (beds.empty()) return drawn;
  Solid out = drawn;
  for (Vec3& v : out.vertices) v += move_of(beds, v);
  out.faces.clear();
  for (const auto& face : drawn.faces) {
    if (face.size() < 4 || flat(out.vertices, face)) {
      out.faces.push_back(face);
      continue;
    }
    for (auto& triangle : split(drawn.vertices, face)) out.faces.push_back(std::move(triangle));
  }
  return out;
}

}  // namespace skewback
