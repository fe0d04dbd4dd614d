#pragma once
// For tests only: three half arches of quarter-circle profile, 120 degrees apart, against a key in
// the middle.

#include <cmath>
#include <string>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback::sample {

struct Tripod {
  int courses = 4;    // of each arm
  double radius = 3;  // of the centreline
  double thickness = 0.6;
  double width = 1;
  double core = 0.5;  // from the middle to the crown joints
  double density = 2400;
  double friction = 0.7;
  double pad = 0;  // thickness: said, not taken out of the blocks
};

inline Vec2 tripod_bearing(int arm) {
  return {std::cos(2 * kPi * arm / 3), std::sin(2 * kPi * arm / 3)};
}

/// x out along the arm, y up, z across.
inline Frame tripod_section(int arm) {
  const Vec2 e = tripod_bearing(arm);
  return {Vec3::Zero(), {e.x(), e.y(), 0}, Vec3::UnitZ(), {e.y(), -e.x(), 0}};
}

inline Vec2 tripod_point(const Tripod& t, double off, double angle) {
  return {t.core + (t.radius + off) * std::cos(angle), (t.radius + off) * std::sin(angle)};
}

inline Joint tripod_joint(const Tripod& t, int arm, double angle, int a, int b) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.friction = t.friction;
  if (t.pad > 0) joint.pad = Pad{t.pad, 1e9, 1e8};
  const Frame section = tripod_section(arm);
  const Vec3 ahead = -std::sin(angle) * section.x + std::cos(angle) * section.y;
  joint.frame = frame_on({section.to_world(tripod_point(t, 0, angle)), ahead});
  Polygon corners;
  for (const double off : {-t.thickness / 2, t.thickness / 2}) {
    for (const double across : {-t.width / 2, t.width / 2}) {
      const Vec3 p = section.to_world(tripod_point(t, off, angle)) + across * section.z;
      corners.push_back(joint.frame.to_local(p).head<2>());
    }
  }
  joint.contact = {{convex_hull(corners), {}}};
  return joint;
}

inline Block tripod_voussoir(const Tripod& t, int arm, int course) {
  const double from = kPi / 2 * (course - 1) / t.courses, to = kPi / 2 * course / t.courses;
  const double h = t.thickness / 2;
  const std::vector<Vec2> outline = {tripod_point(t, -h, from), tripod_point(t, h, from),
                                     tripod_point(t, h, to), tripod_point(t, -h, to)};
  Block block;
  block.id = std::string(1, static_cast<char>('A' + arm)) + std::to_string(course);
  block.solid = prism(tripod_section(arm), outline, -t.width / 2, t.width / 2);
  block.density = t.density;
  block.place = {.arm = arm, .course = course, .phi_m = t.radius * (from + to) / 2};
  return block;
}

inline Block tripod_key(const Tripod& t) {
  std::vector<Vec2> plan;
  for (int arm = 0; arm < 3; ++arm) {
    const Vec2 e = tripod_bearing(arm), across(-e.y(), e.x());
    plan.emplace_back(t.core * e - t.width / 2 * across);
    plan.emplace_back(t.core * e + t.width / 2 * across);
  }
  Block key;
  key.id = "key";
  key.solid = prism(Frame{}, plan, t.radius - t.thickness / 2, t.radius + t.thickness / 2);
  key.density = t.density;
  key.place.course = t.courses + 1;
  return key;
}

/// Ground blocks 0 to 2, arms A, B, C from the springing up, the key last. One case, "dead".
inline Assembly tripod_assembly(const Tripod& t) {
  Assembly assembly;
  for (int arm = 0; arm < 3; ++arm) {
    const Vec2 foot = (t.core + t.radius) * tripod_bearing(arm);
    Block ground;
    ground.id = std::string("ground-") + static_cast<char>('a' + arm);
    ground.solid = box({foot.x() - 1, foot.y() - 1, -0.4}, {foot.x() + 1, foot.y() + 1, 0});
    ground.density = t.density;
    ground.fixed = true;
    ground.place.arm = arm;
    assembly.blocks.push_back(ground);
  }
  const int key = 3 + 3 * t.courses;
  for (int arm = 0; arm < 3; ++arm) {
    for (int course = 1; course <= t.courses; ++course) {
      const int self = static_cast<int>(assembly.blocks.size());
      assembly.blocks.push_back(tripod_voussoir(t, arm, course));
      const double below = kPi / 2 * (course - 1) / t.courses;
      assembly.joints.push_back(tripod_joint(t, arm, below, course == 1 ? arm : self - 1, self));
      if (course == t.courses) {
        assembly.joints.push_back(tripod_joint(t, arm, kPi / 2, self, key));
      }
    }
  }
  assembly.blocks.push_back(tripod_key(t));
  LoadCase dead;
  dead.id = "dead";
  assembly.cases.push_back(dead);
  measure(assembly);
  return assembly;
}

}  // namespace skewback::sample
