#pragma once
// Single blocks on the ground and arches with all their faces, for the checks of motion in time.

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback {

/// A block b by d by h (x, y, z) on a wide floor, its bed in the plane z = 0 pressed over strips of
/// width `strip` along both edges (0: all over).
struct OnFloor {
  double b = 1, d = 1, h = 0.5;
  double density = 2300;
  double kn = 2e9, ks = 8e8;  // Pa/m
  double friction = 0.6;
  double strip = 0;
};

inline Regions bed_of(const OnFloor& what) {
  const auto across = [&](double from, double to) {
    return Region{{{from, -what.d / 2}, {to, -what.d / 2}, {to, what.d / 2}, {from, what.d / 2}},
                  {}};
  };
  const double x = what.b / 2;
  if (what.strip <= 0) return {across(-x, x)};
  return {across(-x, -x + what.strip), across(x - what.strip, x)};
}

/// Floor first.
inline Assembly on_floor(const OnFloor& what) {
  Assembly assembly;
  Block floor, block;
  floor.id = "floor";
  floor.solid = box({-10, -10, -1}, {10, 10, 0});
  floor.fixed = true;
  block.id = "block";
  block.solid = box({-what.b / 2, -what.d / 2, 0}, {what.b / 2, what.d / 2, what.h});
  block.density = floor.density = what.density;
  Joint joint;
  joint.a = 0;
  joint.b = 1;
  joint.contact = bed_of(what);
  joint.friction = what.friction;
  joint.pad = Pad{0, what.kn, what.ks};
  assembly.blocks = {floor, block};
  assembly.joints = {joint};
  measure(assembly);
  return assembly;
}

inline LoadCase weight_at(double angle_rad) {  // down the slope is +x
  LoadCase load;
  load.id = "weight";
  load.gravity = kGravity * Vec3(std::sin(angle_rad), 0, -std::cos(angle_rad));
  return load;
}

}  // namespace skewback
