#include <algorithm>
#include <cmath>
#include <cstdio>

#include "assembly/read_parts.hpp"

namespace skewback {

Vec3 area_vector(const std::vector<Vec3>& loop) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 1; i + 1 < loop.size(); ++i) {
    sum += (loop[i] - loop[0]).cross(loop[i + 1] - loop[0]);
  }
  return sum / 2;
}

double off_plane(const std::vector<Vec3>& points) {
  const Vec3 area = area_vector(points);
  if (area.norm() == 0) return 0;
  Vec3 middle = Vec3::Zero();
  for (const Vec3& p : points) middle += p / static_cast<double>(points.size());
  const Plane plane{middle, area.normalized()};
  double worst = 0;
  for (const Vec3& p : points) worst = std::max(worst, std::abs(plane.distance(p)));
  return worst;
}

std::string millimetres(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g mm", metres * 1e3);
  return text;
}

std::string coordinates(const Vec3& p) {
  return "[" + std::to_string(p.x()) + ", " + std::to_string(p.y()) + ", " + std::to_string(p.z()) +
         "]";
}

int named_block(Fields& fields, const Cursor& at, const BlockIndex& index) {
  const auto id = fields.text(at);
  if (!id) return -1;
  const auto found = index.find(*id);
  if (found != index.end()) return found->second;
  fields.fault(at, "\"" + *id + "\"", "the id of a block");
  return -1;
}

double read_friction(Fields& fields, const Cursor& at) {
  constexpr double kMost = 10;  // nothing real comes near; unlimited friction proves too much
  const double friction = fields.number_above(at, 0, true).value_or(0);
  if (friction > kMost) fields.fault(at, at.value->dump(), "a coefficient of friction up to 10");
  return friction;
}

namespace {

struct Loops {  // one part of a contact, in the world
  std::vector<Vec3> outer;
  std::vector<std::vector<Vec3>> holes;
};

std::optional<Loops> read_loops(Fields& fields, const Cursor& at) {
  const std::size_t before = fields.count();
  Loops loops;
  if (const auto j = fields.required(at, "polygon")) {
    loops.outer = fields.points(*j, 3).value_or(std::vector<Vec3>{});
  }
  if (const auto j = at.member("holes"); j && fields.array(*j)) {
    for (std::size_t i = 0; i < j->size(); ++i) {
      loops.holes.push_back(fields.points(j->element(i), 3).value_or(std::vector<Vec3>{}));
    }
  }
  if (fields.count() > before) return std::nullopt;
  return loops;
}

std::vector<Loops> read_parts(Fields& fields, const Cursor& at) {
  std::vector<Loops> parts;
  const auto several = at.member("parts");
  if (!several) {
    if (auto one = read_loops(fields, at)) parts.push_back(std::move(*one));
    return parts;
  }
  if (at.member("polygon") || at.member("holes")) {
    fields.fault(*several, "\"parts\" beside \"polygon\" or \"holes\"", "one or the other");
    return parts;
  }
  if (!fields.array(*several, 1)) return parts;
  for (std::size_t i = 0; i < several->size(); ++i) {
    const Cursor part = several->element(i);
    if (!fields.object(part, {"polygon", "holes"})) continue;
    if (auto one = read_loops(fields, part)) parts.push_back(std::move(*one));
  }
  return parts;
}

Pad read_pad(Fields& fields, const Cursor& at) {
  Pad pad;
  if (!fields.object(at, {"thickness", "kn", "ks"})) return pad;
  if (const auto j = fields.required(at, "thickness")) {
    pad.thickness_m = fields.number_above(*j, 0, false).value_or(0);
  }
  if (const auto j = at.member("kn")) pad.kn = fields.number_above(*j, 0, false).value_or(0);
  if (const auto j = at.member("ks")) pad.ks = fields.number_above(*j, 0, false).value_or(0);
  return pad;
}

Polygon in_frame(const Frame& frame, const std::vector<Vec3>& loop, bool counter_clockwise) {
  Polygon polygon;
  for (const Vec3& p : loop) polygon.push_back(frame.to_local(p).head<2>());
  if ((area(polygon) > 0) != counter_clockwise) std::reverse(polygon.begin(), polygon.end());
  return polygon;
}

// Area of the block's faces that lie where the joint asks for them, facing along `normal`.
double facing_area(const Solid& solid, const Plane& plane, double reach, bool loose) {
  const double least_cosine = loose ? 0.99 : 0.99995;
  double sum = 0;
  for (const auto& face : solid.faces) {
    std::vector<Vec3> loop;
    double farthest = 0;
    for (int i : face) {
      loop.push_back(solid.vertices[static_cast<std::size_t>(i)]);
      farthest = std::max(farthest, std::abs(plane.distance(loop.back())));
    }
    const Vec3 facing = area_vector(loop);
    if (farthest <= reach && facing.dot(plane.normal) >= least_cosine * facing.norm()) {
      sum += facing.norm();
    }
  }
  return sum;
}

// +1: the plane's normal points from a into b; -1: from b into a; 0 and faults: neither.
int direction(Fields& fields, const Cursor& at, const Assembly& assembly, const Joint& joint,
              const Plane& plane, double tolerance) {
  const double half = joint.pad ? joint.pad->thickness_m / 2 : 0;
  const double reach = half + std::max(joint.gap_tolerance_m, tolerance);
  const bool loose = joint.gap_tolerance_m > 0;
  const Block& a = assembly.blocks[static_cast<std::size_t>(joint.a)];
  const Block& b = assembly.blocks[static_cast<std::size_t>(joint.b)];
  const double a_along = facing_area(a.solid, plane, reach, loose);
  const double a_against = facing_area(a.solid, plane.opposite(), reach, loose);
  const double b_along = facing_area(b.solid, plane, reach, loose);
  const double b_against = facing_area(b.solid, plane.opposite(), reach, loose);
  const double forth = std::min(a_along, b_against), back = std::min(a_against, b_along);
  if (forth > 0 || back > 0) return forth >= back ? 1 : -1;
  const std::string where = "faces of both blocks towards each other within " + millimetres(reach) +
                            " of the polygon's plane (half the pad and the tolerance)";
  if (a_along + a_against == 0) fields.fault(at, "no such face of block \"" + a.id + "\"", where);
  if (b_along + b_against == 0) fields.fault(at, "no such face of block \"" + b.id + "\"", where);
  if ((a_along + a_against) * (b_along + b_against) > 0) {
    fields.fault(at, "faces of \"" + a.id + "\" and \"" + b.id + "\" that look the same way",
                 where);
  }
  return 0;
}

bool shape_good(Fields& fields, const Cursor& at, const std::vector<Loops>& parts, Plane& plane) {
  std::vector<Vec3> all;
  Vec3 facing = Vec3::Zero();
  for (const Loops& part : parts) {
    const Vec3 own = area_vector(part.outer);
    facing += own.dot(facing) < 0 ? Vec3(-own) : own;
    all.insert(all.end(), part.outer.begin(), part.outer.end());
    for (const auto& hole : part.holes) all.insert(all.end(), hole.begin(), hole.end());
  }
  if (facing.norm() < 1e-12) {
    fields.fault(at, "a polygon without area", "a flat outline that does not cross itself");
    return false;
  }
  plane = {Vec3::Zero(), facing.normalized()};
  for (const Vec3& p : all) plane.point += p / static_cast<double>(all.size());
  const auto worst =
      std::ranges::max_element(all, {}, [&](const Vec3& p) { return std::abs(plane.distance(p)); });
  const double off = std::abs(plane.distance(*worst));
  if (off > kFlatEnough) {
    fields.fault(at,
                 "polygon points " + millimetres(off) + " off one plane, at " + coordinates(*worst),
                 "a flat joint");
    return false;
  }
  return true;
}

bool fill_contact(Fields& fields, const Cursor& at, const std::vector<Loops>& parts, Plane plane,
                  Joint& joint) {
  joint.frame = frame_on(plane);
  for (int pass = 0; pass < 2; ++pass) {  // the second time about the centroid
    joint.contact.clear();
    for (const Loops& part : parts) {
      Region region{in_frame(joint.frame, part.outer, true), {}};
      for (const auto& hole : part.holes)
        region.holes.push_back(in_frame(joint.frame, hole, false));
      joint.contact.push_back(std::move(region));
    }
    joint.frame.origin = joint.frame.to_world(centroid(joint.contact));
  }
  for (const Region& part : joint.contact) {
    bool crossing = self_crossing(part.outer);
    for (const Polygon& hole : part.holes) crossing = crossing || self_crossing(hole);
    if (crossing) fields.fault(at, "an outline that crosses itself", "a simple outline");
    if (crossing) return false;
    if (area(part) > 0) continue;
    fields.fault(at, "holes larger than the polygon", "holes inside the polygon");
    return false;
  }
  return true;
}

/// Forces at points where one of the blocks has no face would hold it up from nothing. As-built
/// joints, whose gaps are packed, are not held to it.
bool within_faces(Fields& fields, const Cursor& at, const Assembly& assembly, const Joint& joint,
                  double tolerance) {
  if (joint.gap_tolerance_m > 0) return true;
  constexpr double kRim = 2e-4;      // m, by which an outline may stray
  constexpr double kAreaOff = 1e-6;  // m2
  const double half = joint.pad ? joint.pad->thickness_m / 2 : 0;
  for (const auto& [index, sign] : {std::pair(joint.a, -1), {joint.b, 1}}) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(index)];
    Frame frame = joint.frame;
    frame.origin += sign * half * frame.z;
    const Regions faces = faces_in_plane(block.solid, frame, -sign, tolerance);
    const double beyond = area(subtract(joint.contact, offset(faces, kRim)));
    if (beyond <= kAreaOff) continue;
    char text[64];
    std::snprintf(text, sizeof text, "%.3g m2 of the polygon beyond", beyond);
    fields.fault(at, std::string(text) + " the faces of block \"" + block.id + "\"",
                 "a polygon within the faces of both blocks");
    return false;
  }
  return true;
}

/// False after a fault.
bool fill_joint(Fields& fields, const Cursor& at, const BlockIndex& index,
                const JointDefaults& defaults, bool blocks_good, const Assembly& assembly,
                Joint& joint) {
  if (!fields.object(at,
                     {"a", "b", "polygon", "holes", "parts", "friction", "pad", "gap_tolerance"})) {
    return false;
  }
  const std::size_t before = fields.count();
  joint.friction = defaults.friction;
  if (const auto j = fields.required(at, "a")) joint.a = named_block(fields, *j, index);
  if (const auto j = fields.required(at, "b")) joint.b = named_block(fields, *j, index);
  if (joint.a >= 0 && joint.a == joint.b)
    fields.fault(at, "a block joined to itself", "two blocks");
  if (const auto j = at.member("friction")) {
    joint.friction = read_friction(fields, *j);
  }
  if (const auto j = at.member("pad")) joint.pad = read_pad(fields, *j);
  if (const auto j = at.member("gap_tolerance")) {
    joint.gap_tolerance_m = fields.number_above(*j, 0, false).value_or(0);
  }
  const std::vector<Loops> parts = read_parts(fields, at);
  Plane plane;
  if (fields.count() > before || !shape_good(fields, at, parts, plane)) return false;
  if (blocks_good) {
    const int way = direction(fields, at, assembly, joint, plane, defaults.tolerance_m);
    if (way == 0) return false;
    if (way < 0) plane = plane.opposite();
  }
  return fill_contact(fields, at, parts, plane, joint) &&
         (!blocks_good || within_faces(fields, at, assembly, joint, defaults.tolerance_m));
}

}  // namespace

void read_joints(Fields& fields, const Cursor& at, const BlockIndex& index,
                 const JointDefaults& defaults, bool blocks_good, Assembly& assembly) {
  if (!at.value->is_array()) {
    fields.fault(at, at.value->is_string() ? at.value->dump() : std::string("no list"),
                 "\"detect\" or a list of joints");
    return;
  }
  for (std::size_t i = 0; i < at.size(); ++i) {
    Joint joint;
    const std::size_t before = fields.count();
    if (fill_joint(fields, at.element(i), index, defaults, blocks_good, assembly, joint)) {
      assembly.joints.push_back(std::move(joint));
    } else if (joint.a >= 0 && joint.b >= 0) {
      const auto id = [&](int block) {
        return "\"" + assembly.blocks[static_cast<std::size_t>(block)].id + "\"";
      };
      fields.add_where(before, "joint of " + id(joint.a) + " and " + id(joint.b));
    }
  }
}

}  // namespace skewback
