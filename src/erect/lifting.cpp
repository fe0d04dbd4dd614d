#include "erect/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <map>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "erect/lifting_parts.hpp"
#include "erect/transport.hpp"

namespace skewback {
namespace {

struct Coming {  // a block about to be placed
  int block = -1;
  Entry entry;
  std::vector<char> placed;
  double over_m = 0;               // top of what stands
  std::optional<double> on_bed_m;  // as of check_crane
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
    Coming coming{it->second, {}, placed, over, {}};
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
                  const PrintSet* print, const std::optional<std::vector<PlanBar>>& bars) {
  const Solid& solid = assembly.blocks[coming.block].solid;
  const HandlingBlock block = handling_block(assembly, coming.block, print);
  BlockLift lift;
  lift.block = coming.block;
  lift.id = assembly.blocks[coming.block].id;
  lift.mass_kg = block.mass_kg;
  lift.centre = block.centre;
  lift.hook = block.centre;
  const std::optional<Slinging> slinging =
      sling(brief.lifting, solid, block, bars.value_or(std::vector<PlanBar>{}),
            little_tension(brief, block.mass_kg));
  if (slinging) {
    if (bars)
      lift.sling_over_seat = lines_over(slinging->lines, brief.lifting.sling_width_m, *bars) > 0;
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
    check_strap(brief, block, *slinging, lift);
  } else {
    lift.cradle = true;
  }
  check_crane(brief.lifting, solid, block, coming.over_m, coming.on_bed_m, lift);
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

std::string strap_tensions(const LiftPlan& plan) {
  double least = HUGE_VAL, most = 0;
  std::string hardest;
  for (const BlockLift& lift : plan.lifts) {
    if (!(lift.strap_n > 0)) continue;
    const double n = lift.strap_n;
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

void remark_slings(const Brief& brief, const Centring* centring, LiftPlan& plan) {
  const LiftRequest& request = brief.lifting;
  const double pad = brief.joints.pad_thickness_m;
  const std::string strapped = named(plan, [](const BlockLift& l) { return l.strap_n > 0; });
  if (!strapped.empty()) {
    plan.remarks.push_back(
        "Slings alone do not hold " + strapped +
        ": the soffit is steeper than a sling holds by friction (0.3, 17 degrees). For these two "
        "ratchet straps are needed, one drawn over each sling round soffit, beds and back before "
        "the block leaves the ground, by hand to " +
        strap_tensions(plan) +
        ". They are let go when it stands on its seats and drawn out with the "
        "slings" +
        (pad > 0 ? "; sling and strap together must be thinner than the pad, " + mm(pad) : "") +
        ".");
  }
  const std::string cradled = named(
      plan, [](const BlockLift& l) { return l.cradle && !(l.strap_n > 0) && !l.slings.empty(); });
  if (!cradled.empty())
    plan.remarks.push_back("The centre of gravity of " + cradled +
                           " is not between the slings' edges: no strap helps. A cradle must carry "
                           "it, or it is to be slung otherwise; the checks take it as held in its "
                           "slings.");
  const std::string unslung = named(plan, [](const BlockLift& l) { return l.slings.empty(); });
  if (!unslung.empty())
    plan.remarks.push_back("No place for slings was found on " + unslung +
                           ": neither the block nor its slings are checked.");
  if (request.legs == 3)
    plan.remarks.push_back("Three legs are planned as two pairs of which two legs are counted.");
  plan.remarks.push_back(
      "Slings run under the soffit along the flow and up both beds. " +
      (pad > 0 ? "In a joint they have the pad's " + mm(pad) + ": pads are left out over " +
                     mm(request.sling_width_m) +
                     " at both lines, and the sling must be thinner than that, or it cannot be "
                     "drawn out."
               : std::string("Joints have no pads, so a sling in one cannot be drawn out: the "
                             "block is set on its seats a sling's thickness short of the joint, "
                             "the slings are drawn, and it is moved home.")));
  plan.remarks.push_back(remark_on_seats(brief, centring, plan));
}

/// Blocks that are stopped in the same way, and one of them in figures.
void remark_beyond(LiftPlan& plan) {
  std::map<std::string, std::vector<const BlockLift*>> stopped;
  for (const BlockLift& lift : plan.lifts) {
    if (!beyond_the_crane(lift)) continue;
    std::string how;
    for (std::size_t k = 0; k < lift.stands.size(); ++k) {
      const bool place = lift.stands[k].place_stops(), lorry = lift.stands[k].lorry_stops();
      how += (k == 0 ? "From its first stand " : ", from its second stand ") +
             std::string(place && lorry ? "neither the place nor the lorry is"
                         : place        ? "the place is not"
                                        : "the lorry is not") +
             " within its chart";
    }
    stopped[how].push_back(&lift);
  }
  for (const auto& [how, lifts] : stopped) {
    std::string blocks;
    for (const BlockLift* lift : lifts) blocks += (blocks.empty() ? "" : ", ") + lift->id;
    constexpr std::size_t kFew = 8;
    if (lifts.size() > kFew) blocks = std::to_string(lifts.size()) + " blocks (see lifts.csv)";
    plan.remarks.push_back("The crane does not lift " + blocks + ". " + how + ". " +
                           lifts.front()->id + ": " + stands_in_words(*lifts.front()) + ".");
  }
}

/// Which blocks another stand is for; where none is drawn, one that would do.
void remark_stands(const LiftRequest& request, LiftPlan& plan) {
  const std::string later = named(plan, [](const BlockLift& l) { return l.stand == 2; });
  int moves = 0;
  for (std::size_t i = 1; i < plan.lifts.size(); ++i)
    moves += plan.lifts[i].stand != plan.lifts[i - 1].stand ? 1 : 0;
  if (!later.empty())
    plan.remarks.push_back("From its second stand the crane lifts " + later +
                           "; in the order of placing it is moved " + std::to_string(moves) +
                           (moves == 1 ? " time." : " times."));
  remark_beyond(plan);
  if (request.second_stand || request.chart.empty()) return;
  Vec2 middle = Vec2::Zero();
  double heaviest_kg = 0;
  std::vector<Vec2> places;
  for (const BlockLift& lift : plan.lifts) {
    if (lift.crane_share <= 1) continue;
    places.emplace_back(lift.hook.head<2>());
    middle += places.back();
    heaviest_kg = std::max(heaviest_kg, lift.mass_kg + request.rigging_mass_kg);
  }
  if (places.empty()) return;
  middle /= static_cast<double>(places.size());
  double off_m = 0, reach_m = 0;
  for (const Vec2& p : places) off_m = std::max(off_m, (p - middle).norm());
  for (const CraneReach& r : request.chart)
    if (r.capacity_kg >= heaviest_kg) reach_m = r.radius_m;
  const auto metres = [](double m) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f", std::abs(m) < 0.05 ? 0 : m);
    return std::string(text);
  };
  const std::string beyond = std::to_string(places.size()) + " blocks are beyond the crane. ";
  if (reach_m > off_m)
    plan.remarks.push_back(beyond + "A second stand clear of the bridge and within " +
                           metres(reach_m - off_m) + " m of (" + metres(middle.x()) + ", " +
                           metres(middle.y()) +
                           ") would reach them by its chart (lifting.second_stand)" +
                           (request.lorry ? "; the lorry must be within it from there too." : "."));
  else
    plan.remarks.push_back(beyond + "No single second stand reaches all of them by its chart.");
}

std::string days_in_words(double days) {
  char text[32];
  const double rounded = std::ceil(10 * days - 1e-9) / 10;
  std::snprintf(text, sizeof text, rounded == 1 ? "%.3g day" : "%.3g days", rounded);
  return text;
}

/// An age as it is; days_in_words is for one from which on something holds.
std::string age_in_words(double days) {
  char text[32];
  std::snprintf(text, sizeof text, days < 2 ? "%.3g hours" : "%.3g days",
                days < 2 ? 24 * days : days);
  return text;
}

bool hangs_on_age(const HandlingCheck& check, bool on_site) {
  return check.age_days > 0 && check.name.ends_with(", site") == on_site;
}

/// None: not by 28 days, or nothing is known of it.
std::optional<double> holds_from_days(const BlockLift& lift, bool on_site) {
  std::optional<double> days;
  for (const HandlingCheck& check : lift.checks) {
    if (!hangs_on_age(check, on_site)) continue;
    if (!check.holds_from_days) return std::nullopt;
    days = std::max(days.value_or(0), *check.holds_from_days);
  }
  return days;
}

/// Which blocks are lifted at an age at which they do not bear it, and from when on they would.
void remark_early(const std::string& when, double age_days, bool on_site, LiftPlan& plan) {
  std::string later, never;
  for (const BlockLift& lift : plan.lifts) {
    const bool bears = std::ranges::none_of(lift.checks, [&](const HandlingCheck& c) {
      return hangs_on_age(c, on_site) && !(c.utilisation <= 1);
    });
    if (bears) continue;
    const std::optional<double> days = holds_from_days(lift, on_site);
    std::string& list = days ? later : never;
    list += (list.empty() ? "" : ", ") + lift.id + (days ? " from " + days_in_words(*days) : "");
  }
  const std::string at = " when it is lifted " + when + " at " + age_in_words(age_days) + ": ";
  if (!later.empty())
    plan.remarks.push_back("Too early: the concrete does not bear the block" + at + "it does for " +
                           later + " on.");
  if (!never.empty())
    plan.remarks.push_back("The concrete does not bear the block" + at + never +
                           ", and waiting up to 28 days does not help.");
}

void remark_ages(const Brief& brief, LiftPlan& plan) {
  const auto percent = [](double share) { return std::to_string(std::lround(100 * share)) + " %"; };
  const auto one = [&](const LiftAge& age) {
    return percent(age.tension) + (age.as_tested ? " as tested (lifting.early_strength)"
                                                 : " at " + age_in_words(age.days));
  };
  const bool young = std::min(plan.table.as_tested ? 28 : plan.table.days, plan.site.days) < 3;
  plan.remarks.push_back(
      "Of their tension at 28 days blocks have " + one(plan.table) + " when they leave the " +
      (brief.print.wanted ? "table" : "yard") + " and " + one(plan.site) +
      " when they are lifted into place (EN 1992-1-1:2004 3.1.2, cement of class " +
      brief.material.cement +
      ", 20 degrees, from memory). Printed mixes with accelerator harden "
      "otherwise: test them at that age" +
      (young ? "; under 3 days the standard asks for it." : "."));
  if (!plan.table.as_tested)
    remark_early(brief.print.wanted ? "off its table" : "in the yard", plan.table.days, false,
                 plan);
  remark_early("into its place", plan.site.days, true, plan);
}

void remark_works(const Brief& brief, const PrintSet* print, bool loaded, LiftPlan& plan) {
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
        "Blocks are not printed: nothing sticks to a table, and none is turned.");
  if (!brief.lifting.crane) {
    plan.remarks.emplace_back("No crane is drawn (lifting.crane): its reach is not checked.");
  } else {
    plan.remarks.push_back(remark_on_lorry(brief.lifting, loaded));
    remark_stands(brief.lifting, plan);
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

std::optional<double> may_leave_table_days(const BlockLift& lift) {
  return holds_from_days(lift, false);
}
std::optional<double> may_be_placed_days(const BlockLift& lift) {
  return holds_from_days(lift, true);
}

std::string held_by(const BlockLift& lift) {
  if (!lift.cradle) return "slings";
  return lift.strap_n > 0 ? "slings and straps" : "cradle";
}

LiftPlan plan_lifts(const Brief& brief, const Assembly& assembly, const Programme& programme,
                    const PrintSet* print, const Centring* centring, const Transport* transport) {
  std::vector<Coming> coming = in_order(assembly, programme);
  if (transport != nullptr) {
    const std::vector<double> far_m = from_middle_of_bed(brief.transport, assembly, *transport);
    for (Coming& c : coming) c.on_bed_m = far_m[static_cast<std::size_t>(c.block)];
  }
  LiftPlan plan;
  plan.table = age_off_table(brief);
  plan.site = age_on_site(brief);
  plan.lifts.resize(coming.size());
  std::optional<std::vector<PlanBar>> bars;
  if (centring != nullptr) bars = under_blocks(brief.centring, *centring);
  for_each_index(coming.size(), [&](std::size_t i) {
    plan.lifts[i] = lift_of(brief, assembly, coming[i], print, bars);
  });
  for (const BlockLift& lift : plan.lifts)
    plan.utilisation = std::max(plan.utilisation, lift.utilisation);
  remark_slings(brief, centring, plan);
  remark_ages(brief, plan);
  remark_works(brief, print, transport != nullptr, plan);
  return plan;
}

}  // namespace skewback
