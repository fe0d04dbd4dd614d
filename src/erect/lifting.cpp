#include "erect/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

struct Coming {  // a block about to be placed
  int block = -1;
  Entry entry;
  std::vector<char> placed;
  double over_m = 0;  // top of what stands
};

double top_of(const Solid& solid) { return reach_along(solid, Vec3::UnitZ()).to; }

std::vector<Coming> in_order(const Assembly& assembly, const Programme& programme) {
  std::map<std::string, int> index;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i)
    index.emplace(assembly.blocks[i].id, static_cast<int>(i));
  std::map<int, Entry> entries;
  for (const Stage& stage : programme.stages) {
    for (const Entry& entry : stage.entry) entries.emplace(entry.block, entry);
  }
  std::vector<char> placed;
  double over = std::numeric_limits<double>::max();  // with nothing there: the lowest of all
  for (const Block& block : assembly.blocks) {
    placed.push_back(block.fixed);
    over = std::min(over, reach_along(block.solid, Vec3::UnitZ()).from);
  }
  for (const Block& block : assembly.blocks) {
    if (block.fixed) over = std::max(over, top_of(block.solid));
  }
  std::vector<Coming> out;
  for (const std::string& id : programme.order) {
    const auto it = index.find(id);
    if (it == index.end()) continue;
    Coming coming{it->second, {}, placed, over};
    const auto entry = entries.find(it->second);
    if (entry != entries.end()) {
      coming.entry = entry->second;
    } else {
      coming.entry.block = it->second;
    }
    out.push_back(std::move(coming));
    placed[it->second] = 1;
    over = std::max(over, top_of(assembly.blocks[it->second].solid));
  }
  return out;
}

BlockLift lift_of(const Brief& brief, const Assembly& assembly, const Coming& coming,
                  const PrintSet* print) {
  const Solid& solid = assembly.blocks[coming.block].solid;
  const HandlingBlock block = handling_block(assembly, coming.block, print);
  BlockLift lift;
  lift.block = coming.block;
  lift.id = assembly.blocks[coming.block].id;
  lift.mass_kg = block.mass_kg;
  lift.centre = block.centre;
  lift.hook = block.centre;
  const std::optional<Slinging> slinging = sling(brief.lifting, solid, block);
  if (slinging) {
    for (const SlingLine& line : slinging->lines) {
      if (brief.lifting.legs > 2) {
        lift.slings.push_back(line.back);
        lift.slings.push_back(line.front);
      } else {
        lift.slings.push_back((line.back + line.front) / 2);
      }
    }
    lift.hook = slinging->hook;
    lift.sling_angle_rad = slinging->angle_rad;
    lift.tilt_rad = slinging->tilt_rad;
    lift.leg_lengths_m = slinging->leg_lengths_m;
    lift.slope_rad = slinging->slope_rad;
    lift.cradle = !slinging->straddles || std::max(slinging->slope_rad, slinging->cross_slope_rad) >
                                              std::atan(kSlingFriction);
    check_tension(brief, solid, block, *slinging, lift);
    check_slings(brief, block, *slinging, lift);
  } else {
    lift.cradle = true;
  }
  check_crane(brief.lifting, solid, block, coming.over_m, lift);
  lift.obstacle = way_in(assembly, coming.placed, coming.entry);
  lift.way_clear = lift.obstacle.empty();
  for (const HandlingCheck& check : lift.checks)
    lift.utilisation = std::max(lift.utilisation, check.utilisation);
  return lift;
}

std::string named(const LiftPlan& plan, bool (*wanted)(const BlockLift&)) {
  constexpr int kFew = 8;
  std::string ids;
  int count = 0;
  for (const BlockLift& lift : plan.lifts) {
    if (!wanted(lift)) continue;
    ids += (count++ == 0 ? "" : ", ") + lift.id;
  }
  return count > kFew ? std::to_string(count) + " blocks (see the table)" : ids;
}

std::string mm(double metres) { return std::to_string(std::lround(1000 * metres)) + " mm"; }

std::string stops(const Brief& brief, const LiftPlan& plan) {
  double least = HUGE_VAL, most = 0;
  std::string hardest;
  for (const BlockLift& lift : plan.lifts) {
    if (!lift.cradle || lift.slings.empty()) continue;
    const double n = stop_n(brief.lifting, lift.mass_kg, lift.slope_rad);
    least = std::min(least, n);
    if (n > most || hardest.empty()) hardest = lift.id;
    most = std::max(most, n);
  }
  const auto kn = [](double n) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f kN", n / 1000);
    return std::string(text);
  };
  return kn(least) + " to " + kn(most) + ", most for " + hardest;
}

void remark_slings(const Brief& brief, LiftPlan& plan) {
  const LiftRequest& request = brief.lifting;
  const std::string cradled =
      named(plan, [](const BlockLift& l) { return l.cradle && !l.slings.empty(); });
  if (!cradled.empty()) {
    plan.remarks.push_back(
        "Slings alone do not hold " + cradled +
        ": the soffit is steeper than a sling holds by friction (0.3, 17 degrees), or the centre "
        "of gravity is not between the slings' edges. A cradle under it, or stops against the "
        "lower bed, is needed; the checks take it as held in its slings. Along the fall a stop "
        "must "
        "be good for " +
        stops(brief, plan) +
        " (gamma x dynamic x weight x sine of the soffit's fall along the slings, friction not "
        "counted).");
  }
  const std::string unslung = named(plan, [](const BlockLift& l) { return l.slings.empty(); });
  if (!unslung.empty())
    plan.remarks.push_back("No place for slings was found on " + unslung +
                           ": neither the block nor its slings are checked.");
  if (request.legs == 3)
    plan.remarks.push_back("Three legs are planned as two pairs of which two legs are counted.");
  const double pad = brief.joints.pad_thickness_m;
  plan.remarks.push_back(
      "Slings run under the soffit along the flow and up both beds. " +
      (pad > 0 ? "In a joint they have the pad's " + mm(pad) + ": pads are left out over " +
                     mm(request.sling_width_m) +
                     " at both lines, and the sling must be thinner than that, or it cannot be "
                     "drawn out."
               : std::string("Joints have no pads, so a sling in one cannot be drawn out: the "
                             "block is set on its seats a sling's thickness short of the joint, "
                             "the slings are drawn, and it is moved home.")));
  plan.remarks.push_back(
      "Under the soffit they need room between the ribs or laggings of the centring: it is not "
      "checked that a seat does not stand at a sling.");
}

void remark_works(const Brief& brief, const PrintSet* print, LiftPlan& plan) {
  if (brief.print.wanted && print == nullptr)
    plan.remarks.emplace_back("Layers are not known: tension across them is not checked.");
  const std::string unlifted =
      brief.print.wanted
          ? named(plan,
                  [](const BlockLift& l) {
                    return !l.slings.empty() &&
                           std::ranges::none_of(l.checks, [](const HandlingCheck& c) {
                             return c.name == "tension, table";
                           });
                  })
          : "";
  if (!unlifted.empty())
    plan.remarks.push_back("No two slings carry " + unlifted +
                           " as made: how they leave the table is not checked.");
  if (!brief.print.wanted)
    plan.remarks.emplace_back(
        "Blocks are not printed: full strength is taken in the yard, and nothing sticks to a "
        "table.");
  if (!brief.lifting.crane) {
    plan.remarks.emplace_back("No crane is drawn (lifting.crane): its reach is not checked.");
  } else {
    plan.remarks.emplace_back(
        "The radius is that of each block's place; where the lorry stands is not in the brief: "
        "check the chart there too.");
    if (brief.lifting.chart.empty())
      plan.remarks.emplace_back("The crane has no chart (lifting.chart): its load is not checked.");
  }
  const std::string stuck = named(plan, [](const BlockLift& l) { return !l.way_clear; });
  if (!stuck.empty()) plan.remarks.push_back("No clear way in for " + stuck + ".");
  double wind = HUGE_VAL;
  for (const BlockLift& lift : plan.lifts) wind = std::min(wind, lift.wind_m_s);
  if (brief.loads.working_wind_m_s > wind)
    plan.remarks.push_back("Lifting stops at lesser gusts than other work: see each block.");
}

}  // namespace

LiftPlan plan_lifts(const Brief& brief, const Assembly& assembly, const Programme& programme,
                    const PrintSet* print) {
  const std::vector<Coming> coming = in_order(assembly, programme);
  LiftPlan plan;
  plan.lifts.resize(coming.size());
  for_each_index(coming.size(), [&](std::size_t i) {
    plan.lifts[i] = lift_of(brief, assembly, coming[i], print);
  });
  for (const BlockLift& lift : plan.lifts)
    plan.utilisation = std::max(plan.utilisation, lift.utilisation);
  remark_slings(brief, plan);
  remark_works(brief, print, plan);
  return plan;
}

}  // namespace skewback
