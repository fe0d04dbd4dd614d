#pragma once
// For tests only: one block on the ground.

#include "assembly/assembly.hpp"

namespace skewback::sample {

/// Two blocks 0.6 m deep and 1 m wide, one on the other: the joint lies level at z = 1.
inline Assembly pillar(double pad = 0) {
  Assembly assembly;
  for (int i = 0; i < 2; ++i) {
    Block block;
    block.id = i == 0 ? "ground" : "stone";
    block.solid =
        box({-0.5, -0.3, i == 0 ? 0.0 : 1 + pad / 2}, {0.5, 0.3, i == 0 ? 1 - pad / 2 : 2.0});
    block.density = 2000;
    block.fixed = i == 0;
    block.place.arm = 0;
    block.place.course = i;
    assembly.blocks.push_back(block);
  }
  Joint joint;
  joint.a = 0;
  joint.b = 1;
  joint.frame = {{0, 0, 1}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
  joint.contact = {{{{-0.5, -0.3}, {0.5, -0.3}, {0.5, 0.3}, {-0.5, 0.3}}, {}}};
  if (pad > 0) joint.pad = Pad{pad, 1e9, 1e8};
  assembly.joints = {joint};
  LoadCase dead;
  dead.id = "dead";
  LoadCase live;
  live.id = "live";
  live.live = {{1, {0.1, 0.1, 2}, {0, 0, -1000}}};
  assembly.cases = {dead, live};
  measure(assembly);
  return assembly;
}

}  // namespace skewback::sample
