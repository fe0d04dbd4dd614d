#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kHead = 18, kLeft = 16, kBars = 48, kNames = 20;
constexpr Colour kWorst{110, 110, 110};

double degrees(double rad) { return rad * 180 / kPi; }
bool has_angle(const BlockPrint& block) {
  return block.way == PrintWay::kBedToBed && !block.layers.empty();
}

/// Ends of the scale of the plan's colours: 0 and a round angle above all under the dead load.
Ramp angle_ramp(const PrintSet& set) {
  double most = 1;
  for (const BlockPrint& b : set.blocks) {
    if (has_angle(b)) most = std::max(most, degrees(b.normal_to_thrust_rad));
  }
  const double high = most <= 2 ? 2 : most <= 5 ? 5 : 10 * std::ceil(most / 10);
  return {0, high, {{225, 238, 220}, {240, 200, 70}, {205, 80, 0}}, 10};
}

void add_plan(Sheet& sheet, const Assembly& assembly, const PrintSet& set,
              const std::vector<Regions>& plan, const Vec2& at, const Vec2& size,
              const Ramp& ramp) {
  Extent extent;
  for (const BlockPrint& b : set.blocks) {
    for (const Region& region : plan[static_cast<std::size_t>(b.block)]) {
      for (const Vec2& p : region.outer) extent.add(p);
    }
  }
  if (extent.empty()) return;
  const SheetMap map = fit(extent, at, size);
  for (const BlockPrint& b : set.blocks) {
    const auto i = static_cast<std::size_t>(b.block);
    const double angle = degrees(b.normal_to_thrust_rad);
    const Colour fill = has_angle(b) ? ramp.colour(ramp.step_of(angle)) : colour(made(b));
    sheet.regions(map(plan[i]), {fill, kBlack, 0.15});
  }
  std::vector<Vec2> taken;  // figures that would lie over others are left to the bars
  for (const BlockPrint& b : set.blocks) {
    if (!has_angle(b)) continue;
    const Vec2 middle =
        map(assembly.blocks[static_cast<std::size_t>(b.block)].mass.centroid.head<2>());
    const bool over = std::ranges::any_of(taken, [&](const Vec2& other) {
      return std::abs(other.x() - middle.x()) < 4 && std::abs(other.y() - middle.y()) < 2.2;
    });
    if (over) continue;
    taken.push_back(middle);
    Words words{middle + Vec2(0, 0.8), fixed(degrees(b.normal_to_thrust_rad), 1), 2.3,
                Anchor::kMiddle};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
  add_scale_bar(sheet, map, at + Vec2(0, size.y()));
}

double name_size(double pitch) { return std::min(2.3, 0.8 * pitch); }

/// From the foot of a row of bars to what stands below: names run down, a letter 0.6 em.
double room_for_names(const PrintSet& set, double pitch) {
  constexpr double kLetter = 0.6, kGap = 4;
  std::size_t longest = 0;
  for (const BlockPrint& b : set.blocks) longest = std::max(longest, b.id.size());
  return std::max(kNames, kLetter * name_size(pitch) * static_cast<double>(longest) + kGap);
}

double axis_top(const PrintSet& set, const std::vector<ArmRow>& rows) {
  double most = 1;
  for (const ArmRow& row : rows) {
    for (const std::size_t i : row.blocks) {
      const BlockPrint& b = set.blocks[i];
      if (has_angle(b))
        most =
            std::max({most, degrees(b.normal_to_thrust_rad), degrees(b.normal_to_thrust_max_rad)});
    }
  }
  return most <= 5 ? 5 : 10 * std::ceil(most / 10);
}

void add_bar(Sheet& sheet, const BlockPrint& b, double x, double pitch, double foot,
             double mm_per_degree) {
  const double dead = mm_per_degree * degrees(b.normal_to_thrust_rad);
  const double worst = mm_per_degree * degrees(b.normal_to_thrust_max_rad), half = 0.3 * pitch;
  if (has_angle(b)) {
    const double at = x + 0.75 * half;  // clear of the figure
    sheet.line({at, foot}, {at, foot - worst}, {std::nullopt, kWorst, 0.25});
    sheet.line({at - half / 2, foot - worst}, {at + half / 2, foot - worst},
               {std::nullopt, kWorst, 0.35});
    sheet.path(
        {{x - half, foot}, {x - half, foot - dead}, {x + half, foot - dead}, {x + half, foot}},
        true, {colour(made(b)), kBlack, 0.1});
    if (pitch > 5.5) {
      Words figure{
          {x, foot - dead - 0.9}, fixed(degrees(b.normal_to_thrust_rad), 1), 2.1, Anchor::kMiddle};
      figure.halo = true;
      sheet.items.emplace_back(std::move(figure));
    }
  } else {
    Words none{{x + 0.6, foot - 1}, "none", std::min(1.8, 0.7 * pitch), Anchor::kStart};
    none.turn_deg = -90;
    sheet.items.emplace_back(std::move(none));
  }
  Words name{{x + 0.8, foot + 1.2}, b.id, name_size(pitch), Anchor::kEnd};
  name.turn_deg = -90;
  sheet.items.emplace_back(std::move(name));
}

void add_axis(Sheet& sheet, double left, double right, double foot, double top_degrees) {
  const double mm_per_degree = kBars / top_degrees, step = top_degrees <= 5 ? 1 : top_degrees / 4;
  for (double a = 0; a <= top_degrees + 1e-9; a += step) {
    const double y = foot - mm_per_degree * a;
    sheet.line({left, y}, {right, y}, {std::nullopt, kGrey, 0.12, a > 0 ? 1.2 : 0});
    sheet.words({left - 1, y + 0.8}, fixed(a, step < 1 || step != std::floor(step) ? 1 : 0), 2.1,
                Anchor::kEnd);
  }
}

}  // namespace

Sheet layers_thrust_sheet(const Brief& brief, const Assembly& assembly, const PrintSet& set,
                          const std::vector<Regions>& plan, double width_mm) {
  const bool with_plan = plan.size() == assembly.blocks.size();
  Sheet sheet{width_mm, 0, "Layers and thrust", {}};
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7.5},
              "Degrees between the middle layer's normal and the thrust. 0: the layers are only "
              "pressed together.",
              2.4);
  double y = kHead;
  if (with_plan) {
    constexpr double kHigh = 98;
    const Ramp ramp = angle_ramp(set);
    add_plan(sheet, assembly, set, plan, {kMargin, y}, {width_mm - 2 * kMargin, kHigh}, ramp);
    add_ramp_key(sheet, {width_mm - 100, y + kHigh - 2}, 70, ramp, 1, 1, "degrees, dead load");
    y += kHigh + 12;
  }
  const std::vector<ArmRow> rows = rows_by_arm(brief, assembly, set);
  constexpr std::size_t kMostInRow = 40;
  std::vector<std::size_t> order;
  for (const ArmRow& row : rows) order.insert(order.end(), row.blocks.begin(), row.blocks.end());
  const double top = axis_top(set, rows);
  const std::size_t fullest = std::clamp<std::size_t>(order.size(), 12, kMostInRow);
  const double pitch = (width_mm - kLeft - kMargin) / static_cast<double>(fullest);
  const double names = room_for_names(set, pitch);
  for (std::size_t from = 0; from < order.size(); from += kMostInRow) {
    const std::size_t n = std::min(kMostInRow, order.size() - from);
    const double foot = y + kBars + 4;
    add_axis(sheet, kLeft, kLeft + pitch * static_cast<double>(n), foot, top);
    for (std::size_t k = 0; k < n; ++k)
      add_bar(sheet, set.blocks[order[from + k]], kLeft + pitch * (static_cast<double>(k) + 0.5),
              pitch, foot, kBars / top);
    y = foot + names;
  }
  sheet.words(
      {kMargin, y},
      "Bars and figures: dead load, median " + fixed(degrees(set.normal_to_thrust_median_rad), 1) +
          " degrees. Grey line: the greatest over all cases. None: cast (grey in the plan) or laid "
          "flat (blue).",
      2.3);
  sheet.height_mm = y + 4;
  return sheet;
}

}  // namespace skewback::deliver
