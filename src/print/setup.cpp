#include "print/setup.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "print/words.hpp"

namespace skewback {
namespace {

const Joint& joint_at(const Assembly& assembly, int joint) {
  return assembly.joints[static_cast<std::size_t>(joint)];
}

/// "the bed towards the springing", "... the crown".
std::string bed_name(const Assembly& assembly, int joint, int block) {
  const Joint& j = joint_at(assembly, joint);
  const Block& self = assembly.blocks[static_cast<std::size_t>(block)];
  const Block& other = assembly.blocks[static_cast<std::size_t>(j.a == block ? j.b : j.a)];
  if (self.place.arm < 0) return "the bed towards " + other.id;
  const bool down = other.fixed || lower(other.place, self.place);
  return down ? "the bed towards the springing" : "the bed towards the crown";
}

Fan fan_from(const Assembly& assembly, int block, const Bed& low, const Bed& high) {
  const Plane bed = face_at(joint_at(assembly, low.front()), block);
  if (!high.empty()) {
    const Plane far = face_at(joint_at(assembly, high.front()), block);
    return fan_between(bed, {far.point, -far.normal});
  }
  double longest = 0;
  for (const Vec3& v : assembly.blocks[static_cast<std::size_t>(block)].solid.vertices)
    longest = std::max(longest, bed.distance(v));
  return fan_between(bed, bed.moved(longest));
}

Setup option(const Assembly& assembly, int block, const Bed& low, const Bed& high, bool on_stand) {
  Setup out;
  const Solid& solid = assembly.blocks[static_cast<std::size_t>(block)].solid;
  out.fan = fan_from(assembly, block, low, high);
  out.low_bed = low;
  out.high_bed = high;
  out.along = joint_at(assembly, low.front()).frame.x;
  out.stand_rad = on_stand ? out.fan.angle_rad / 2 : 0;
  const Vec3 up = on_stand ? out.fan.surface(0.5).normal : out.fan.low.normal;
  out.to_table = onto_table(solid, up, out.along);
  out.lean_rad = lean_of_sides(solid, out.fan, up);
  return out;
}

bool within(const PrintRequest& cell, const Setup& s) {
  return s.lean_rad <= cell.overhang_max_rad && s.fan.angle_rad - s.stand_rad <= cell.tilt_max_rad;
}

}  // namespace

BlockBeds block_beds(const Assembly& assembly, int block) {
  BlockBeds out;
  const Block& self = assembly.blocks[static_cast<std::size_t>(block)];
  for (int i = 0; i < static_cast<int>(assembly.joints.size()); ++i) {
    const Joint& joint = joint_at(assembly, i);
    if (joint.a != block && joint.b != block) continue;
    const Block& other =
        assembly.blocks[static_cast<std::size_t>(joint.a == block ? joint.b : joint.a)];
    const bool key_to_key = self.place.arm < 0 && other.place.arm < 0 && !other.fixed;
    const bool beside = self.place.arm >= 0 && other.place.arm >= 0 && !other.fixed &&
                        (self.place.arm == other.place.arm ? self.place.course == other.place.course
                                                           : self.place.crown);
    const bool bed = !key_to_key && !beside;
    if (!bed) {
      out.walls.push_back(i);
      continue;
    }
    const Plane face = face_at(joint, block);
    const auto same = std::ranges::find_if(out.beds, [&](const Bed& b) {
      const Plane known = face_at(joint_at(assembly, b.front()), block);
      return known.normal.dot(face.normal) > 1 - 1e-9 &&
             std::abs(known.distance(face.point)) < 1e-5;
    });
    if (same == out.beds.end())
      out.beds.push_back({i});
    else
      same->push_back(i);
  }
  return out;
}

Plane face_at(const Joint& joint, int block) {
  const double half = joint.pad ? joint.pad->thickness_m / 2 : 0;
  const Vec3 inward = joint.b == block ? joint.frame.z : Vec3(-joint.frame.z);
  return {joint.frame.origin + half * inward, inward};
}

Rigid onto_table(const Solid& solid, const Vec3& up, const Vec3& along) {
  const Vec3 x = (along - along.dot(up) * up).normalized(), y = up.cross(x);
  Rigid out;
  out.R.row(0) = x;
  out.R.row(1) = y;
  out.R.row(2) = up;
  Vec3 low = Vec3::Constant(std::numeric_limits<double>::max()), high = -low;
  for (const Vec3& v : solid.vertices) {
    const Vec3 p = out.R * v;
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  out.t = -Vec3((low.x() + high.x()) / 2, (low.y() + high.y()) / 2, low.z());
  return out;
}

double lean_of_sides(const Solid& solid, const Fan& fan, const Vec3& up) {
  struct Side {
    double lean, area;
  };
  std::vector<Side> sides;
  double all = 0;
  for (const auto& face : solid.faces) {
    const Vec3& a = solid.vertices[static_cast<std::size_t>(face[0])];
    Vec3 normal = Vec3::Zero();
    for (std::size_t i = 1; i + 1 < face.size(); ++i)
      normal += (solid.vertices[static_cast<std::size_t>(face[i])] - a)
                    .cross(solid.vertices[static_cast<std::size_t>(face[i + 1])] - a);
    const double size = normal.norm();
    if (size < 1e-12) continue;
    normal /= size;
    if (std::max(std::abs(normal.dot(fan.low.normal)), std::abs(normal.dot(fan.high.normal))) >
        0.999)
      continue;  // a bed
    sides.push_back({std::asin(std::clamp(-normal.dot(up), 0.0, 1.0)), size});
    all += size;
  }
  std::ranges::sort(sides, [](const Side& a, const Side& b) { return a.lean > b.lean; });
  double passed = 0;
  for (const Side& side : sides) {
    passed += side.area;
    if (passed > 0.01 * all) return side.lean;
  }
  return 0;
}

Setup set_up(const PrintRequest& cell, const Assembly& assembly, int block, const BlockBeds& beds) {
  const Bed &first = beds.beds.at(0), second = beds.beds.size() > 1 ? beds.beds[1] : Bed{};
  std::vector<Setup> options = {option(assembly, block, first, second, false)};
  if (!second.empty()) options.push_back(option(assembly, block, second, first, false));
  // the first listed bed is the one nearer to the springing: it stays unless the other is better
  Setup best = options[0];
  if (options.size() > 1 && options[1].lean_rad < best.lean_rad - 0.2 * kPi / 180)
    best = options[1];
  const bool turned = best.low_bed != first;
  const auto name = [&](const Bed& bed) { return bed_name(assembly, bed.front(), block); };
  best.words = name(best.low_bed) + " flat on the table, ";
  best.words += best.high_bed.empty() ? "its only bed"
                : turned
                    ? "its sides stand nearer to upright than the other way up"
                    : "as it is built, its sides no farther from upright than the other way up";
  if (within(cell, best) || second.empty()) return best;
  for (const bool other : {false, true}) {
    Setup stand = option(assembly, block, other ? second : first, other ? first : second, true);
    if (!within(cell, stand) && stand.lean_rad >= best.lean_rad) continue;
    stand.words = name(stand.low_bed) + " on a stand of " + in_degrees(stand.stand_rad) +
                  ", half the angle between its beds: flat, its sides would lean by " +
                  in_degrees(best.lean_rad) + " and the nozzle by " +
                  in_degrees(best.fan.angle_rad);
    return stand;
  }
  return best;
}

}  // namespace skewback
