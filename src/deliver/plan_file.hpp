#pragma once
// erect/plan.json: what the daybook takes in. Format: docs/daybook.md.

#include "daybook/plan.hpp"
#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// None without blocks, or without an order of placing. Times are the brief's likely ones.
[[nodiscard]] std::optional<DayPlan> day_plan(const Dossier& dossier);
/// Text of the file; empty where there is no plan.
[[nodiscard]] std::string plan_json(const Dossier& dossier);

/// The joint a block is bedded on when it is placed: the widest with what is there already, head
/// joints and walls on ridges only where there is no other; -1: none. `order`: place of each block
/// of the assembly in the order, from 1; 0: ground.
[[nodiscard]] int bed_joint(const Assembly& assembly, const std::vector<int>& order, int block);
/// As above, of every block; blocks that the programme does not name count as ground.
[[nodiscard]] std::vector<int> placing_order(const Assembly& assembly, const Programme& programme);

}  // namespace skewback::deliver
