// From the forces on the seats to design values.

#include <algorithm>

#include "base/constants.hpp"
#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Per seat: people and tools on the plan area of its block, in equal parts, block there or not.
std::vector<Vec3> working_loads(const Brief& brief, const Assembly& assembly,
                                const Centring& centring) {
  std::vector<int> seats(assembly.blocks.size(), 0);
  for (const Seat& seat : centring.seats) ++seats[at(seat.prop.block)];
  std::vector<Vec3> out;
  for (const Seat& seat : centring.seats) {
    std::vector<Vec2> corners;
    for (const Vec3& v : assembly.blocks[at(seat.prop.block)].solid.vertices)
      corners.push_back(v.head<2>());
    const double share = area(convex_hull(corners)) / seats[at(seat.prop.block)];
    out.emplace_back(0, 0, -brief.centring.working_load_pa * share);
  }
  return out;
}

/// The weight alone of the same stage: "place s3" of "place s3, 1.5 people everywhere".
const SeatLoads* weight_of(const std::vector<SeatLoads>& loads, const SeatLoads& with) {
  const SeatLoads* best = nullptr;
  for (const SeatLoads& load : loads) {
    if (load.with_people || !(with.stage + ",").starts_with(load.stage + ",")) continue;
    if (best == nullptr || load.stage.size() > best->stage.size()) best = &load;
  }
  return best;
}

std::vector<Vec3> mixed(double a, const std::vector<Vec3>& x, double b,
                        const std::vector<Vec3>& y) {
  std::vector<Vec3> out;
  for (std::size_t i = 0; i < x.size(); ++i) out.push_back(a * x[i] + b * y[i]);
  return out;
}

}  // namespace

double down_n(const SeatCase& seats) {
  double sum = 0;
  for (const Vec3& f : seats.force) sum -= f.z();
  return sum;
}

SeatCases seat_cases(const Brief& brief, const Assembly& assembly,
                     const std::vector<SeatLoads>& loads, const Centring& centring) {
  SeatCases out;
  const std::vector<Vec3> working = working_loads(brief, assembly, centring);
  const double dead = brief.factors.dead_high, other = brief.factors.other;
  int alone = 0, skipped = 0;
  for (const SeatLoads& load : loads) {
    if (load.force.size() != centring.seats.size()) {
      ++skipped;
      continue;
    }
    if (!load.with_people) {
      out.all.push_back({load.stage, false, mixed(-1, load.force, 0, working), 1});
      const std::size_t now = out.all.size() - 1;
      const bool placing = load.stage.starts_with("place");
      const auto placed = [&](std::size_t i) { return out.all[i].stage.starts_with("place"); };
      // the last that is placed; with other names, the heaviest
      if (!out.whole || placing ||
          (!placed(*out.whole) && down_n(out.all[now]) > down_n(out.all[*out.whole])))
        out.whole = now;
      out.all.push_back({load.stage, true, mixed(-dead, load.force, other, working), dead});
      continue;
    }
    const SeatLoads* weight = weight_of(loads, load);
    if (weight == nullptr || weight->force.size() != load.force.size()) {
      ++alone;
      out.all.push_back({load.stage, true, mixed(-dead, load.force, 0, working), dead});
      continue;
    }
    out.all.push_back({load.stage, true, mixed(-(dead - 1), weight->force, -1, load.force), dead});
  }
  if (alone > 0)
    out.remarks.push_back(std::to_string(alone) +
                          " loads with people have no stage of weight alone beside them: all of "
                          "each was taken as weight");
  if (skipped > 0)
    out.remarks.push_back(std::to_string(skipped) +
                          " loads do not fit the seats of this centring and were left out");
  return out;
}

}  // namespace skewback
