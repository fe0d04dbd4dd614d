#pragma once
// For the property tests: the same assembly elsewhere, of another size or weight. Only what the
// views read is changed: masses, centres of gravity, joints, loads.

#include "assembly/assembly.hpp"

namespace skewback {

/// Turned by R about the origin, then moved by t.
inline Assembly moved_rigidly(Assembly assembly, const Mat3& R, const Vec3& t) {
  for (Block& block : assembly.blocks) block.mass.centroid = R * block.mass.centroid + t;
  for (Joint& joint : assembly.joints) {
    joint.frame = {R * joint.frame.origin + t, R * joint.frame.x, R * joint.frame.y,
                   R * joint.frame.z};
  }
  for (LoadCase& load : assembly.cases) {
    load.gravity = R * load.gravity;
    load.live_acceleration = R * load.live_acceleration;
    for (LiveForce& live : load.live) {
      live.force = R * live.force;
      live.point = R * live.point + t;
    }
  }
  return assembly;
}

/// Lengths times `length`, densities times `density`; live forces keep their share of the weight.
inline Assembly rescaled(Assembly assembly, double length, double density) {
  for (Block& block : assembly.blocks) {
    block.mass.volume *= length * length * length;
    block.mass.centroid *= length;
    block.density *= density;
  }
  for (Joint& joint : assembly.joints) {
    joint.frame.origin *= length;
    for (Region& region : joint.contact) {
      for (Vec2& p : region.outer) p *= length;
      for (Polygon& hole : region.holes) {
        for (Vec2& p : hole) p *= length;
      }
    }
  }
  for (LoadCase& load : assembly.cases) {
    for (LiveForce& live : load.live) {
      live.force *= length * length * length * density;
      live.point *= length;
    }
  }
  return assembly;
}

}  // namespace skewback
