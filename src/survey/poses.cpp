#include "survey/poses.hpp"

#include <algorithm>

#include "survey/bearing.hpp"
#include "survey/bed_surface.hpp"
#include "survey/footings.hpp"
#include "survey/packing_pads.hpp"

namespace skewback {
namespace {

constexpr double kSetIn = 3e-8;  // m: rounding in plane booleans never puts a corner outside a face
constexpr double kLeastPart = 1e-5;  // m2; smaller parts of a contact are not counted on

double half_pad(const Joint& joint) { return joint.pad ? joint.pad->thickness_m / 2 : 0; }

/// From the frame of the drawn joint, through a block's pose, onto a plane.
Regions projected(const Regions& regions, const Frame& from, const Rigid& pose, const Frame& onto) {
  const auto flatten = [&](const Polygon& polygon) {
    Polygon out;
    for (const Vec2& p : polygon) out.push_back(onto.to_local(pose(from.to_world(p))).head<2>());
    return out;
  };
  Regions out;
  for (const Region& region : regions) {
    Region flat{flatten(region.outer), {}};
    for (const Polygon& hole : region.holes) flat.holes.push_back(flatten(hole));
    out.push_back(flat);
  }
  return out;
}

Frame raised(const Frame& frame, double up) {
  return {frame.origin + up * frame.z, frame.x, frame.y, frame.z};
}

/// A bed as made and moved: the plane that fits it at the joint's origin.
Plane moved_bed(const Joint& joint, double side, const Warp& off, const Rigid& pose) {
  const Frame& f = joint.frame;
  const Vec3 at = f.origin + (side * half_pad(joint) + off.c[0]) * f.z;
  const Vec3 normal = (f.z - off.c[1] * f.x - off.c[2] * f.y).normalized();
  return {pose(at), pose.R * normal};
}

Frame midway(const Plane& a, const Plane& b) {
  return frame_on({(a.point + b.point) / 2, Vec3(a.normal + b.normal).normalized()});
}

void centre(Joint& joint) {
  if (joint.contact.empty()) return;
  const Vec2 c = centroid(joint.contact);
  joint.frame.origin = joint.frame.to_world(c);
  for (Region& region : joint.contact) {
    for (Vec2& p : region.outer) p -= c;
    for (Polygon& hole : region.holes) {
      for (Vec2& p : hole) p -= c;
    }
  }
}

/// How far the beds on either side stray from their place beside the joint's new plane: what pad
/// and packers fill.
double stray(const Assembly& drawn, const Assembly& now, const Joint& before, const Joint& after) {
  constexpr double kOnBed = 1e-6;
  double most = 0;
  for (const auto& [index, side] : {std::pair(before.a, -1.0), std::pair(before.b, 1.0)}) {
    const auto block = static_cast<std::size_t>(index);
    const double place = side * half_pad(before);
    const std::vector<Vec3>&was = drawn.blocks[block].solid.vertices,
          &is = now.blocks[block].solid.vertices;
    for (std::size_t v = 0; v < was.size(); ++v) {
      if (std::abs(before.frame.to_local(was[v]).z() - place) > kOnBed) continue;
      most = std::max(most, std::abs(after.frame.to_local(is[v]).z() - side * half_pad(after)));
    }
  }
  return most + kOnBed;
}

struct Beds {
  Warp a, b;
};

Joint moved_joint(const StackModel& model, std::size_t j, const Beds& beds, const Rigid& pose_a,
                  const Rigid& pose_b, const Laid& laid, const JointLie& lie,
                  const PackingRequest& packing) {
  const Joint& joint = model.assembly().joints[j];
  const JointCorners& corners = model.corners()[j];
  Joint out = joint;
  out.frame = midway(moved_bed(joint, -1, beds.a, pose_a), moved_bed(joint, 1, beds.b, pose_b));
  const double half = half_pad(joint);
  const Regions shared =
      intersect(projected(joint.contact, raised(joint.frame, -half), pose_a, out.frame),
                projected(joint.contact, raised(joint.frame, half), pose_b, out.frame));
  Regions bears = close_parts(joint, warp_through(corners, lie.gap_m), packing.slack_m);
  const Regions packed = plates(corners, static_cast<int>(j), laid.packers, packing);
  bears.insert(bears.end(), packed.begin(), packed.end());
  bears = unite(projected(bears, joint.frame, pose_a, out.frame));
  out.contact = offset(intersect(shared, bears), -kSetIn);
  std::erase_if(out.contact, [](const Region& part) { return area(part) < kLeastPart; });
  centre(out);
  return out;
}

}  // namespace

std::vector<Rigid> poses_of(const Assembly& assembly, const std::vector<SmallMove>& moves,
                            const Rigid& axes) {
  std::vector<Rigid> poses;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    poses.push_back(after(axes, rigid(moves[i], centre_of_gravity(assembly.blocks[i]))));
  }
  return poses;
}

Assembly rebuilt(const StackModel& model, const Laid& laid, const PackingRequest& packing) {
  const Assembly& drawn = model.assembly();
  const std::vector<Rigid> poses = poses_of(drawn, laid.moves, laid.axes);
  const std::vector<JointLie> lie = lies(model, *laid.made, laid.moves);
  Assembly out = drawn;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    Block& block = out.blocks[i];
    block.solid = moved(as_made_solid(model, *laid.made, static_cast<int>(i)), poses[i]);
    for (CarriedMass& carried : block.carried) carried.point = poses[i](carried.point);
  }
  for (std::size_t j = 0; j < out.joints.size(); ++j) {
    const Joint& before = drawn.joints[j];
    const Beds beds{bed_warp(model.corners()[j], laid.made->on_a[j]),
                    bed_warp(model.corners()[j], laid.made->on_b[j])};
    out.joints[j] = moved_joint(model, j, beds, poses[static_cast<std::size_t>(before.a)],
                                poses[static_cast<std::size_t>(before.b)], laid, lie[j], packing);
    if (const auto put = std::ranges::find(laid.pads, static_cast<int>(j), &OtherPad::joint);
        put != laid.pads.end())
      out.joints[j].pad = other_pad(*before.pad, before.contact, put->by_m());
    out.joints[j].gap_tolerance_m = stray(drawn, out, before, out.joints[j]);
  }
  for (LoadCase& load : out.cases) {
    for (LiveForce& live : load.live)
      live.point = poses[static_cast<std::size_t>(live.block)](live.point);
  }
  measure(out);
  return out;
}

Assembly bearing_only(Assembly assembly) {
  std::erase_if(assembly.joints, [](const Joint& joint) { return joint.contact.empty(); });
  return assembly;
}

}  // namespace skewback
