#include "survey/poses.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>

namespace skewback {
namespace {

constexpr double kSetIn = 3e-8;  // m: rounding in plane booleans never puts a corner outside a face
constexpr double kPackerLeast = 1e-3;  // thinner gaps are left to the pad

std::vector<Vec2> corners_of(const Joint& joint) {
  std::vector<Vec2> points;
  for (const Region& region : joint.contact) {
    points.insert(points.end(), region.outer.begin(), region.outer.end());
  }
  return convex_hull(points);
}

double half_pad(const Joint& joint) { return joint.pad ? joint.pad->thickness_m / 2 : 0; }

bool free_of_arms(const Block& block) { return block.place.arm < 0 && !block.fixed; }

bool same(const Rigid& a, const Rigid& b) { return a.R == b.R && a.t == b.t; }

/// The two faces of a joint after the move.
struct Faces {
  Plane a, b;
};
Faces moved_faces(const Joint& joint, const Rigid& pose_a, const Rigid& pose_b) {
  const Vec3 off = half_pad(joint) * joint.frame.z;
  return {{pose_a(joint.frame.origin - off), pose_a.R * joint.frame.z},
          {pose_b(joint.frame.origin + off), pose_b.R * joint.frame.z}};
}

Regions projected(const Joint& joint, const Rigid& pose, double off, const Frame& onto) {
  const auto flatten = [&](const Polygon& polygon) {
    Polygon out;
    for (const Vec2& p : polygon) {
      out.push_back(onto.to_local(pose(joint.frame.to_world(p) + off * joint.frame.z)).head<2>());
    }
    return out;
  };
  Regions out;
  for (const Region& region : joint.contact) {
    Region flat{flatten(region.outer), {}};
    for (const Polygon& hole : region.holes) flat.holes.push_back(flatten(hole));
    out.push_back(flat);
  }
  return out;
}

Joint moved_joint(const Joint& joint, const Rigid& pose_a, const Rigid& pose_b) {
  Joint out = joint;
  if (same(pose_a, pose_b)) {
    out.frame = {pose_a(joint.frame.origin), pose_a.R * joint.frame.x, pose_a.R * joint.frame.y,
                 pose_a.R * joint.frame.z};
    return out;
  }
  const Faces faces = moved_faces(joint, pose_a, pose_b);
  out.frame = frame_on(
      {(faces.a.point + faces.b.point) / 2, Vec3(faces.a.normal + faces.b.normal).normalized()});
  const double off = half_pad(joint);
  out.contact = offset(intersect(projected(joint, pose_a, -off, out.frame),
                                 projected(joint, pose_b, off, out.frame)),
                       -kSetIn);
  return out;
}

/// How far the beds on either side stray from their place beside the joint's new plane: what
/// packers fill.
double stray(const Assembly& assembly, const Joint& before, const Joint& now,
             const std::vector<Rigid>& poses) {
  constexpr double kOnBed = 1e-6;
  double most = 0;
  for (const auto& [block, side] : {std::pair(before.a, -1.0), std::pair(before.b, 1.0)}) {
    const double place = side * half_pad(before);
    for (const Vec3& v : assembly.blocks[block].solid.vertices) {
      if (std::abs(before.frame.to_local(v).z() - place) > kOnBed) continue;
      most = std::max(most, std::abs(now.frame.to_local(poses[block](v)).z() - place));
    }
  }
  return most + kOnBed;
}

}  // namespace

Rigid after(const Rigid& second, const Rigid& first) {
  return {second.R * first.R, second.R * first.t + second.t};
}

std::vector<Rigid> block_poses(const Assembly& assembly, const std::vector<Rigid>& support_motion) {
  std::vector<Rigid> poses(assembly.blocks.size());
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const int arm = assembly.blocks[i].place.arm;
    if (arm >= 0 && arm < static_cast<int>(support_motion.size())) poses[i] = support_motion[arm];
  }
  std::vector<Vec3> designed, wanted;
  for (const Joint& joint : assembly.joints) {
    const bool key_a = free_of_arms(assembly.blocks[joint.a]);
    if (key_a == free_of_arms(assembly.blocks[joint.b])) continue;
    for (const Vec2& corner : corners_of(joint)) {
      designed.push_back(joint.frame.to_world(corner));
      wanted.push_back(poses[key_a ? joint.b : joint.a](designed.back()));
    }
  }
  const RigidFit fit = fit_rigid(designed, wanted);
  for (std::size_t i = 0; i < poses.size(); ++i) {
    if (free_of_arms(assembly.blocks[i])) poses[i] = fit.X;
  }
  return poses;
}

std::vector<int> parted_joints(const Assembly& assembly, const std::vector<Rigid>& poses) {
  std::vector<int> out;
  for (int j = 0; j < static_cast<int>(assembly.joints.size()); ++j) {
    const Joint& joint = assembly.joints[j];
    if (!same(poses[joint.a], poses[joint.b])) out.push_back(j);
  }
  return out;
}

JointMisfit misfit(const Assembly& assembly, int index, const std::vector<Rigid>& poses) {
  const Joint& joint = assembly.joints[index];
  const Rigid &pose_a = poses[joint.a], &pose_b = poses[joint.b];
  const Vec3 normal = Vec3(pose_a.R * joint.frame.z + pose_b.R * joint.frame.z).normalized();
  const double half = half_pad(joint);
  JointMisfit out;
  out.joint = index;
  out.gap_min_m = std::numeric_limits<double>::infinity();
  out.gap_max_m = -out.gap_min_m;
  const std::vector<Vec2> corners = corners_of(joint);
  const auto faces_at = [&](const Vec2& corner) {
    const Vec3 p = joint.frame.to_world(corner);
    return std::pair(pose_a(p - half * joint.frame.z), pose_b(p + half * joint.frame.z));
  };
  for (const Vec2& corner : corners) {
    const auto [a, b] = faces_at(corner);
    const double gap = (b - a).dot(normal);
    out.gap_min_m = std::min(out.gap_min_m, gap - 2 * half);
    out.gap_max_m = std::max(out.gap_max_m, gap - 2 * half);
    out.step_m = std::max(out.step_m, (b - a - gap * normal).norm());
  }
  // One packer a corner of the joint, four at most, however many corners the contact has.
  for (const auto& way : {Vec2(-1, -1), Vec2(1, -1), Vec2(1, 1), Vec2(-1, 1)}) {
    const auto corner =
        std::ranges::max_element(corners, {}, [&](const Vec2& p) { return way.dot(p); });
    const auto [a, b] = faces_at(*corner);
    const double gap = (b - a).dot(normal) - 2 * half;
    if (gap > kPackerLeast) out.packers.emplace_back((a + b) / 2, gap);
  }
  return out;
}

Assembly rebuilt(const Assembly& assembly, const std::vector<Rigid>& poses) {
  Assembly out = assembly;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    out.blocks[i].solid = moved(assembly.blocks[i].solid, poses[i]);
    for (CarriedMass& carried : out.blocks[i].carried) carried.point = poses[i](carried.point);
  }
  for (Joint& joint : out.joints) {
    const Joint before = joint;
    joint = moved_joint(before, poses[before.a], poses[before.b]);
    if (!same(poses[before.a], poses[before.b]))
      joint.gap_tolerance_m = stray(assembly, before, joint, poses);
  }
  for (LoadCase& load : out.cases) {
    for (LiveForce& live : load.live) live.point = poses[live.block](live.point);
  }
  measure(out);
  return out;
}

}  // namespace skewback
