#pragma once
// Circular arches one metre deep in the x-z plane, for the published checks.
//
// Voussoirs are true circular sectors: volume and centre of gravity of each are the closed-form
// ones of a sector of a ring, put into Block::mass directly, so no polygon stands in for the curved
// faces.

#include <algorithm>
#include <cmath>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct Ring {
  double radius = 1;       // of the centreline, m
  double thickness = 0.1;  // m
  double embrace = kPi;    // whole angle, rad, symmetric about the crown
  int voussoirs = 7;
  double friction = 10;  // high enough that nothing slides, never unlimited
  double density = 2000;
};

/// Angle from the horizontal of joint i; 0: right springing, `voussoirs`: left springing.
inline double joint_angle(const Ring& ring, int i) {
  return (kPi - ring.embrace) / 2 + ring.embrace * i / ring.voussoirs;
}

/// Blocks: right ground, voussoirs from right to left, left ground. Joint i lies before voussoir i.
inline Assembly make_arch(const Ring& ring) {
  const double inner = ring.radius - ring.thickness / 2, outer = ring.radius + ring.thickness / 2;
  const double half = ring.embrace / ring.voussoirs / 2;
  const double area = half * (outer * outer - inner * inner);
  const double reach =
      2.0 / 3.0 * std::sin(half) * (std::pow(outer, 3) - std::pow(inner, 3)) / area;
  Assembly assembly;
  const auto ground = [](const char* id) {
    Block block;
    block.id = id;
    block.fixed = true;
    return block;
  };
  assembly.blocks.push_back(ground("right"));
  for (int i = 0; i < ring.voussoirs; ++i) {
    const double middle = (joint_angle(ring, i) + joint_angle(ring, i + 1)) / 2;
    Block block;
    block.id = "v" + std::to_string(i + 1);
    block.density = ring.density;
    block.mass.volume = area;
    block.mass.centroid = reach * Vec3(std::cos(middle), 0, std::sin(middle));
    assembly.blocks.push_back(block);
  }
  assembly.blocks.push_back(ground("left"));
  const double h = ring.thickness / 2;
  for (int i = 0; i <= ring.voussoirs; ++i) {
    const double angle = joint_angle(ring, i);
    Joint joint;
    joint.a = i;
    joint.b = i + 1;
    joint.frame.y = {std::cos(angle), 0, std::sin(angle)};
    joint.frame.z = {-std::sin(angle), 0, std::cos(angle)};
    joint.frame.x = -Vec3::UnitY();
    joint.frame.origin = ring.radius * joint.frame.y;
    joint.contact = {{{{-0.5, -h}, {0.5, -h}, {0.5, h}, {-0.5, h}}, {}}};
    joint.friction = ring.friction;
    assembly.joints.push_back(joint);
  }
  assembly.cases.push_back({"dead", {0, 0, -kGravity}, {}, Vec3::Zero()});
  return assembly;
}

/// The same with straight-edged voussoirs, their masses measured from their solids.
inline Assembly make_straight_arch(const Ring& ring) {
  Assembly assembly = make_arch(ring);
  const double inner = ring.radius - ring.thickness / 2, outer = ring.radius + ring.thickness / 2;
  for (int i = 0; i < ring.voussoirs; ++i) {
    const double from = joint_angle(ring, i), to = joint_angle(ring, i + 1);
    const auto at = [](double r, double angle) {
      return Vec2(r * std::cos(angle), r * std::sin(angle));
    };
    Frame frame;  // x world x, y world z, so that z points along -y
    frame.y = Vec3::UnitZ();
    frame.z = -Vec3::UnitY();
    Block& block = assembly.blocks[static_cast<std::size_t>(i) + 1];
    block.solid =
        prism(frame, {at(inner, from), at(outer, from), at(outer, to), at(inner, to)}, -0.5, 0.5);
    block.mass = mass_properties(block.solid);
  }
  return assembly;
}

/// Where the line of thrust comes closest to the intrados in the left half, in voussoirs from the
/// springing: least of a parabola through the nearest joint and its neighbours.
inline double closest_to_intrados(const Assembly& arch, const std::vector<JointResultant>& joints,
                                  int voussoirs, double thickness) {
  std::vector<double> clear;
  for (int i = 1; 2 * i < voussoirs; ++i) {
    const auto j = static_cast<std::size_t>(i);
    const Frame& frame = arch.joints[j].frame;
    clear.push_back(joints[j].moment.dot(frame.x) / joints[j].force.dot(frame.z) + thickness / 2);
  }
  const auto least = std::min_element(clear.begin() + 1, clear.end() - 1);
  const double before = *(least - 1), at = *least, after = *(least + 1);
  return static_cast<double>(least - clear.begin()) + 1 +
         (before - after) / (2 * (before - 2 * at + after));
}

}  // namespace skewback
