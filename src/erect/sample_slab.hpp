#pragma once
// For tests only: a slab by itself, turned as wished, and the programme that places it.

#include <Eigen/Geometry>

#include "assembly/assembly.hpp"
#include "erect/erect.hpp"

namespace skewback::sample {

inline Block slab(const std::string& id, const Vec3& size, double slope_rad = 0,
                  const Vec3& at = Vec3(0, 0, 2)) {
  Rigid turn;
  turn.R = Eigen::AngleAxisd(slope_rad, Vec3::UnitX()).toRotationMatrix();
  turn.t = at;
  Block block;
  block.id = id;
  block.solid = moved(box(-size / 2, size / 2), turn);
  block.density = 2400;
  block.place = {.arm = 0, .course = 1};
  return block;
}

inline Assembly slabs(std::vector<Block> blocks) {
  Assembly assembly;
  assembly.blocks = std::move(blocks);
  measure(assembly);
  return assembly;
}

inline Programme in_turn(const Assembly& assembly) {
  Programme programme;
  for (const Block& block : assembly.blocks) {
    if (!block.fixed) programme.order.push_back(block.id);
  }
  return programme;
}

inline Brief handling_brief() {
  Brief brief;
  brief.material = {2400, 40e6};
  brief.lifting.wanted = brief.transport.wanted = true;
  return brief;
}

}  // namespace skewback::sample
