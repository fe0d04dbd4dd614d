#include "deliver/report_centring.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/nest_bound.hpp"
#include "centring/strap.hpp"
#include "deliver/centring_orders.hpp"
#include "deliver/centring_remedy.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/remark.hpp"
#include "deliver/report.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kAimUsed = 0.7;

std::string mm(double metres, int decimals = 1) { return fixed(1000 * metres, decimals); }
std::string kn(double newtons) { return fixed(newtons / 1000, 2); }

std::optional<Colour> tint(double utilisation) {
  return utilisation > 1 ? verdict_tint(Verdict::kFalls) : std::optional<Colour>{};
}

std::string value_in(double value, const std::string& unit) {
  if (unit == "Pa") return fixed(value / 1e6, 2) + " MPa";
  if (unit == "N") return kn(value) + " kN";
  if (unit == "m") return mm(value, 2) + " mm";
  if (unit == "N m") return fixed(value / 1000, 3) + " kN m";
  return fixed(value, 3) + (unit.empty() ? "" : " " + unit);
}

void add_sheets(Pages& pages, const Brief& brief, const Centring& centring) {
  pages.keep(60);
  pages.subheading("Sheets");
  const CentringRequest& ask = brief.centring;
  const std::string size = mm(ask.sheet_length_m, 0) + " x " + mm(ask.sheet_width_m, 0) + " x " +
                           mm(ask.sheet_thickness_m) + " mm";
  if (centring.sheets.empty()) {
    pages.paragraph("Not laid out on sheets.");
    return;
  }
  std::string text = counted(centring.parts.size(), "part") + " of " +
                     fixed(centring.plywood_m2, 1) + " m2 on " +
                     counted(centring.sheets.size(), "sheet") + " of " + size + ": " +
                     fixed(100 * centring.used_share, 1) +
                     " % of the sheets is used, the last one begun counted whole. ";
  text += centring.used_share >= kAimUsed
              ? "The aim of 70 % is met."
              : "The aim of 70 % is missed: pieces nearly as long as a sheet, or as half of one, "
                "waste less.";
  const SheetsBound bound = sheets_bound(brief, centring);
  text += " No layout does with fewer than " + std::to_string(bound.least()) + " (" +
          (bound.by_long > bound.by_area ? "parts longer than half a sheet all lie over its middle"
                                         : "their area with the gaps between them") +
          "); none between is known to do or not to do.";
  pages.paragraph(text + " Parts lie " + mm(ask.part_gap_m, 0) +
                  " mm apart or more, grain of the outer plies along the sheet. Files: "
                  "centring/sheet-1.dxf and so on, in millimetres.");
  pages.figure(cut_overview_sheet(brief, centring, pages.width_mm()), "");
}

struct Total {
  std::string kind, unit;
  int pieces = 0;
  double amount = 0;
};

void add_timber(Pages& pages, const Brief& brief, const Centring& centring) {
  std::vector<Total> totals;
  const auto add = [&](const std::string& kind, double amount, const std::string& unit) {
    auto total = std::ranges::find_if(
        totals, [&](const Total& t) { return t.kind == kind && t.unit == unit; });
    if (total == totals.end()) total = totals.insert(totals.end(), {kind, unit, 0, 0});
    ++total->pieces;
    total->amount += amount;
  };
  for (const SheetPart& part : centring.parts) add(part.kind, area(part.outline), "m2 of sheet");
  for (const Stick& stick : centring.sticks)
    add(stick.kind + ", " + mm(stick.width_m, 0) + " x " + mm(stick.depth_m, 0) + " mm",
        stick.cut_length_m(), "m");
  std::vector<Row> rows;
  for (const Total& t : totals)
    rows.push_back({{t.kind, std::to_string(t.pieces), fixed(t.amount, 2) + " " + t.unit}, {}});
  pages.keep(40);
  pages.subheading("Timber");
  pages.table({{"", 2}, {"pieces", 1, true}, {"in all", 2, true}}, rows);
  pages.paragraph("Sheet " + fixed(centring.plywood_m2, 2) + " m2 net, sawn timber " +
                  fixed(centring.timber_m3, 3) + " m3, together " + fixed(centring.mass_kg, 0) +
                  " kg. Each part: centring/parts.csv. Feet on " +
                  (brief.centring.feet == "jacks" ? "screw jacks." : "folding wedges."));
}

void add_checks(Pages& pages, const CentringRequest& ask, const Centring& centring) {
  pages.keep(50);
  pages.subheading("Loads and checks");
  if (centring.checks.empty()) {
    pages.paragraph("Not checked: no loads were given to it.");
    return;
  }
  pages.paragraph("The seats together carry up to " + kn(centring.load_max_n) +
                  " kN in a stage. The worst of each kind, over all stages:");
  std::vector<Row> rows;
  for (const CentringCheck& c : centring.checks)
    rows.push_back({{c.name, value_in(c.demand, c.unit), value_in(c.resistance, c.unit),
                     fixed(c.utilisation, 2), c.place, c.stage, c.source},
                    tint(c.utilisation)});
  pages.table({{"check", 1.2},
               {"found", 1, true},
               {"allowed", 1, true},
               {"used", 0.6, true},
               {"where", 1.6},
               {"stage", 1.4},
               {"source", 1.6}},
              rows);
  for (const CentringCheck& c : centring.checks)
    if (const std::string change = centring_remedy(ask, c); !change.empty())
      pages.bullet(c.name + ", " + c.place + ": about what it takes, forces as they are: " +
                   change + ". A run with it tells.");
}

/// A rib across of which all that the table shows would be zero.
bool is_idle(const Centring& centring, const RibFinding& rib) {
  const auto on = std::ranges::find(centring.ribs, rib.rib, &Rib::id);
  return on != centring.ribs.end() && on->is_cross && rib.load_n < 5 && rib.deflection_m < 5e-6 &&
         rib.utilisation < 0.005;
}

void add_ribs(Pages& pages, const CentringRequest& ask, const Centring& centring) {
  if (centring.rib_findings.empty()) return;
  std::vector<Row> rows;
  std::size_t idle = 0;
  for (const RibFinding& rib : centring.rib_findings) {
    if (is_idle(centring, rib)) {
      ++idle;
      continue;
    }
    rows.push_back({{rib.rib, kn(rib.load_n), mm(rib.deflection_m, 2),
                     mm(rib.camber_m - ask.settlement_m), fixed(rib.utilisation, 2), rib.governs},
                    tint(rib.utilisation)});
  }
  pages.keep(40);
  pages.subheading("Ribs");
  std::string text;
  if (ask.settlement_m > 0)
    text = "Set all feet higher by " + mm(ask.settlement_m) +
           " mm than the heads of the table below: so much they settle and joints close, as the "
           "brief allows for (centring.settlement). ";
  text +=
      "Camber: how much higher than that the rib is to be built at the middle of its longest bay, "
      "for its own bending, so that it comes to its line under the blocks.";
  if (idle > 0)
    text += " " + counted(idle, "rib") +
            (idle == 1 ? " across carries nothing, holds the others and is left out."
                       : " across carry nothing, hold the others and are left out.");
  pages.paragraph(text);
  pages.table({{"rib", 1},
               {"load (kN)", 1, true},
               {"sinks (mm)", 1, true},
               {"camber (mm)", 1, true},
               {"used", 0.8, true},
               {"governed by", 1.6}},
              rows);
}

bool idle_holds(const Centring& centring) {
  return std::ranges::any_of(centring.feet, [&](const CentringFoot& foot) {
    const auto found = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
    if (found == centring.foot_findings.end()) return false;
    return (foot.held && carries_none(found->hold_n)) ||
           (foot.held_down && carries_none(found->hold_up_n));
  });
}

/// What is shown as 0.00 is said in words.
std::string kn_or(double newtons, const char* if_none) {
  return carries_none(newtons) ? if_none : kn(newtons);
}

int nails_of(const Brief& brief, const FootFinding& foot) {
  return strap_for(brief, foot.hold_up_n / brief.centring.foot_hold_factor).nails;
}

void add_feet(Pages& pages, const Brief& brief, const Centring& centring) {
  if (centring.feet.empty()) return;
  std::vector<Row> rows;
  for (std::size_t i = 0; i < centring.feet.size(); ++i) {
    const CentringFoot& foot = centring.feet[i];
    const auto found = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
    const bool judged = found != centring.foot_findings.end();
    rows.push_back({{std::to_string(i + 1), foot.id, fixed(foot.at.x(), 3), fixed(foot.at.y(), 3),
                     fixed(foot.at.z(), 3), fixed(foot.head.z(), 3),
                     mm(foot.down_m, 0) + " / " + mm(foot.up_m, 0),
                     judged ? kn_or(found->load_max_n, "nothing") : "",
                     judged ? kn_or(found->design_n, "nothing") : "",
                     judged ? fixed(found->utilisation, 2) : "",
                     judged && foot.held ? kn_or(found->hold_n, "not pushed") : "",
                     judged && foot.held_down ? kn_or(found->hold_up_n, "not pulled") : "",
                     judged && foot.held_down ? std::to_string(nails_of(brief, *found)) : ""},
                    judged ? tint(found->utilisation) : std::optional<Colour>{}});
  }
  pages.keep(40);
  pages.subheading("Feet");
  pages.table({{"", 0.5, true},
               {"foot", 1},
               {"x (m)", 0.9, true},
               {"y (m)", 0.9, true},
               {"ground (m)", 0.9, true},
               {"head (m)", 0.9, true},
               {"down / up (mm)", 1.1, true},
               {"load (kN)", 0.9, true},
               {"design (kN)", 0.9, true},
               {"used", 0.75, true},
               {"hold (kN)", 0.8, true},
               {"hold up (kN)", 0.9, true},
               {"nails", 0.85, true}},
              rows);
  if (std::ranges::any_of(centring.feet, [](const auto& f) { return f.held || f.held_down; }))
    pages.paragraph(
        "Hold: what a stake, ground screw or kentledge at that foot must be good for, sideways and "
        "upwards, characteristic. Where there is a figure upwards, post and rib are tied to the "
        "foot, by straps of 40 x 1.5 mm on both faces with so many ring nails 4.0 x 40 in each "
        "end; "
        "the tie is let out and taken in as the foot is moved. Feet without a figure need no "
        "hold." +
        std::string(
            idle_holds(centring)
                ? " Not pulled, not pushed: held by this design, but in no stage is anything "
                  "asked of that hold; the others were found with it in place."
                : ""));
  std::vector<std::string> idle;
  for (const FootFinding& foot : centring.foot_findings)
    if (carries_none(foot.load_max_n)) idle.push_back(foot.foot);
  if (!idle.empty())
    pages.paragraph((idle.size() == 1 ? "Foot " : "Feet ") + joined(idle, ", ") +
                    (idle.size() == 1 ? " carries" : " carry") +
                    " no block in any stage: there to steady the rib.");
}

void add_self_held(Pages& pages, const std::vector<SelfHeld>& held) {
  pages.keep(40);
  pages.subheading("Courses that would stand without timber");
  const auto stands = [](const SelfHeld& h) { return h.by_friction && h.by_weight; };
  if (std::ranges::none_of(held, stands)) {
    std::vector<std::string> first;
    double least = kPi, most = 0;
    for (const SelfHeld& h : held) {
      first.push_back(h.block);
      least = std::min(least, h.slope_rad);
      most = std::max(most, h.slope_rad);
    }
    pages.paragraph("None: already the first course of each arm needs its seats" +
                    (first.empty()
                         ? "."
                         : ", or it would slide or tip off its bed, which slopes by " +
                               fixed(least * 180 / kPi, 1) + " to " + fixed(most * 180 / kPi, 1) +
                               " degrees (" + joined(first, ", ") + ")."));
    return;
  }
  double saved = 0;
  std::vector<Row> rows;
  for (const SelfHeld& h : held) {
    saved += h.timber_saved_m2;
    rows.push_back({{h.block, fixed(h.slope_rad * 180 / kPi, 1), h.by_friction ? "yes" : "no",
                     h.by_weight ? "yes" : "no", fixed(h.timber_saved_m2, 2)},
                    {}});
  }
  pages.table({{"block", 1.4},
               {"bed slopes (°)", 1, true},
               {"does not slide", 1},
               {"does not tip", 1},
               {"soffit (m2)", 1, true}},
              rows);
  pages.paragraph(
      "Where both are yes the block rests on the course below by itself, by friction and weight "
      "alone: " +
      fixed(saved, 2) +
      " m2 of soffit need no timber. Timber there is still a rest against knocks.");
}

/// Which are at full size, and what the others are at.
std::string drawings(const Brief& brief, const Centring& centring) {
  return "Drawings: setting out, centring/setting-out.svg, at 1:" +
         fixed(setting_out_scale(brief, centring, SheetSize{}), 0) +
         "; ribs from the side, centring/ribs-1.svg and so on, at 1:" +
         fixed(rib_scale(centring, SheetSize{}), 0) + "." +
         (centring.sheets.empty()
              ? ""
              : " Only the sheets that are cut are at full size, both as DXF and as SVG: "
                "centring/sheet-1.dxf and so on.");
}

void add_cautions(Pages& pages) {
  pages.subheading("Before anything is set on it");
  for (const char* line :
       {"The centring carries everything until the last block is in and the ties are tight. Its "
        "design, its bracing and the ground under its feet are to be checked by a competent person "
        "under the code of the place.",
        "Check that posts are plumb and that every foot bears before the first block is set, and "
        "again each day.",
        "Lower it evenly from the crown to the springings, in small steps, measured; nobody stands "
        "below; stop when a joint opens or the crown sinks more than was foretold.",
        "Cut one piece first and try its slots on the timber as delivered. Sheets differ from the "
        "thickness they are sold by; dust and fumes of cutting want extraction."})
    pages.bullet(line);
}

}  // namespace

std::string centring_summary(const Centring& centring) {
  const auto across =
      static_cast<std::size_t>(std::ranges::count(centring.ribs, true, &Rib::is_cross));
  double worst = 0;
  for (const CentringCheck& check : centring.checks) worst = std::max(worst, check.utilisation);
  std::string text = counted(centring.ribs.size() - across, "rib") + " along the flow and " +
                     std::to_string(across) + " across, " + counted(centring.parts.size(), "part") +
                     " from " + counted(centring.sheets.size(), "sheet") + ", on ";
  text += centring.feet.size() == 1 ? "1 foot" : std::to_string(centring.feet.size()) + " feet";
  if (centring.checks.empty()) return text + ". Not checked under load.";
  return text + ". It carries up to " + kn(centring.load_max_n) + " kN and sinks by up to " +
         mm(centring.deflection_max_m) + " mm between its feet; " +
         (worst > 1 ? "some checks fail: the worst uses " : "all checks pass: the worst uses ") +
         fixed(100 * worst, 0) + " % of what there is.";
}

void add_centring(Pages& pages, const Brief& brief, const Assembly& assembly,
                  const Centring& centring, const std::vector<SelfHeld>& held,
                  const std::vector<Regions>& plan) {
  pages.new_page();
  pages.heading("Centring");
  pages.paragraph(centring_summary(centring));
  pages.paragraph(
      "Ribs cut from sheets, crossed like an egg-crate, on posts with feet that can be lowered. " +
      drawings(brief, centring));
  pages.figure(setting_out_sheet(brief, assembly, centring, plan, {pages.width_mm(), 200}), "");
  add_checks(pages, brief.centring, centring);
  add_ribs(pages, brief.centring, centring);
  add_feet(pages, brief, centring);
  add_sheets(pages, brief, centring);
  add_timber(pages, brief, centring);
  add_cut_list(pages, brief.centring, centring);
  add_fixings(pages, brief, centring);
  add_self_held(pages, held);
  if (!centring.remarks.empty()) {
    pages.subheading("Remarks, and what was not looked at");
    for (const std::string& remark : centring.remarks) add_remark(pages, remark);
  }
  add_cautions(pages);
}

}  // namespace skewback::deliver
