#pragma once
// Rectangular blocks one metre deep in the x-z plane, for the published checks.

#include <algorithm>
#include <string>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback {

/// Only mass and centre of gravity; the joints are given, so no surface is needed.
inline Block rectangle(const std::string& id, double x0, double x1, double z0, double z1) {
  Block block;
  block.id = id;
  block.density = 2000;
  block.mass.volume = (x1 - x0) * (z1 - z0);
  block.mass.centroid = {(x0 + x1) / 2, 0, (z0 + z1) / 2};
  return block;
}

inline Block ground() {
  Block block;
  block.id = "ground";
  block.fixed = true;
  return block;
}

/// Bed joint at height z over x0 to x1; `a` below `b`.
inline Joint bed_joint(int a, int b, double x0, double x1, double z, double friction) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame.origin = {0, 0, z};
  joint.contact = {{{{x0, -0.5}, {x1, -0.5}, {x1, 0.5}, {x0, 0.5}}, {}}};
  joint.friction = friction;
  return joint;
}

/// Head joint at x over z0 to z1; `a` at the smaller x.
inline Joint head_joint(int a, int b, double x, double z0, double z1, double friction) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame = {{x, 0, 0}, Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()};
  joint.contact = {{{{-0.5, z0}, {0.5, z0}, {0.5, z1}, {-0.5, z1}}, {}}};
  joint.friction = friction;
  return joint;
}

inline LoadCase dead() {
  LoadCase load;
  load.id = "dead";
  return load;
}

inline LoadCase pushed(double acceleration_x) {
  LoadCase load;
  load.id = "pushed";
  load.live_acceleration = {acceleration_x, 0, 0};
  return load;
}

}  // namespace skewback
