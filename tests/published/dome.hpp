#pragma once
// Spherical domes of blocks for the published checks: courses between cones through the centre,
// sectors between meridian planes. Masses and centres of gravity are those of the curved blocks;
// joints are the flat quadrilaterals on their corners.

#include <string>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback {

struct Dome {
  double thickness = 0.05;  // of the radius 1
  int sectors = 16, courses = 12;
  double eye = 0;         // half angle of an opening at the crown, rad; 0: a cap closes it
  double edge = kPi / 2;  // from the axis to the springing
  double friction = 0.6;
};

inline Vec3 dome_point(double r, double from_axis, double around) {
  return r * Vec3(std::sin(from_axis) * std::cos(around), std::sin(from_axis) * std::sin(around),
                  std::cos(from_axis));
}

inline Block dome_block(const std::string& id, const Dome& dome, double top, double bottom,
                        double left, double right) {
  const double a = 1 - dome.thickness / 2, b = 1 + dome.thickness / 2;
  const double cubes = (std::pow(b, 3) - std::pow(a, 3)) / 3,
               fourths = (std::pow(b, 4) - std::pow(a, 4)) / 4;
  Block block;
  block.id = id;
  block.density = 2000;
  block.mass.volume = cubes * (std::cos(top) - std::cos(bottom)) * (right - left);
  const double sines = (bottom - top) / 2 - (std::sin(2 * bottom) - std::sin(2 * top)) / 4,
               up = (std::pow(std::sin(bottom), 2) - std::pow(std::sin(top), 2)) / 2;
  block.mass.centroid = fourths / block.mass.volume *
                        Vec3(sines * (std::sin(right) - std::sin(left)),
                             sines * (std::cos(left) - std::cos(right)), up * (right - left));
  return block;
}

/// Joint on four corners, normal from a into b as given roughly.
inline Joint corner_joint(int a, int b, const std::array<Vec3, 4>& corners, const Vec3& towards_b,
                          double friction) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  Vec3 normal = (corners[2] - corners[0]).cross(corners[3] - corners[1]).normalized();
  if (normal.dot(towards_b) < 0) normal = -normal;
  joint.frame = frame_on({(corners[0] + corners[1] + corners[2] + corners[3]) / 4, normal});
  Polygon polygon;
  for (const Vec3& corner : corners) {
    const Vec3 p = joint.frame.to_local(corner);
    polygon.emplace_back(p.x(), p.y());
  }
  if (area(polygon) < 0) polygon = {polygon[3], polygon[2], polygon[1], polygon[0]};
  joint.contact = {{polygon, {}}};
  joint.friction = friction;
  return joint;
}

/// Block 0 is the ground; then courses from the bottom; then the cap, if there is no eye.
inline Assembly make_dome(const Dome& dome) {
  const double a = 1 - dome.thickness / 2, b = 1 + dome.thickness / 2;
  const bool capped = dome.eye <= 0;
  const double step = dome.edge / (dome.courses + (capped ? 0.5 : 0)),
               top = capped ? step / 2 : dome.eye;
  Assembly assembly;
  Block ground;
  ground.id = "ground";
  ground.fixed = true;
  assembly.blocks.push_back(ground);
  const double height = (dome.edge - top) / dome.courses, width = 2 * kPi / dome.sectors;
  const auto index = [&](int course, int sector) {
    return 1 + course * dome.sectors + (sector + dome.sectors) % dome.sectors;
  };
  for (int c = 0; c < dome.courses; ++c) {
    const double low = dome.edge - c * height, high = low - height;
    for (int s = 0; s < dome.sectors; ++s) {
      assembly.blocks.push_back(dome_block("c" + std::to_string(c) + "s" + std::to_string(s), dome,
                                           high, low, s * width, (s + 1) * width));
    }
  }
  const int cap = static_cast<int>(assembly.blocks.size());
  if (capped) assembly.blocks.push_back(dome_block("cap", dome, 0, top, 0, 2 * kPi));
  const auto bed = [&](int below, int above, double angle, int s) {
    assembly.joints.push_back(
        corner_joint(below, above,
                     {dome_point(a, angle, s * width), dome_point(a, angle, (s + 1) * width),
                      dome_point(b, angle, (s + 1) * width), dome_point(b, angle, s * width)},
                     dome_point(1, angle - kPi / 2, (s + 0.5) * width), dome.friction));
  };
  for (int c = 0; c < dome.courses; ++c) {
    const double low = dome.edge - c * height, high = low - height;
    for (int s = 0; s < dome.sectors; ++s) {
      bed(c == 0 ? 0 : index(c - 1, s), index(c, s), low, s);
      const double around = (s + 1) * width;
      assembly.joints.push_back(
          corner_joint(index(c, s), index(c, s + 1),
                       {dome_point(a, low, around), dome_point(b, low, around),
                        dome_point(b, high, around), dome_point(a, high, around)},
                       Vec3(-std::sin(around), std::cos(around), 0), dome.friction));
      if (capped && c + 1 == dome.courses) bed(index(c, s), cap, high, s);
    }
  }
  assembly.cases.push_back({"dead", {0, 0, -kGravity}, {}, Vec3::Zero()});
  return assembly;
}

}  // namespace skewback
