#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>

#include "brief/checks.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

void check_three_points(Draft& draft, const std::string& key, const Vec3& seconds) {
  if (!draft.has(key)) return;
  if (seconds.x() <= seconds.y() && seconds.y() <= seconds.z() && seconds.z() > 0) return;
  const double most = seconds.maxCoeff();
  const auto [unit, name] = most <= 7200     ? std::pair(60.0, " minutes")
                            : most <= 172800 ? std::pair(3600.0, " hours")
                                             : std::pair(86400.0, " days");
  draft.fault(key,
              number(seconds.x() / unit) + ", " + number(seconds.y() / unit) + ", " +
                  number(seconds.z() / unit) + name,
              "least, likely and most, none less than the one before, the last over 0",
              "put them in order");
}

/// The depth is at fault, unless it is the sheet that was written too small for any rib.
void check_rib_on_sheet(Draft& draft) {
  const CentringRequest& c = draft.brief.centring;
  const bool across = c.sheet_width_m <= c.sheet_length_m;
  const double side = std::min(c.sheet_width_m, c.sheet_length_m);
  const double least = 2 * c.part_gap_m + c.rib_depth_m;
  if (side > least) return;
  const CentringRequest usual;
  const std::string sheet = across ? "centring.sheet_width" : "centring.sheet_length";
  if (draft.has(sheet) && least < std::min(usual.sheet_width_m, usual.sheet_length_m))
    draft.fault(
        sheet, metres(side),
        "more than a rib's depth (centring.rib_depth) and the gaps beside it, " + metres(least),
        "a larger sheet, or a shallower rib");
  else
    draft.fault(draft.has("centring.rib_depth") ? "centring.rib_depth" : "centring",
                metres(c.rib_depth_m) + " of rib, " + metres(least) + " with the gaps beside it",
                "less than the shorter side of the sheet it is cut from, " + metres(side) + " (" +
                    sheet + ")",
                "a shallower rib, or a larger sheet");
}

void check_sheet(Draft& draft) {
  const CentringRequest& c = draft.brief.centring;
  if (draft.has("centring.tool") && c.cutter == "router" && c.tool_m > c.sheet_thickness_m) {
    draft.fault("centring.tool", metres(c.tool_m),
                "a bit no wider than a slot, which is as wide as the sheet is thick (" +
                    metres(c.sheet_thickness_m) + ")",
                "a thinner bit");
  }
  check_rib_on_sheet(draft);
}

constexpr double kPostsMost = 50;  // m (ours)

/// What lowers a foot, and what it stands on.
void check_feet(Draft& draft) {
  const CentringRequest& c = draft.brief.centring;
  const double down = CentringRequest::kDownShare * c.travel_m;
  const auto goes_down = [&](const std::string& key, double value, const std::string& what) {
    if (value <= down * (1 + 1e-9) || draft.spoilt("centring.travel")) return true;
    draft.fault(draft.has(key)                 ? key
                : draft.has("centring.travel") ? "centring.travel"
                                               : "centring",
                metres(value) + what + " of a foot that goes down by " + metres(down),
                "no more than two thirds of centring.travel, which are kept for striking",
                "a smaller " + key.substr(key.find('.') + 1) + ", or feet with more travel");
    return false;
  };
  // a travel that is too short for both is one mistake
  if (goes_down("centring.strike_step", c.strike_step_m, " at a time,") ||
      draft.has("centring.settlement"))
    goes_down("centring.settlement", c.settlement_m, " of settlement");
  const auto& supports = draft.brief.plan.supports;
  if (!draft.has("centring.ground_level") || supports.empty()) return;
  double low = supports.front().level_m, high = low;
  for (const Support& s : supports) {
    low = std::min(low, s.level_m);
    high = std::max(high, s.level_m);
  }
  const double top = high + std::max(0.0, draft.brief.form.rise_m);
  if (c.ground_level_m >= top)
    draft.fault("centring.ground_level", metres(c.ground_level_m),
                "under the bridge, whose top is near " + metres(top), "measured from level 0");
  else if (c.ground_level_m < low - kPostsMost)
    draft.fault("centring.ground_level", metres(c.ground_level_m),
                "no more than " + metres(kPostsMost) + " under the lowest support",
                "measured from level 0, in the unit written");
}

void check_no_feet(Draft& draft) {
  auto& areas = draft.brief.centring.no_feet;
  for (std::size_t k = 0; k < areas.size(); ++k) {
    if (check_polygon(areas[k], numbered("centring.no_feet", k), draft) && area(areas[k]) < 0)
      std::reverse(areas[k].begin(), areas[k].end());
  }
}

constexpr double kCraneOff = 30;  // m (ours)

/// As with the feet: a slip of a unit or of the level that heights are measured from.
void check_crane_level(Draft& draft) {
  const auto& supports = draft.brief.plan.supports;
  if (!draft.has("lifting.crane_level") || supports.empty()) return;
  const double level = draft.brief.lifting.crane_level_m;
  double off = HUGE_VAL;
  for (const Support& s : supports) off = std::min(off, std::abs(level - s.level_m));
  if (off > kCraneOff)
    draft.fault("lifting.crane_level",
                metres(level) + ", " + metres(off) + " off the level of the nearest support",
                "within " + metres(kCraneOff) + " of a support's level",
                "measured from level 0, in the unit written");
}

void check_crane(Draft& draft) {
  LiftRequest& lift = draft.brief.lifting;
  for (std::size_t k = 0; k + 1 < lift.chart.size(); ++k) {
    const std::string key = numbered("lifting.chart", k + 1);
    if (draft.spoilt(numbered("lifting.chart", k) + ".radius") ||
        draft.spoilt(numbered("lifting.chart", k) + ".capacity"))
      continue;
    if (!draft.has(key + ".radius") || !draft.has(key + ".capacity")) continue;
    const CraneReach &a = lift.chart[k], &b = lift.chart[k + 1];
    if (b.radius_m <= a.radius_m)
      draft.fault(key + ".radius", metres(b.radius_m) + " after " + metres(a.radius_m),
                  "radii in rising order", "put the lines of the chart in order");
    else if (b.capacity_kg > a.capacity_kg)
      draft.fault(key + ".capacity",
                  number(b.capacity_kg) + " kg after " + number(a.capacity_kg) + " kg",
                  "no more than nearer to the crane", "check the line of the chart");
  }
  if (lift.crane && lift.chart.empty())
    draft.fault("lifting.crane", "a place for a crane without its chart",
                "one or more [[lifting.chart]] tables", "add radius and capacity");
  if (!lift.crane && !lift.chart.empty())
    draft.fault("lifting.chart[1]", "a chart of a crane that stands nowhere",
                "lifting.crane, the place it stands at", "add crane = [\"0 m\", \"12 m\"]");
  for (const auto& [key, at] : {std::pair{"lifting.second_stand", lift.second_stand},
                                std::pair{"lifting.lorry", lift.lorry}})
    if (at && !lift.crane)
      draft.fault(key, "a place without a crane", "lifting.crane, where the crane stands first",
                  "add crane = [\"0 m\", \"12 m\"]");
  for (const auto& [key, at] : {std::pair{"lifting.crane", lift.crane},
                                std::pair{"lifting.second_stand", lift.second_stand},
                                std::pair{"lifting.lorry", lift.lorry}})
    if (at && inside(draft.brief.plan.outline, *at))
      draft.fault(key, "a place on the bridge itself", "a place beside the plan",
                  "move it off the outline");
  if (draft.has("lifting.legs") && lift.legs == 3)
    draft.fault("lifting.legs", "3", "2 or 4", "write legs = 4");
}

bool is_date(const std::string& text) {
  int y = 0, m = 0, d = 0, used = 0;
  if (std::sscanf(text.c_str(), "%4d-%2d-%2d%n", &y, &m, &d, &used) != 3 || text.size() != 10 ||
      used != 10)
    return false;
  return std::chrono::year_month_day(std::chrono::year(y), std::chrono::month(unsigned(m)),
                                     std::chrono::day(unsigned(d)))
      .ok();
}

void check_calendar(Draft& draft) {
  constexpr std::array kDays{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
  const ProgrammeRequest& p = draft.brief.programme;
  for (std::size_t i = 0; i < p.week.size(); ++i) {
    if (p.week[i].empty()) continue;  // no text: a fault already
    if (std::ranges::find(kDays, p.week[i]) != kDays.end() &&
        std::ranges::count(p.week, p.week[i]) == 1)
      continue;
    draft.fault(numbered("programme.week", i), in_quotes(p.week[i]),
                "\"mon\", \"tue\", \"wed\", \"thu\", \"fri\", \"sat\" or \"sun\", each once",
                "write week = [\"mon\", \"tue\", \"wed\", \"thu\", \"fri\"]");
    break;
  }
  for (std::size_t i = 0; i < p.holidays.size(); ++i)
    if (!p.holidays[i].empty() && !is_date(p.holidays[i]))
      draft.fault(numbered("programme.holidays", i), in_quotes(p.holidays[i]),
                  "a date, year-month-day", "write holidays = [\"2027-03-26\"]");
}

}  // namespace

/// Two vehicles in one place; a hook that stays below what it is to lift over.
void check_hook(Draft& draft) {
  const LiftRequest& lift = draft.brief.lifting;
  constexpr double kApart = 1;  // m
  if (lift.crane && lift.lorry && draft.has("lifting.lorry") &&
      (*lift.crane - *lift.lorry).norm() < kApart)
    draft.fault("lifting.lorry", "the place the crane stands at", "a place beside the crane",
                "move one of them");
  const double top = draft.brief.form.rise_m - lift.crane_level_m;  // over the mean springing
  if (draft.has("lifting.hook_max") && draft.has("form.rise") && lift.hook_max_m <= top)
    draft.fault("lifting.hook_max",
                metres(lift.hook_max_m) + ", with the crown " + metres(top) + " above the crane",
                "a hook that gets over the bridge", "give the height it gets to");
}

std::string days(double seconds) { return number(std::round(seconds / 8640) / 10) + " days"; }

/// Lifted into its place no younger than off its table.
void check_site_age(Draft& draft) {
  constexpr double kNotPrinted_s = 28 * 86400.0;
  const Brief& b = draft.brief;
  if (!draft.has("lifting.site_age") || draft.spoilt("lifting.table_age") ||
      draft.spoilt("print.curing"))
    return;
  const bool told = draft.has("lifting.table_age");
  const double table_s = told             ? b.lifting.table_age_s
                         : b.print.wanted ? b.print.curing_s
                                          : kNotPrinted_s;
  if (b.lifting.site_age_s >= table_s - 1) return;
  const std::string from = told             ? "`lifting.table_age` of " + days(table_s)
                           : b.print.wanted ? "`print.curing` of " + days(table_s)
                                            : days(table_s) + ", as nothing is printed";
  draft.fault("lifting.site_age",
              days(b.lifting.site_age_s) + ", and blocks leave the table after " + from,
              "no less than the age at which a block leaves its table",
              told ? "let them be older when they are lifted into place"
                   : "let them be older, or write lifting.table_age as well");
}

/// Handling is proved at these ages, blocks are lifted by the others: they have to agree.
void check_ages(Draft& draft) {
  const Brief& b = draft.brief;
  if (!b.print.wanted) return;
  if (draft.has("lifting.table_age") && b.lifting.table_age_s > b.print.curing_s + 1)
    draft.fault("lifting.table_age",
                days(b.lifting.table_age_s) +
                    ", and blocks leave the table after `print.curing` of " +
                    days(b.print.curing_s),
                "no more than `print.curing`",
                "let them cure as long, or prove the handling at a younger age");
  const double least_s = b.print.curing_s + b.transport.journey_s.x();
  if (draft.has("lifting.site_age") && b.lifting.site_age_s > least_s + 1)
    draft.fault("lifting.site_age",
                days(b.lifting.site_age_s) + ", and blocks can be here " + days(least_s) +
                    " after they are printed",
                "no more than `print.curing` and the shortest `transport.journey`",
                "let them cure as long, or prove the lift at a younger age");
}

/// A lorry that carries not one block.
void check_lorry(Draft& draft) {
  const TransportRequest& t = draft.brief.transport;
  const double block_kg = draft.brief.blocks.mass_max_kg;
  if (!t.wanted) return;
  if (t.pallet_mass_kg >= t.lorry_load_kg)
    draft.fault(
        draft.has("transport.pallet_mass") ? "transport.pallet_mass" : "transport.lorry_load",
        "empty pallets of " + number(t.pallet_mass_kg) + " kg on lorries that carry " +
            number(t.lorry_load_kg) + " kg",
        "a pallet that leaves room for a block", "a lighter pallet, or a larger lorry");
  else if (draft.has("transport.lorry_load") && draft.has("blocks.mass_max") &&
           t.lorry_load_kg < block_kg + t.pallet_mass_kg)
    draft.fault("transport.lorry_load", number(t.lorry_load_kg) + " kg",
                "a block of `blocks.mass_max` on its pallet at least, " +
                    number(block_kg + t.pallet_mass_kg) + " kg",
                "a larger lorry, or lighter blocks");
}

void check_site(Draft& draft) {
  Brief& brief = draft.brief;
  brief.centring.wanted = draft.spots.contains("centring");
  brief.lifting.wanted = draft.spots.contains("lifting");
  brief.transport.wanted = draft.spots.contains("transport");
  brief.spares.wanted = draft.spots.contains("spares");
  brief.spares.count_line = draft.spot("spares.count").line;
  brief.programme.wanted = draft.spots.contains("programme");
  check_sheet(draft);
  check_feet(draft);
  check_no_feet(draft);
  check_crane(draft);
  check_crane_level(draft);
  check_hook(draft);
  check_ages(draft);
  check_site_age(draft);
  const ProgrammeRequest& p = brief.programme;
  check_three_points(draft, "transport.journey", brief.transport.journey_s);
  check_three_points(draft, "programme.footings", p.footings_s);
  check_three_points(draft, "programme.cutting", p.cutting_s);
  check_three_points(draft, "programme.centring", p.centring_s);
  check_three_points(draft, "programme.placing", p.placing_s);
  check_three_points(draft, "programme.striking", p.striking_s);
  check_three_points(draft, "programme.walkway", p.walkway_s);
  if (draft.has("programme.start") && !is_date(p.start))
    draft.fault("programme.start", in_quotes(p.start), "a date, year-month-day",
                "write start = \"2027-03-01\"");
  if (draft.has("site.date") && !is_date(brief.site.date))
    draft.fault("site.date", in_quotes(brief.site.date), "a date, year-month-day",
                "write date = \"2027-02-22\"");
  check_calendar(draft);
  if (brief.transport.wanted && brief.transport.pallet_width_m > brief.transport.lorry_width_m)
    draft.fault(draft.has("transport.pallet_width") ? "transport.pallet_width" : "transport",
                metres(brief.transport.pallet_width_m) + " on a lorry " +
                    metres(brief.transport.lorry_width_m) + " wide",
                "a pallet that goes on the lorry", "a narrower pallet, or a wider lorry");
  check_lorry(draft);
  if (brief.transport.wanted && brief.transport.pallet_length_m > brief.transport.lorry_length_m)
    draft.fault(draft.has("transport.lorry_length") ? "transport.lorry_length" : "transport",
                "a load bed of " + metres(brief.transport.lorry_length_m) + " for pallets of " +
                    metres(brief.transport.pallet_length_m),
                "a pallet that goes on the lorry", "a shorter pallet, or a longer lorry");
}

}  // namespace skewback
