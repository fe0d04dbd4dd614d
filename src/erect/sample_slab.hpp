#pragma once
// For tests only: a slab by itself, turned as wished, the programme that places it, and its lift.

#include <Eigen/Geometry>
#include <stdexcept>
#include <string>

#include "assembly/assembly.hpp"
#include "erect/erect.hpp"
#include "erect/lifting.hpp"

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

inline const HandlingCheck& check(const BlockLift& lift, const std::string& name) {
  for (const HandlingCheck& c : lift.checks) {
    if (c.name == name) return c;
  }
  throw std::out_of_range(lift.id + " has no check " + name);
}

inline BlockLift lift_one(const Brief& brief, const Block& block, const PrintSet* print = nullptr) {
  const Assembly assembly = slabs({block});
  LiftPlan plan = plan_lifts(brief, assembly, in_turn(assembly), print);
  return plan.lifts.at(0);
}

/// Printed with its layers square to y.
inline PrintSet layers_along_y() {
  PrintSet set;
  BlockPrint print;
  print.block = 0;
  print.id = "a";
  print.way = PrintWay::kBedToBed;
  print.printable = true;
  print.to_table.R << 1, 0, 0, 0, 0, -1, 0, 1, 0;
  set.blocks.push_back(print);
  return set;
}

}  // namespace skewback::sample
