#include "deliver/report_haul.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/haul_sheets.hpp"
#include "deliver/remark.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string degrees(double rad) { return fixed(rad * 180 / kPi, 1); }

std::optional<Colour> tint(bool fails) {
  return fails ? verdict_tint(Verdict::kFalls) : std::optional<Colour>{};
}

std::string percent(double share) {
  return std::isfinite(share) ? fixed(100 * share, 0) : "beyond";
}

std::string amount(double value, const std::string& unit) {
  if (unit == "Pa") return fixed(value / 1e6, 3) + " MPa";
  if (unit == "N") return fixed(value / 1e3, 2) + " kN";
  return fixed(value, unit == "kg" ? 0 : 2) + " " + unit;
}

/// Greatest half distance between the sling lines, seen level.
double off_of(const BlockLift& lift) {
  if (lift.slings.size() < 2) return 0;
  const std::size_t half = lift.slings.size() / 2;
  return (lift.slings[half] - lift.slings[0]).head<2>().norm() / 2;
}

void add_lift_table(Pages& pages, const LiftPlan& plan) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < plan.lifts.size(); ++i) {
    const BlockLift& l = plan.lifts[i];
    const HandlingCheck* worst = worst_check(l.checks);
    rows.push_back(
        {{std::to_string(i + 1), l.id, fixed(l.mass_kg, 0), fixed(off_of(l), 2),
          degrees(l.sling_angle_rad), fixed(l.leg_force_n / 1000, 2),
          degrees(l.slope_rad) + (l.strap_n > 0 ? " S"
                                  : l.cradle    ? " C"
                                                : ""),
          fixed(l.radius_m, 1) + (l.stand > 1 ? " II" : ""), percent(l.crane_share),
          fixed(l.wind_m_s, 1),
          worst == nullptr ? "none made" : worst->name + " " + percent(worst->utilisation)},
         tint(!(l.utilisation <= 1) || !l.way_clear)});
  }
  pages.table({{"", 0.4, true},
               {"block", 1.3},
               {"kg", 0.6, true},
               {"slings (m)", 0.9, true},
               {"angle (°)", 0.8, true},
               {"leg (kN)", 0.8, true},
               {"soffit (°)", 0.9, true},
               {"radius (m)", 0.9, true},
               {"crane (%)", 0.85, true},
               {"gust (m/s)", 0.9, true},
               {"nearest its limit (%)", 1.9}},
              rows);
  pages.paragraph(
      "In the order of placing. Slings: from the centre of gravity to each line. Angle: of the "
      "legs from the vertical. Soffit: its fall along the slings; S: with a strap over each "
      "sling; C: only a cradle holds it. "
      "Gust: up to which it may hang, least of the chart's and of what its own area and mass "
      "allow. II: from the crane's second stand.");
}

struct Kind {  // the worst of one check over all blocks
  const HandlingCheck* check = nullptr;
  std::string id;
};

constexpr double kNothing = 0.005;  // would be shown as 0 %

void add_kinds(Pages& pages, const std::vector<Kind>& kinds) {
  std::vector<Row> rows;
  std::vector<std::string> nothing;
  for (const Kind& k : kinds) {
    if (k.check->utilisation < kNothing) {
      nothing.push_back(k.check->name);
      continue;
    }
    rows.push_back({{k.check->name, k.id, amount(k.check->demand, k.check->unit),
                     amount(k.check->resistance, k.check->unit), percent(k.check->utilisation),
                     k.check->place, k.check->source},
                    tint(!(k.check->utilisation <= 1))});
  }
  pages.keep(40);
  pages.subheading("The hardest of each check");
  if (rows.empty()) {
    pages.paragraph("None comes to half a per cent of what is allowed.");
    return;
  }
  pages.table({{"check", 1.1},
               {"block", 0.9},
               {"found", 0.9, true},
               {"allowed", 0.9, true},
               {"%", 0.5, true},
               {"where", 2.1},
               {"source", 2.1}},
              rows);
  if (!nothing.empty())
    pages.paragraph("Left out, under half a per cent of what is allowed: " + joined(nothing, "; ") +
                    ".");
}

void keep_worst(std::vector<Kind>& kinds, const HandlingCheck& check, const std::string& id) {
  auto kind = std::ranges::find(kinds, check.name, [](const Kind& k) { return k.check->name; });
  if (kind == kinds.end()) {
    kinds.push_back({&check, id});
  } else if (check.utilisation > kind->check->utilisation) {
    *kind = {&check, id};
  }
}

void add_remarks(Pages& pages, const std::vector<std::string>& remarks) {
  for (const std::string& remark : remarks) add_remark(pages, remark);
}

std::string strength_in_words(const LiftAge& age, const std::string& where) {
  return fixed(100 * age.tension, 0) + " % of the tension at 28 days " + where +
         (age.as_tested ? ", as tested" : ", at " + fixed(age.days, 1) + " days");
}

void add_assumed(Pages& pages, const LiftPlan& plan, const LiftRequest& r) {
  pages.subheading("What is assumed");
  pages.paragraph(
      "Weight times " + fixed(r.dynamic, 2) + " while the crane sets down and " +
      fixed(r.dynamic_yard, 2) + " in the yard, times " + fixed(r.gamma_load, 2) +
      "; the table holds on with " + fixed(r.adhesion_pa / 1000, 2) + " kPa; " +
      strength_in_words(plan.table, "when a block leaves it") + ", " +
      strength_in_words(plan.site, "on site") + "; " + std::to_string(r.legs) + " legs" +
      (r.spreader   ? " on a spreader"
       : r.legs > 2 ? ", two of them counted"
                    : "") +
      ". Legs lean no more than " + degrees(r.sling_angle_rad) +
      " degrees, and no more than friction of 0.3 holds under the block unless they hang from a "
      "spreader. Strength while handled is that of uncracked concrete.");
}

void add_pallet_table(Pages& pages, const Transport& transport) {
  std::vector<Row> rows;
  for (const LorryLoad& lorry : transport.lorries) {
    for (const LoadedPallet& at : lorry.pallets) {
      const Pallet& p = transport.pallets[static_cast<std::size_t>(at.pallet)];
      for (const BeddedBlock& b : p.blocks) {
        const HandlingCheck* worst = worst_check(b.checks);
        rows.push_back(
            {{lorry.id, p.id, name_of(b), b.words, fixed(p.mass_kg, 0),
              fixed(p.length_m, 2) + " x " + fixed(p.width_m, 2), fixed(p.height_m, 2),
              fixed(b.tips_at_g, 2),
              worst == nullptr ? "none made" : worst->name + " " + percent(worst->utilisation)},
             tint(worst != nullptr && !(worst->utilisation <= 1))});
      }
    }
  }
  pages.keep(40);
  pages.subheading("Blocks on the road");
  pages.table({{"lorry", 0.6},
               {"load", 0.7},
               {"block", 1.3},
               {"bedded", 1.6},
               {"kg in all", 0.7, true},
               {"floor (m)", 1.2, true},
               {"high (m)", 0.7, true},
               {"tips at (g)", 0.8, true},
               {"nearest its limit (%)", 1.6}},
              rows);
  pages.paragraph(
      "Load: a pallet, or one block on bearers of its own. Tips at: level acceleration over "
      "gravity at which the block tips by itself.");
}

}  // namespace

std::string gusts_in_words(const LiftPlan& plan) {
  if (plan.lifts.empty()) return "";
  const auto [least, most] = std::ranges::minmax_element(plan.lifts, {}, &BlockLift::wind_m_s);
  const std::string from = fixed(least->wind_m_s, 1), to = fixed(most->wind_m_s, 1);
  if (from == to) return ": " + from + " m/s";
  return ": from " + from + " m/s (" + least->id + ") to " + to + " m/s (" + most->id +
         "), as the table of lifts says for each";
}

std::string lifting_summary(const LiftPlan& plan) {
  std::size_t over = 0, blocked = 0, cradles = 0, straps = 0;
  double most_n = 0;
  const BlockLift* calmest = nullptr;
  for (const BlockLift& l : plan.lifts) {
    over += l.utilisation <= 1 ? 0 : 1;
    blocked += l.way_clear ? 0 : 1;
    straps += l.strap_n > 0 ? 1 : 0;
    cradles += l.cradle && !(l.strap_n > 0) ? 1 : 0;
    most_n = std::max(most_n, l.strap_n);
    if (calmest == nullptr || l.wind_m_s < calmest->wind_m_s) calmest = &l;
  }
  std::string text = counted(plan.lifts.size(), "lift");
  if (calmest == nullptr) return text + ".";
  if (straps + cradles == 0) text += ", all held by slings alone";
  if (straps > 0)
    text += ", " + std::to_string(straps) +
            " of them with a strap drawn over each sling, by hand to up to " + amount(most_n, "N");
  if (cradles > 0)
    text += ", " + std::to_string(cradles) +
            " of them not held by slings alone: a cradle, not designed here, must hold " +
            (cradles == 1 ? "it" : "them");
  text += "; lifting stops at gusts of " + fixed(calmest->wind_m_s, 1) + " m/s for " + calmest->id +
          ", at higher ones for the others. ";
  text += over == 0
              ? std::string(cradles == 0 ? "Every check is met" : "So held, every check is met") +
                    ", the hardest at " + percent(plan.utilisation) + " %"
              : counted(over, "block") + " over a limit";
  return text + "; " +
         (blocked == 0 ? "every block has a clear way in"
                       : counted(blocked, "block") + " without a clear way in") +
         ".";
}

void add_lifting(Pages& pages, const Brief& brief, const Assembly& assembly, const LiftPlan& plan) {
  pages.heading("Lifting");
  pages.paragraph(lifting_summary(plan) +
                  " Blocks hang in slings under their soffit, as they will stand.");
  add_remarks(pages, plan.remarks);
  pages.figure(lift_plan_sheet(brief, assembly, plan, pages.width_mm()), "");
  const int hardest = hardest_lift(plan);
  if (hardest >= 0)
    pages.figure(hanging_sheet(brief, assembly, plan.lifts[static_cast<std::size_t>(hardest)],
                               pages.width_mm()),
                 "The block of which lifting asks most: slings, concrete and edges, without the "
                 "crane.");
  add_lift_table(pages, plan);
  std::vector<Kind> kinds;
  for (const BlockLift& l : plan.lifts) {
    for (const HandlingCheck& check : l.checks) keep_worst(kinds, check, l.id);
  }
  if (!kinds.empty()) add_kinds(pages, kinds);
  add_assumed(pages, plan, brief.lifting);
  pages.paragraph(
      "A lifting plan belongs to a competent person. Nobody stands under a load or in its path; "
      "slings are inspected before each shift; no block is lifted before its strength is tested.");
}

constexpr double kLorryHigh = 118;  // mm: two to a page
constexpr double kPalletsHigh = 240;

void add_transport(Pages& pages, const Brief& brief, const Assembly& assembly,
                   const Transport& transport) {
  pages.heading("Transport");
  const auto alone = static_cast<std::size_t>(
      std::ranges::count_if(transport.pallets, [](const Pallet& p) { return p.own_bearers; }));
  pages.paragraph(
      counted(alone, "load") + (alone == 1 ? " that is" : ", each") +
      " one block on bearers of its own, and " +
      counted(transport.pallets.size() - alone, "pallet") + ", on " +
      std::to_string(transport.lorries.size()) +
      (transport.lorries.size() == 1 ? " lorry" : " lorries") +
      ", in the order of placing: what is needed first is on the first lorry, nearest to its tail. "
      "The road uses " +
      percent(transport.utilisation) + " % of the strength of the block it asks most of.");
  add_remarks(pages, transport.remarks);
  for (std::size_t i = 0; i < transport.lorries.size(); ++i)
    pages.figure(lorry_sheet(brief, assembly, transport, i, pages.width_mm(), kLorryHigh), "");
  for (const Sheet& sheet :
       pallet_sheets(brief, assembly, transport, pages.width_mm(), kPalletsHigh))
    pages.figure(sheet, "");
  std::vector<Kind> kinds;
  for (const Pallet& p : transport.pallets) {
    for (const BeddedBlock& b : p.blocks) {
      for (const HandlingCheck& check : b.checks) keep_worst(kinds, check, b.id);
    }
  }
  if (!kinds.empty()) add_kinds(pages, kinds);
  add_pallet_table(pages, transport);
  const TransportRequest& r = brief.transport;
  pages.paragraph(
      "Accelerations of the load over gravity: " + fixed(r.forward, 2) + " in braking, " +
      fixed(r.rearward, 2) + " in starting, " + fixed(r.sideways, 2) + " in bends, " +
      fixed(r.upright, 2) +
      " upright; a block takes the greatest level one whichever way it lies. "
      "Straps over the top of each row against sliding, friction " +
      fixed(r.bed_friction, 2) + ", " + fixed(r.strap_force_n / 1000, 1) +
      " kN each (EN 12195-1:2010, 5.4, from memory). Axle loads, the route and what the driver's "
      "own rules ask are not checked; securing the load is the driver's and the loader's.");
}

}  // namespace skewback::deliver
