#pragma once
// For tests only: a row of blocks of given masses and margins, printed two a day.

#include "erect/spares.hpp"

namespace skewback::sample {

struct Row {
  Brief brief;
  Assembly assembly;
  Programme programme;
  PrintSet print;
  LiftPlan lifts;
};

inline void add_block(Row& row, double mass_kg, double utilisation, double print_s) {
  const int i = static_cast<int>(row.assembly.blocks.size());
  Block block;
  block.id = "b" + std::to_string(i + 1);
  block.density = 1000;
  block.mass.volume = mass_kg / 1000;
  BlockPrint print;
  print.block = i;
  print.id = block.id;
  print.way = PrintWay::kBedToBed;
  print.printable = true;
  print.time_s = print_s;
  print.poses.resize(2);
  print.volume_m3 = mass_kg / 2000;
  BlockLift lift;
  lift.block = i;
  lift.id = block.id;
  lift.checks.push_back({"tension, table", utilisation, 1, "Pa", utilisation, "", ""});
  lift.checks.push_back({"crane", 0.97, 1, "kg", 0.97, "", ""});
  lift.utilisation = 0.97;
  row.programme.order.push_back(block.id);
  row.print.order.push_back({i, 1 + i / 2, i % 2 == 0 ? 0 : print_s + 1200, 0});
  row.print.days = 1 + i / 2;
  row.assembly.blocks.push_back(std::move(block));
  row.print.blocks.push_back(std::move(print));
  row.lifts.lifts.push_back(std::move(lift));
}

/// Ten blocks; the lightest, b4, is the one that is strained most.
inline Row light_and_fragile() {
  Row row;
  row.brief.walkway.width_m = 1.2;
  row.brief.programme.draws = 4000;
  for (int i = 0; i < 10; ++i) {
    const bool fragile = i == 3;
    add_block(row, fragile ? 60 : 200 + 20 * i, fragile ? 0.8 : 0.4, 3 * 3600.0);
  }
  return row;
}

inline Spares plan(const Row& row, const BreakCount& count = {}) {
  return plan_spares(row.brief, row.assembly, row.programme, &row.print, &row.lifts, nullptr,
                     count);
}

}  // namespace skewback::sample
