#pragma once
// For tests only: five blocks of a small arch, two legs and a key; a, b stand on the ground.

#include <set>

#include "daybook/plan.hpp"

namespace skewback::sample {

constexpr double kDay = 86400;

inline PlannedBlock planned(const std::string& id, int order,
                            const std::vector<std::string>& needs) {
  PlannedBlock block;
  block.id = id;
  block.mass_kg = 100 + order;
  block.order = order;
  block.needs = needs;
  block.joints = needs.empty() ? std::vector<std::string>{"ground"} : needs;
  block.up = "back up";
  block.made = "printed";
  block.centre = Vec3(0.1 * order, 1.0 / 3, 2);
  block.slings = {Vec3(0, 0, 1), Vec3(1, 0, 1)};
  block.print_s = 0.25 * kDay;
  block.cure_s = 7 * kDay;
  block.journey_s = kDay;
  return block;
}

inline DayPlan small_plan() {
  DayPlan plan;
  plan.bridge = "little-arch";
  plan.title = "Little arch";
  plan.assembly_sha256 = "00ff";
  plan.blocks = {planned("a1", 1, {}), planned("b1", 2, {}), planned("a2", 3, {"a1"}),
                 planned("b2", 4, {"b1"}), planned("key", 5, {"a2", "b2"})};
  return plan;
}

/// Footings; each block printed, cured, carried by one of two lorries, placed in order; striking.
/// Those in `twice` are printed again right after the first, and go with it. A time of d days,
/// curing left out, takes from (1 - about) d to (1 + 2 about) d.
inline DayPlan plan_with_network(const std::set<std::string>& twice = {}, double footings_d = 14,
                                 double about = 0) {
  DayPlan plan = small_plan();
  Network network;
  network.start = "2027-03-01";
  const auto add = [&](const std::string& id, const std::string& block, const std::string& kind,
                       double days, const std::vector<int>& after) {
    const double spread = kind == "cure" ? 0 : about;
    network.activities.push_back({id, block, kind, (1 - spread) * days * kDay, days * kDay,
                                  (1 + 2 * spread) * days * kDay, after, false, false, 0});
    return static_cast<int>(network.activities.size()) - 1;
  };
  const int footings = add("footings", "", "footings", footings_d, {});
  std::vector<int> loads[2];
  int before = -1;
  for (const PlannedBlock& b : plan.blocks)
    for (const std::string again : {"", " again"}) {
      if (!again.empty() && !twice.contains(b.id)) continue;
      before = add("print " + b.id + again, b.id, "print", 0.25,
                   before < 0 ? std::vector<int>{} : std::vector<int>{before});
      loads[b.order > 3].push_back(add("cure " + b.id + again, b.id, "cure", 7, {before}));
    }
  const int first = add("journey 1", "", "journey", 1, loads[0]);
  const int second = add("journey 2", "", "journey", 1, loads[1]);
  int placed = footings;
  for (std::size_t i = 0; i < plan.blocks.size(); ++i)
    placed = add("place " + plan.blocks[i].id, plan.blocks[i].id, "place", 0.5,
                 {placed, i < 3 ? first : second});
  add("striking", "", "striking", 1, {placed});
  plan.network = network;
  for (const PlannedBlock& b : plan.blocks)
    plan.breakages.push_back({"place " + b.id, 0.03, 8.25 * kDay, 600, twice.contains(b.id)});
  return plan;
}

}  // namespace skewback::sample
