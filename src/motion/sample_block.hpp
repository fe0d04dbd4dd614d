#pragma once
// For the tests of motion/: one block on ground that carries.

#include "assembly/assembly.hpp"

namespace skewback::sample {

/// b wide along x, 1 m high and deep, on a slab ("ground", fixed, block 0) 6 m by 4 m.
inline Assembly block_on_ground(double b, double friction) {
  Assembly assembly;
  assembly.blocks.resize(2);
  assembly.blocks[0].id = "ground";
  assembly.blocks[0].fixed = true;
  assembly.blocks[0].solid = box({-3, -2, -0.5}, {3, 2, 0});
  assembly.blocks[1].id = "block";
  assembly.blocks[1].solid = box({-b / 2, -0.5, 0}, {b / 2, 0.5, 1});
  for (Block& block : assembly.blocks) block.density = 2000;
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, friction);
  return assembly;
}

}  // namespace skewback::sample
