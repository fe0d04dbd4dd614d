#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.hpp"
#include "deliver/outline.hpp"
#include "deliver/print_poses.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"
#include "geometry/simplify.hpp"

namespace skewback::deliver {
namespace {

constexpr double kWidth = 297, kHeight = 210, kMargin = 8;
constexpr double kViewTop = 25, kViewHigh = 84, kGap = 7;
constexpr double kKeyTop = kViewTop + kViewHigh + 3, kStripTop = kKeyTop + 17;
constexpr std::size_t kMostPoints = 6500;  // of a view

using Line = std::vector<Vec2>;

/// Pieces of a layer's path by step of colour.
using ByStep = std::map<int, std::vector<Line>>;

template <typename Value>
std::vector<ByStep> pieces(const BlockPrint& block, const View& view, const SheetMap& map,
                           const Ramp& ramp, Value value) {
  std::vector<ByStep> layers(block.layers.size());
  int last_layer = -1, last_step = 0;
  for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
    const Pose& pose = block.poses[i];
    if (!(pose.share_m > 0) || pose.layer < 0 ||
        static_cast<std::size_t>(pose.layer) >= layers.size()) {
      last_layer = -1;
      continue;
    }
    const int step = ramp.step_of(value(pose));
    auto& lines = layers[static_cast<std::size_t>(pose.layer)][step];
    if (pose.layer != last_layer || step != last_step) lines.push_back({map(view(pose.tip))});
    lines.back().push_back(map(view(block.poses[i + 1].tip)));
    last_layer = pose.layer;
    last_step = step;
  }
  return layers;
}

std::size_t thin_all(std::vector<ByStep>& layers, double slack, std::size_t every) {
  std::size_t points = 0;
  for (std::size_t k = 0; k < layers.size(); ++k) {
    // the top is always drawn
    if ((layers.size() - 1 - k) % every != 0) layers[k].clear();
    for (auto& [step, lines] : layers[k]) {
      for (Line& line : lines) {
        line = simplified_line(line, slack);
        points += line.size();
      }
    }
  }
  return points;
}

template <typename Value>
void add_view(Sheet& sheet, const BlockPrint& block, const View& view, const SheetMap& map,
              const Ramp& ramp, Value value, const Vec2& name_at, std::string name) {
  std::vector<ByStep> layers = pieces(block, view, map, ramp, value);
  std::size_t every = 1;
  double slack = 0.05;
  while (thin_all(layers, slack, every) > kMostPoints && every < 64) {
    if (slack < 0.2) {
      slack *= 2;
    } else {
      every *= 2;
    }
  }
  const double high = map.mm_per_m * (block.layer_min_m + block.layer_max_m) / 2;
  const double width = std::clamp(0.8 * high, 0.12, 1.0);
  for (const ByStep& layer : layers) {
    for (const auto& [step, lines] : layer) {
      Shape shape{lines, false, {std::nullopt, ramp.colour(step), width}};
      sheet.items.emplace_back(std::move(shape));
    }
  }
  if (every > 1) name += "; one layer in " + std::to_string(every) + " is drawn";
  sheet.words(name_at, name, 2.6);
}

View aslant() {
  View view;
  view.towards = Vec3(0.4, -0.8, 0.75).normalized();
  view.right = Vec3::UnitZ().cross(view.towards).normalized();
  view.up = view.towards.cross(view.right);
  return view;
}

std::string mm(double metres, int decimals = 1) { return fixed(1000 * metres, decimals); }
std::string degrees(double rad) { return fixed(rad * 180 / kPi, 1); }

void add_title(Sheet& sheet, const BlockPrint& block) {
  sheet.title = "Printing of " + block.id;
  const std::string shown = sheet.title + (block.printable ? "" : ": NOT TO BE PRINTED");
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, shown, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 9},
              counted(block.layers.size(), "layer") + ", " + word(block.way) + "; path " +
                  fixed(block.path_m, 1) + " m, " + fixed(block.time_s / 60, 1) + " min, " +
                  fixed(1000 * block.volume_m3, 1) + " litres; " +
                  counted(block.poses.size(), "pose") + ", " + counted(stops(block), "stop") + ".",
              2.6);
  if (block.printable) {
    sheet.words({kMargin, kMargin + 13},
                "On the table: " + block.on_table + "." +
                    (block.grind_m > 0
                         ? " Far bed " + mm(block.grind_m) + " mm over its plane, to be ground off."
                         : ""),
                2.3);
    return;
  }
  // may be long: the first words here, all of it in the report
  constexpr std::size_t kFits = 150;
  std::string reason = block.reason.substr(0, block.reason.find("; to change"));
  if (reason.size() > kFits) reason = reason.substr(0, reason.rfind(' ', kFits)) + " ...";
  sheet.items.emplace_back(Words{{kMargin, kMargin + 13},
                                 "Beyond a limit: " + reason + ". No poses are written.",
                                 2.6,
                                 Anchor::kStart,
                                 true,
                                 kBlack,
                                 false});
}

void add_keys(Sheet& sheet, const Brief& brief, const BlockPrint& block, double left,
              double right) {
  constexpr double kKey = 96;
  add_ramp_key(sheet, {left, kKeyTop}, kKey, height_ramp(brief.print), 1000, 1, "mm");
  sheet.words({left, kKeyTop + 10},
              "Layers " + mm(block.layer_min_m, 2) + " to " + mm(block.layer_max_m, 2) +
                  " mm; limits " + mm(brief.print.layer_min_m) + " and " +
                  mm(brief.print.layer_max_m) + " mm. Less: where a bead begins or ends.",
              2.2);
  add_ramp_key(sheet, {right, kKeyTop}, kKey, overhang_ramp(brief.print), 180 / kPi, 1, "degrees");
  sheet.words({right, kKeyTop + 10},
              "Overhang up to " + degrees(block.overhang_max_rad) + " degrees; limit " +
                  degrees(brief.print.overhang_max_rad) + ". Below 0: leans inward.",
              2.2);
}

}  // namespace

Sheet block_print_sheet(const Brief& brief, const BlockPrint& block) {
  Sheet sheet{kWidth, kHeight, "", {}};
  add_title(sheet, block);
  const View view = aslant();
  Extent extent;
  for (const Pose& pose : block.poses) extent.add(view(pose.tip));
  const double wide = (kWidth - 2 * kMargin - kGap) / 2, right = kMargin + wide + kGap;
  SheetMap map = fit(extent, {kMargin, kViewTop}, {wide, kViewHigh});
  add_view(
      sheet, block, view, map, height_ramp(brief.print),
      [](const Pose& p) { return double{p.height_m}; }, {kMargin, kViewTop - 0.5},
      "By height of the bead");
  add_scale_bar(sheet, map, {kMargin + 2, kKeyTop - 4});
  map.corner.x() += wide + kGap;
  add_view(
      sheet, block, view, map, overhang_ramp(brief.print),
      [](const Pose& p) { return double{p.overhang_rad}; }, {right, kViewTop - 0.5},
      "By overhang of the wall");
  add_keys(sheet, brief, block, kMargin, right);
  add_unrolled(sheet, {kMargin + 12, kStripTop}, {kWidth - 2 * kMargin - 12, 58}, block,
               height_ramp(brief.print));
  if (block.printable) {
    sheet.words({kMargin, kHeight - 4},
                "Poses: the .csv and .json of the same name. A dry run at reduced speed comes "
                "first.",
                2.3);
  }
  return sheet;
}

}  // namespace skewback::deliver
