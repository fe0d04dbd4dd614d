#include <algorithm>

#include "deliver/centring_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 15, kFoot = 14, kTable = 92;
constexpr double kHeldRing = 0.6, kLed = 40;
constexpr Colour kRib{150, 84, 20}, kCross{196, 150, 90}, kNoFeet{204, 60, 40}, kPost{20, 60, 110},
    kBrace{70, 140, 60}, kPacking{170, 30, 90};

Vec2 plan_of(const Rib& rib, double x) { return rib.place.to_world(Vec2(x, 0)).head<2>(); }

Extent extent_of(const Brief& brief, const Centring& centring) {
  Extent extent;
  for (const Vec2& p : brief.plan.outline) extent.add(p);
  for (const Rib& rib : centring.ribs) {
    if (rib.top.empty()) continue;
    extent.add(plan_of(rib, rib.top.front().x()));
    extent.add(plan_of(rib, rib.top.back().x()));
  }
  for (const CentringFoot& foot : centring.feet) extent.add(foot.at.head<2>());
  if (extent.empty()) extent.add(Vec2::Zero());
  const Vec2 room = Vec2::Constant(0.25);
  extent.low -= room;
  extent.high += room;
  return extent;
}

/// Hatched: strips across the polygon.
void add_no_feet(Sheet& sheet, const SheetMap& map, const Brief& brief, const Regions& shown) {
  for (const auto& corners : brief.centring.no_feet) {
    const Regions zone = intersect({{corners, {}}}, shown);
    sheet.regions(map(zone), {kNoFeet, kNoFeet, 0.3, 1.5, 0.1});
    Extent box;
    for (const Region& piece : zone) {
      for (const Vec2& p : piece.outer) box.add(p);
    }
    if (box.empty()) continue;
    const double pitch = 4 / map.mm_per_m, reach = box.size().y();
    for (double x = box.low.x() - reach; x < box.high.x(); x += pitch) {
      const Regions strip =
          strip_along({Vec2(x, box.low.y()), Vec2(x + reach, box.high.y())}, 0.1 / map.mm_per_m);
      sheet.regions(map(intersect(strip, zone)), {kNoFeet, std::nullopt});
    }
  }
}

void add_bridge(Sheet& sheet, const SheetMap& map, const Brief& brief, const Assembly& assembly,
                const std::vector<Regions>& plan, const Regions& shown) {
  for (std::size_t i = 0; i < plan.size() && i < assembly.blocks.size(); ++i) {
    const Colour fill = assembly.blocks[i].fixed ? kGround : Colour{236, 236, 232};
    sheet.regions(map(intersect(plan[i], shown)), {fill, Colour{190, 190, 186}, 0.12});
  }
  sheet.path(map(brief.plan.outline), true, {std::nullopt, kBlack, 0.2, 0.8});
  for (const Support& support : brief.plan.supports)
    sheet.line(map(support.a), map(support.b), {std::nullopt, kBlack, 0.6});
}

/// Each board where it lies from above, beside the posts; the pair of a bay is a double line.
void add_braces(Sheet& sheet, const SheetMap& map, const Centring& centring) {
  for (const Stick& board : centring.sticks) {
    if (board.kind != "brace") continue;
    sheet.line(map(Vec2((board.from + board.beside).head<2>())),
               map(Vec2((board.to + board.beside).head<2>())), {std::nullopt, kBrace, 0.35});
  }
}

void add_packings(Sheet& sheet, const SheetMap& map, const Centring& centring, Labels& labels) {
  for (const LegPacking& packing : centring.leg_packings) {
    const Vec2 a = map(Vec2(packing.from.head<2>())), b = map(Vec2(packing.to.head<2>()));
    sheet.line(a, b, {std::nullopt, kPacking, 1.6});
    labels.put_led(sheet, (a + b) / 2, packing.id, 2.1, 1.4, kLed, kPacking);
  }
}

double half_drawn(const SheetMap& map, const Brief& brief) {
  return std::max(0.7, map.mm_per_m * brief.centring.post_m / 2);
}

void add_ribs(Sheet& sheet, const SheetMap& map, const Brief& brief, const Centring& centring,
              Labels& labels) {
  for (const bool cross : {true, false}) {
    for (const Rib& rib : centring.ribs) {
      if (rib.is_cross != cross || rib.top.empty()) continue;
      const Vec2 a = map(plan_of(rib, rib.top.front().x())),
                 b = map(plan_of(rib, rib.top.back().x()));
      sheet.line(a, b, {std::nullopt, cross ? kCross : kRib, cross ? 0.5 : 0.8});
      const Vec2 along = (b - a).normalized();
      for (const double x : rib.splices) {
        const Vec2 at = map(plan_of(rib, x)), side = 1.2 * Vec2(-along.y(), along.x());
        sheet.line(at - side, at + side, {std::nullopt, kRib, 0.3});
      }
    }
  }
  for (const CentringFoot& foot : centring.feet) {
    const Vec2 at = map(Vec2(foot.at.head<2>())),
               half = Vec2::Constant(half_drawn(map, brief) + (foot.held ? kHeldRing : 0) + 0.2);
    labels.block(at - half, at + half);
  }
  for (const Rib& rib : centring.ribs) {
    if (rib.top.empty()) continue;
    const Vec2 a = map(plan_of(rib, rib.top.front().x())),
               b = map(plan_of(rib, rib.top.back().x()));
    for (const Vec2& end :
         {Vec2(a + 2.5 * (a - b).normalized()), Vec2(b + 2.5 * (b - a).normalized())})
      if (labels.put(sheet, end, rib.id, 2.1, 0.2, rib.is_cross ? kCross : kRib)) break;
  }
}

void add_feet(Sheet& sheet, const SheetMap& map, const Brief& brief, const Centring& centring,
              Labels& labels) {
  const double half = half_drawn(map, brief);
  for (std::size_t i = 0; i < centring.feet.size(); ++i) {
    const Vec2 at = map(Vec2(centring.feet[i].at.head<2>()));
    const CentringFoot& foot = centring.feet[i];
    const auto square = [&](double h, const Pen& pen) {
      sheet.path({at + Vec2(-h, -h), at + Vec2(h, -h), at + Vec2(h, h), at + Vec2(-h, h)}, true,
                 pen);
    };
    square(half, {foot.held_down ? kNoFeet : kPost, kBlack, 0.1});
    if (foot.held) square(half + kHeldRing, {std::nullopt, kBlack, 0.25});
    labels.put_led(sheet, at, std::to_string(i + 1), 2.3, 1.5 * (half + kHeldRing + 0.2), kLed,
                   kPost);
  }
}

std::string hold_of(const Centring& centring, const CentringFoot& foot,
                    double FootFinding::*force) {
  const auto found = std::ranges::find(centring.foot_findings, foot.id, &FootFinding::foot);
  if (found == centring.foot_findings.end()) return "yes";
  return carries_none((*found).*force) ? "none" : fixed((*found).*force / 1e3, 2);
}

void add_table(Sheet& sheet, const Centring& centring, const Vec2& at, double height_mm) {
  constexpr double kColumns[] = {4, 15, 27, 39, 51, 62, 75, 88};  // right edges
  constexpr const char* kHeads[] = {"",       "foot", "x (m)",     "y (m)",
                                    "ground", "head", "hold (kN)", "up (kN)"};
  const double pitch = std::clamp(
      (height_mm - 6) / std::max<double>(1, static_cast<double>(centring.feet.size()) + 1), 1.6,
      4.0);
  const double size = std::min(2.2, 0.8 * pitch);
  const auto row = [&](double y, const std::vector<std::string>& cells) {
    for (std::size_t c = 0; c < cells.size(); ++c)
      sheet.words({at.x() + kColumns[c], y}, cells[c], size, Anchor::kEnd);
  };
  row(at.y(), {kHeads, kHeads + 8});
  sheet.line(at + Vec2(0, 0.3 * pitch), at + Vec2(kColumns[7], 0.3 * pitch),
             {std::nullopt, kBlack, 0.15});
  double y = at.y();
  for (std::size_t i = 0; i < centring.feet.size(); ++i) {
    const CentringFoot& foot = centring.feet[i];
    row(y += pitch, {std::to_string(i + 1), foot.id, fixed(foot.at.x(), 3), fixed(foot.at.y(), 3),
                     fixed(foot.at.z(), 3), fixed(foot.head.z(), 3),
                     foot.held ? hold_of(centring, foot, &FootFinding::hold_n) : "",
                     foot.held_down ? hold_of(centring, foot, &FootFinding::hold_up_n) : ""});
  }
}

void add_key(Sheet& sheet, const Vec2& at, bool packings) {
  struct Entry {
    const char* text;
    Pen pen;
  };
  const Entry entries[] = {{"rib", {std::nullopt, kRib, 0.8}},
                           {"rib across", {std::nullopt, kCross, 0.5}},
                           {"board of a pair of braces", {std::nullopt, kBrace, 0.35}},
                           {"no feet here", {std::nullopt, kNoFeet, 0.3, 1.5}},
                           {"outline of the bridge", {std::nullopt, kBlack, 0.2, 0.8}},
                           {"springing", {std::nullopt, kBlack, 0.6}}};
  double x = at.x();
  const Entry packing{"packing between legs", {std::nullopt, kPacking, 1.6}};
  std::vector<Entry> shown(std::begin(entries), std::end(entries));
  if (packings) shown.insert(shown.begin() + 3, packing);
  for (const Entry& entry : shown) {
    sheet.line({x, at.y() - 0.7}, {x + 6, at.y() - 0.7}, entry.pen);
    sheet.words({x + 7, at.y()}, entry.text, 1.9);
    x += 12 + 1.25 * static_cast<double>(std::string(entry.text).size());
  }
}

/// What is left for the plan itself.
Vec2 plan_box(const Extent& extent, const SheetSize& most) {
  const bool with_table = most.width_mm >= 300;
  Vec2 box(most.width_mm - 2 * kMargin - (with_table ? kTable + 6 : 0),
           most.height_mm - 2 * kMargin - kTitle - kFoot);
  if (!with_table)  // takes from the height what the drawing leaves empty
    box.y() = std::min(box.y(), extent.size().y() * fit(extent, {0, 0}, box).mm_per_m + 4);
  return box;
}

}  // namespace

double setting_out_scale(const Brief& brief, const Centring& centring, const SheetSize& size) {
  const Extent extent = extent_of(brief, centring);
  return 1000 / fit(extent, {0, 0}, plan_box(extent, size)).mm_per_m;
}

Sheet setting_out_sheet(const Brief& brief, const Assembly& assembly, const Centring& centring,
                        const std::vector<Regions>& plan, const SheetSize& most) {
  const bool with_table = most.width_mm >= 300;
  const Extent extent = extent_of(brief, centring);
  const Vec2 corner(kMargin, kMargin + kTitle);
  const Vec2 box = plan_box(extent, most);
  const SheetMap map = fit(extent, corner, box);
  Sheet sheet{most.width_mm,
              box.y() + 2 * kMargin + kTitle + kFoot,
              brief.title + ": setting out of the centring",
              {}};
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7.4},
              "Seen from above. Squares: feet, with their numbers; a second line round them: held "
              "sideways; red: tied down.",
              2.2);
  sheet.words(
      {kMargin, kMargin + 10.4},
      "Short strokes across a rib: joints of its pieces. Green: braces, one board on either "
      "face of two posts, a packing where the pair crosses; heights of bolts in parts.csv.",
      2.2);
  const Regions shown = {{{extent.low,
                           {extent.high.x(), extent.low.y()},
                           extent.high,
                           {extent.low.x(), extent.high.y()}},
                          {}}};
  add_no_feet(sheet, map, brief, shown);
  add_bridge(sheet, map, brief, assembly, plan, shown);
  Labels labels;
  add_braces(sheet, map, centring);
  add_ribs(sheet, map, brief, centring, labels);
  add_feet(sheet, map, brief, centring, labels);
  add_packings(sheet, map, centring, labels);
  if (with_table)
    add_table(sheet, centring, {most.width_mm - kMargin - kTable + 4, kMargin + kTitle + 3},
              box.y());
  const double arrow_x = kMargin + box.x() - 6;
  sheet.arrow({arrow_x, kMargin + kTitle + 9}, {arrow_x, kMargin + kTitle + 1},
              {std::nullopt, kBlack, 0.3}, 2.4);
  sheet.words({arrow_x, kMargin + kTitle}, "y", 2.4, Anchor::kMiddle);
  add_key(sheet, {kMargin, sheet.height_mm - kMargin}, !centring.leg_packings.empty());
  add_scale_bar(sheet, map, {kMargin, sheet.height_mm - kMargin - 6});
  return sheet;
}

}  // namespace skewback::deliver
