#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/setting_out_files.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kFootRoom = 18, kNumbers = 12, kLed = 40;
constexpr Colour kGrid{120, 160, 190}, kGridWords{60, 110, 150}, kSpring{180, 40, 20},
    kShoe{150, 60, 0}, kFeet{20, 60, 110}, kBlockMark{0, 110, 70}, kBlockLine{190, 190, 186};

Extent extent_of(const Brief& brief, const std::vector<Mark>& marks) {
  Extent extent;
  for (const Vec2& p : brief.plan.outline) extent.add(p);
  for (const Mark& mark : marks) extent.add(mark.designed.head<2>());
  if (extent.empty()) extent.add(Vec2::Zero());
  extent.low -= Vec2::Constant(0.2);
  extent.high += Vec2::Constant(0.2);
  return extent;
}

Vec2 east_of(const SiteGrid& site) {  // in the bridge's axes
  return {std::cos(site.turn_rad), -std::sin(site.turn_rad)};
}
Vec2 north_of(const SiteGrid& site) { return {std::sin(site.turn_rad), std::cos(site.turn_rad)}; }

/// The part of the line { p : along . p = at } inside the box, or none.
std::optional<std::array<Vec2, 2>> grid_line(const Extent& box, const Vec2& along, double at) {
  const Vec2 run(-along.y(), along.x()), start = at * along;
  double from = -1e300, to = 1e300;
  for (int k = 0; k < 2; ++k) {
    if (std::abs(run[k]) < 1e-12) {
      if (start[k] < box.low[k] || start[k] > box.high[k]) return std::nullopt;
      continue;
    }
    const double a = (box.low[k] - start[k]) / run[k], b = (box.high[k] - start[k]) / run[k];
    from = std::max(from, std::min(a, b));
    to = std::min(to, std::max(a, b));
  }
  if (from >= to) return std::nullopt;
  return std::array<Vec2, 2>{start + from * run, start + to * run};
}

double grid_step(const SheetMap& map) {
  for (const double step : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0})
    if (step * map.mm_per_m >= 25) return step;
  return 50;
}

/// Steep lines have it above their upper end, others left of their left end, where that lies on the
/// upper or left edge: numbers of one kind stand in a row.
void add_number(Sheet& sheet, const SheetMap& map, const Extent& box,
                const std::array<Vec2, 2>& line, const std::string& name, Labels& labels) {
  const Vec2 run = line[1] - line[0];
  const bool steep = std::abs(run.y()) > std::abs(run.x());
  const int axis = steep ? 1 : 0;
  const bool second = steep ? run.y() > 0 : run.x() < 0;
  const Vec2& end = line[second ? 1 : 0];
  if (std::abs(end[axis] - (steep ? box.high.y() : box.low.x())) > 1e-6) return;
  Words words{map(end) + (steep ? Vec2(0, -0.8) : Vec2(-0.8, 0.7)), name, 2,
              steep ? Anchor::kMiddle : Anchor::kEnd};
  words.colour = kGridWords;
  sheet.items.emplace_back(std::move(words));
  labels.block(map(end) - Vec2(6, 2), map(end) + Vec2(6, 2));
}

/// Lines of equal east and north at round numbers, each with its number at one end.
void add_grid(Sheet& sheet, const SheetMap& map, const SiteGrid& site, const Extent& box,
              Labels& labels) {
  const double step = grid_step(map);
  for (const bool is_east : {true, false}) {
    const Vec2 along = is_east ? east_of(site) : north_of(site);
    const double origin = is_east ? site.origin.x() : site.origin.y();
    double low = 1e300, high = -1e300;
    for (const double x : {box.low.x(), box.high.x()})
      for (const double y : {box.low.y(), box.high.y()}) {
        low = std::min(low, along.dot(Vec2(x, y)));
        high = std::max(high, along.dot(Vec2(x, y)));
      }
    for (double k = std::ceil((origin + low) / step); k * step <= origin + high; ++k) {
      const auto line = grid_line(box, along, k * step - origin);
      if (!line || ((*line)[1] - (*line)[0]).norm() * map.mm_per_m < 10) continue;
      sheet.line(map((*line)[0]), map((*line)[1]), {std::nullopt, kGrid, 0.15});
      const std::string name = (is_east ? "E " : "N ") + fixed(k * step, step < 1 ? 1 : 0);
      add_number(sheet, map, box, *line, name, labels);
    }
  }
}

/// Above the drawing, where nothing of it can lie.
void add_north(Sheet& sheet, const SiteGrid& site, const Vec2& middle) {
  const Vec2 north = north_of(site), up(north.x(), -north.y());
  sheet.arrow(middle - 5 * up, middle + 5 * up, {std::nullopt, kBlack, 0.4}, 2.6);
  sheet.items.emplace_back(
      Words{middle + 7.5 * up + Vec2(0, 1), "N", 3, Anchor::kMiddle, true, kBlack, true});
}

void add_bridge(Sheet& sheet, const SheetMap& map, const Brief& brief, const Assembly& assembly,
                const std::vector<Regions>& plan) {
  for (std::size_t i = 0; i < plan.size() && i < assembly.blocks.size(); ++i)
    if (!assembly.blocks[i].fixed)
      sheet.regions(map(plan[i]), {Colour{244, 244, 240}, kBlockLine, 0.12, 0, 0.6});
  sheet.path(map(brief.plan.outline), true, {std::nullopt, kBlack, 0.2, 0.8});
  for (const Support& support : brief.plan.supports)
    sheet.line(map(support.a), map(support.b), {std::nullopt, kBlack, 0.6});
}

void add_sign(Sheet& sheet, const Vec2& at, MarkKind kind) {
  const auto square = [&](double r, Colour colour) {
    sheet.path({at + Vec2(-r, -r), at + Vec2(r, -r), at + Vec2(r, r), at + Vec2(-r, r)}, true,
               {Colour{255, 255, 255}, colour, 0.3});
  };
  if (kind == MarkKind::kSpringing) {
    sheet.path({at + Vec2(0, -1.5), at + Vec2(1.3, 0.75), at + Vec2(-1.3, 0.75)}, true,
               {Colour{255, 255, 255}, kSpring, 0.4});
    sheet.dot(at, 0.25, {kSpring, std::nullopt});
  } else if (kind == MarkKind::kShoe) {
    square(0.9, kShoe);
  } else if (kind == MarkKind::kFoot) {
    square(0.5, kFeet);
  } else {
    sheet.line(at - Vec2(0.7, 0), at + Vec2(0.7, 0), {std::nullopt, kBlockMark, 0.2});
    sheet.line(at - Vec2(0, 0.7), at + Vec2(0, 0.7), {std::nullopt, kBlockMark, 0.2});
  }
}

/// "y3 1": "1"; the block's own name stands in its middle.
std::string number_of(const Mark& mark) {
  const std::size_t space = mark.name.rfind(' ');
  return space == std::string::npos ? mark.name : mark.name.substr(space + 1);
}

/// A foot's three marks lie within its post: they are named once.
void add_names(Sheet& sheet, const SheetMap& map, const std::vector<Mark>& marks, bool every,
               Labels& labels) {
  for (const Mark& mark : marks) {
    const Vec2 at = map(Vec2(mark.designed.head<2>()));
    if (mark.kind == MarkKind::kSpringing) labels.put(sheet, at, mark.name, 2.6, 2.2, kSpring);
    if (mark.kind == MarkKind::kShoe && every)
      labels.put_led(sheet, at, mark.name, 1.8, 1.6, kLed, kShoe);
  }
  std::string last;
  for (const Mark& mark : marks) {
    if (mark.kind != MarkKind::kFoot || mark.of == last) continue;
    last = mark.of;
    labels.put(sheet, map(Vec2(mark.designed.head<2>())), mark.of, 1.7, 1.4, kFeet);
  }
  std::vector<Vec2> of_block;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (marks[i].kind != MarkKind::kBlock) continue;
    const Vec2 at = map(Vec2(marks[i].designed.head<2>()));
    if (every) labels.put(sheet, at, number_of(marks[i]), 1.5, 1, kBlockMark);
    of_block.push_back(at);
    if (i + 1 < marks.size() && marks[i + 1].of == marks[i].of) continue;
    Vec2 middle = Vec2::Zero();
    for (const Vec2& p : of_block) middle += p / static_cast<double>(of_block.size());
    labels.put(sheet, middle, marks[i].of, 2.1, 0.8, kBlack);
    of_block.clear();
  }
}

void add_key(Sheet& sheet, const Vec2& at, const std::vector<Mark>& marks) {
  double x = at.x();
  const auto entry = [&](MarkKind kind, const std::string& text) {
    if (std::ranges::find(marks, kind, &Mark::kind) == marks.end()) return;
    add_sign(sheet, {x + 1.5, at.y() - 0.8}, kind);
    sheet.words({x + 4.5, at.y()}, text, 2.1);
    x += 12 + 1.3 * static_cast<double>(text.size());
  };
  entry(MarkKind::kSpringing, "springing");
  entry(MarkKind::kShoe, "shoe of a tie");
  entry(MarkKind::kFoot, "foot of the centring");
  entry(MarkKind::kBlock, "on the back of a block, in place");
}

bool all_on_blocks(const std::vector<Mark>& marks) {
  return std::ranges::all_of(marks, [](const Mark& mark) { return mark.kind == MarkKind::kBlock; });
}

std::string words_above(const SiteGrid& site, bool whole) {
  const bool known = site.origin.norm() > 0 || site.turn_rad != 0;
  return std::string("Seen from above. ") +
         (known
              ? "Grid of the site, metres; the bridge's x axis is turned " +
                    fixed(site.turn_rad * 180 / kPi, 3) + " degrees from east, counter-clockwise. "
              : "The brief says nothing of the site's grid: east and north are the bridge's x "
                "and y. ") +
         (whole ? second_set_up_words() : "");
}

std::string words_below(const SiteGrid& site) {
  return (site.date.empty() ? std::string("No date in the brief.") : "Date: " + site.date + ".") +
         " Coordinates: setting-out/marks.pdf and marks.csv. No substitute for a licensed engineer "
         "or surveyor.";
}

/// Takes from the height what the drawing leaves empty.
SheetSize trimmed(const Extent& extent, SheetSize size) {
  const double beside = 2 * kPaperMargin + kPaperHead + kFootRoom + 3;
  const SheetMap map =
      fit(extent, {0, 0}, {size.width_mm - 2 * kPaperMargin - kNumbers, size.height_mm - beside});
  size.height_mm = std::min(size.height_mm, extent.size().y() * map.mm_per_m + beside + 12);
  return size;
}

}  // namespace

Sheet marks_plan(const Brief& brief, const Assembly& assembly, const std::vector<Mark>& marks,
                 const std::vector<Regions>& plan, const SheetSize& most) {
  const SheetSize size = trimmed(extent_of(brief, marks), most);
  const bool whole = size.width_mm >= 300;  // names of all marks, and what is to be kept in mind
  Sheet sheet =
      paper(size, brief.title + (all_on_blocks(marks) ? ": setting out, blocks" : ": setting out"),
            words_above(brief.site, whole), words_below(brief.site));
  const Vec2 corner(kPaperMargin + kNumbers, kPaperMargin + kPaperHead + 3);
  const Vec2 room(size.width_mm - 2 * kPaperMargin - kNumbers,
                  size.height_mm - 2 * kPaperMargin - kPaperHead - kFootRoom - 3);
  const Extent extent = extent_of(brief, marks);
  const SheetMap map = fit(extent, corner, room);
  const Vec2 middle = (extent.low + extent.high) / 2, half = room / map.mm_per_m / 2;
  const Extent box{middle - half, middle + half};
  Labels labels;
  add_north(sheet, brief.site, {size.width_mm - kPaperMargin - 6, kPaperMargin + 11});
  add_bridge(sheet, map, brief, assembly, plan);
  for (const Mark& mark : marks) {
    const Vec2 at = map(Vec2(mark.designed.head<2>()));
    labels.block(at - Vec2(0.8, 0.8), at + Vec2(0.8, 0.8));
  }
  Sheet grid;  // numbers keep clear of the marks, lines lie below them
  add_grid(grid, map, brief.site, box, labels);
  sheet.items.insert(sheet.items.begin(), grid.items.begin(), grid.items.end());
  for (const Mark& mark : marks) add_sign(sheet, map(Vec2(mark.designed.head<2>())), mark.kind);
  add_names(sheet, map, marks, whole, labels);
  const double low = size.height_mm - kPaperMargin - 3;
  add_key(sheet, {kPaperMargin, low}, marks);
  add_scale_bar(sheet, map, {kPaperMargin, low - 6.5});
  return sheet;
}

}  // namespace skewback::deliver
