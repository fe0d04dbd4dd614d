#include "deliver/centring_files.hpp"

#include <algorithm>

#include "deliver/centring_orders.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/csv.hpp"
#include "deliver/cut_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

struct Lies {
  std::string sheet;
  bool flipped = false;
};

std::vector<Lies> places(const Centring& centring) {
  std::vector<Lies> out(centring.parts.size());
  for (const CutSheet& sheet : centring.sheets) {
    for (const NestedPart& nested : sheet.parts)
      out[static_cast<std::size_t>(nested.part)] = {sheet.id, nested.flipped};
  }
  return out;
}

/// How many parts of its rib are cut, splices left out.
std::string pieces_of(const Centring& centring, const std::string& rib) {
  return std::to_string(std::ranges::count_if(centring.parts, [&](const SheetPart& part) {
    return part.rib == rib && part.kind != "splice" && part.kind != "gusset";
  }));
}

/// Of a brace, "P3-1/P3-2": its bolt in the post it is low on, or high on, over that post's foot.
std::string over_foot(const Centring& centring, const Stick& brace, bool low) {
  if (brace.kind != "brace") return "";
  const std::size_t sign = brace.id.find('/');
  const std::string name = low ? brace.id.substr(0, sign) : brace.id.substr(sign + 1);
  const auto post = std::ranges::find(centring.sticks, name, &Stick::id);
  return post == centring.sticks.end()
             ? ""
             : fixed((low ? brace.from : brace.to).z() - post->from.z(), 3);
}

std::string hold_csv(double newtons) { return carries_none(newtons) ? "none" : fixed(newtons, 1); }

}  // namespace

std::string foot_held(const CentringFoot& foot) {
  if (foot.held && foot.held_down) return "sideways and down";
  return foot.held ? "sideways" : foot.held_down ? "down" : "";
}

std::string centring_parts_csv(const Brief& brief, const Centring& centring) {
  std::string text =
      csv_line({"id", "kind", "rib", "pieces", "sheet", "turned_over", "holes", "length_m",
                "width_m", "thickness_m", "area_m2", "mass_kg", "bolt_low_m", "bolt_high_m"});
  const CentringRequest& ask = brief.centring;
  const std::vector<Lies> lies = places(centring);
  for (std::size_t i = 0; i < centring.parts.size(); ++i) {
    const SheetPart& part = centring.parts[i];
    Extent box;
    for (const Vec2& p : part.outline.outer) box.add(p);
    const double m2 = area(part.outline);
    text += csv_line({part.id, part.kind, part.rib, pieces_of(centring, part.rib), lies[i].sheet,
                      lies[i].sheet.empty() ? ""
                      : lies[i].flipped     ? "yes"
                                            : "no",
                      std::to_string(part.outline.holes.size()), fixed(box.size().x(), 4),
                      fixed(box.size().y(), 4), fixed(ask.sheet_thickness_m, 4), fixed(m2, 8),
                      fixed(m2 * ask.sheet_thickness_m * ask.density, 3), "", ""});
  }
  for (const Stick& stick : centring.sticks) {
    const double length = stick.cut_length_m();
    text += csv_line({stick.id, stick.kind, "", "", "", "", "", fixed(length, 4),
                      fixed(std::max(stick.width_m, stick.depth_m), 4),
                      fixed(std::min(stick.width_m, stick.depth_m), 4), "", "",
                      over_foot(centring, stick, true), over_foot(centring, stick, false)});
  }
  return text;
}

std::string centring_feet_csv(const Centring& centring) {
  std::string text = csv_line({"number", "id", "rib", "x_m", "y_m", "ground_z_m", "head_x_m",
                               "head_y_m", "head_z_m", "down_mm", "up_mm", "load_max_n", "design_n",
                               "utilisation", "held", "hold_n", "hold_up_n"});
  for (std::size_t i = 0; i < centring.feet.size(); ++i) {
    const CentringFoot& foot = centring.feet[i];
    const auto found = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
    const bool judged = found != centring.foot_findings.end();
    text += csv_line(
        {std::to_string(i + 1), foot.id, foot.rib, fixed(foot.at.x(), 4), fixed(foot.at.y(), 4),
         fixed(foot.at.z(), 4), fixed(foot.head.x(), 4), fixed(foot.head.y(), 4),
         fixed(foot.head.z(), 4), fixed(1000 * foot.down_m, 1), fixed(1000 * foot.up_m, 1),
         judged ? fixed(found->load_max_n, 1) : "", judged ? fixed(found->design_n, 1) : "",
         judged ? fixed(found->utilisation, 4) : "", foot_held(foot),
         judged && foot.held ? hold_csv(found->hold_n) : "",
         judged && foot.held_down ? hold_csv(found->hold_up_n) : ""});
  }
  return text;
}

std::vector<OutputFile> centring_files(const Brief& brief, const Assembly& assembly,
                                       const Centring& centring, const std::vector<Regions>& plan) {
  if (centring.parts.empty()) return {};
  std::vector<OutputFile> files = cut_sheet_files(brief, centring);
  files.push_back({"centring/setting-out.svg",
                   svg(setting_out_sheet(brief, assembly, centring, plan, SheetSize{}))});
  const std::vector<Sheet> ribs = rib_sheets(assembly, centring, SheetSize{});
  for (std::size_t i = 0; i < ribs.size(); ++i)
    files.push_back({"centring/ribs-" + std::to_string(i + 1) + ".svg", svg(ribs[i])});
  files.push_back({"centring/sheets.svg", svg(cut_overview_sheet(brief, centring, 400))});
  files.push_back({"centring/parts.csv", centring_parts_csv(brief, centring)});
  files.push_back({"centring/feet.csv", centring_feet_csv(centring)});
  files.push_back({"centring/fixings.csv", fixings_csv(fixings_of(brief, centring))});
  const CutList cut = cut_list(brief.centring, centring);
  if (cut.sections.empty()) return files;
  files.push_back({"centring/timber.csv", timber_csv(brief.centring, cut)});
  const std::vector<Sheet> timber = timber_sheets(brief.centring, cut, SheetSize{});
  for (std::size_t i = 0; i < timber.size(); ++i)
    files.push_back({"centring/timber-" + std::to_string(i + 1) + ".svg", svg(timber[i])});
  return files;
}

}  // namespace skewback::deliver
