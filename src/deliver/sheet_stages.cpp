#include "deliver/sheet_stages.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 4, kGap = 4, kWordsHigh = 11;
constexpr std::size_t kAcross = 3;
constexpr Colour kDone{226, 224, 218}, kNow{222, 150, 60}, kGoing{240, 208, 170};
constexpr Colour kSeat{30, 70, 120}, kFreed{190, 60, 40}, kLoad{120, 160, 110};

std::vector<std::size_t> of(const Programme& programme, const std::string& what) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    if (programme.stages[i].what == what) all.push_back(i);
  }
  return all;
}

/// `count` of them, the first and the last among them.
void add_spread(const std::vector<std::size_t>& from, std::size_t count,
                std::set<std::size_t>& to) {
  if (from.empty()) return;
  if (count == 1) to.insert(from.back());
  for (std::size_t k = 0; k < count && count > 1; ++k)
    to.insert(from[k * (from.size() - 1) / (count - 1)]);
}

/// What a step does to each block: blocks placed, taken down or whose seats move; loaded ones.
std::set<int> in_hand(const Assembly& assembly, const Programme& programme, const Stage& stage) {
  std::set<int> blocks;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (std::ranges::count(stage.blocks, assembly.blocks[i].id) > 0)
      blocks.insert(static_cast<int>(i));
  }
  const bool laying = stage.what == "lay" || stage.what == "unload";
  const int step = stage.state.laid - (stage.what == "lay" ? 1 : 0);
  const std::vector<LayingStep>& steps = steps_of(programme, stage.state);
  if (laying && step >= 0 && step < static_cast<int>(steps.size())) {
    for (const auto& [block, mass] : steps[static_cast<std::size_t>(step)].on) blocks.insert(block);
  }
  return blocks;
}

Colour colour_of(const Stage& stage) {
  if (stage.what == "lay" || stage.what == "unload") return kLoad;
  return stage.what == "take down" ? kGoing : kNow;
}

/// Seats as the pads have them: those that bear blue, those that let go red.
void add_seats(Sheet& sheet, const SheetMap& map, const Programme& programme, const Stage& stage) {
  if (!stage.proof.pads || !stage.proof.pads->found) return;
  std::vector<std::size_t> in;
  for (std::size_t s = 0; s < stage.state.seated.size(); ++s) {
    if (stage.state.seated[s] != 0) in.push_back(s);
  }
  std::set<std::size_t> bearing;
  for (const PropForce& seat : stage.proof.pads->forces.props) {
    if (seat.force.norm() > 1) bearing.insert(in[static_cast<std::size_t>(seat.prop)]);
  }
  for (const std::size_t s : in) {
    const bool bears = bearing.contains(s);
    sheet.dot(map(programme.seats[s].point.head<2>()), 0.25,
              {bears ? kSeat : kFreed, std::nullopt, 0});
  }
}

void add_stage(Sheet& sheet, const SheetMap& map, const Assembly& assembly,
               const Programme& programme, const std::vector<Regions>& plan, const Stage& stage) {
  const std::set<int> now = in_hand(assembly, programme, stage);
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const bool there = stage.state.present[i] != 0, hand = now.contains(static_cast<int>(i));
    if (assembly.blocks[i].fixed || (!there && !hand)) {
      if (!assembly.blocks[i].fixed)
        sheet.regions(map(plan[i]), {std::nullopt, Colour{205, 205, 205}, 0.08});
      continue;
    }
    sheet.regions(map(plan[i]), {hand ? colour_of(stage) : kDone, kBlack, 0.12});
  }
  add_seats(sheet, map, programme, stage);
}

/// As large as the box allows, whatever the scale: pictures, not drawings to measure from.
SheetMap filling(const Extent& extent, const Vec2& at, const Vec2& box) {
  const Vec2 size = extent.size().cwiseMax(1e-9);
  SheetMap map;
  map.mm_per_m = (box.array() / size.array()).minCoeff();
  const Vec2 middle = (extent.low + extent.high) / 2;
  map.corner = at + box / 2 + Vec2(-middle.x(), middle.y()) * map.mm_per_m;
  return map;
}

std::string short_words(const Stage& stage) {
  constexpr std::size_t kMost = 34;
  std::string text = stage.words;
  if (text.size() > kMost) text = text.substr(0, text.rfind(',', kMost)) + " ...";
  return text;
}

}  // namespace

std::vector<std::size_t> stages_to_show(const Programme& programme, std::size_t most) {
  std::set<std::size_t> shown;
  add_spread(of(programme, "place"), std::max<std::size_t>(2, most / 3), shown);
  add_spread(of(programme, "lower"), std::max<std::size_t>(2, most / 3), shown);
  add_spread(of(programme, "clear"), 1, shown);
  add_spread(of(programme, "lay"), 1, shown);
  add_spread(of(programme, "raise"), 1, shown);
  const auto down = of(programme, "take down");
  if (!down.empty()) shown.insert(down[down.size() / 2]);
  return {shown.begin(), shown.end()};
}

Sheet stages_sheet(const Assembly& assembly, const Programme& programme,
                   const std::vector<Regions>& plan, const std::vector<std::size_t>& shown,
                   double width_mm) {
  Sheet sheet{width_mm, 0, "Stages", {}};
  Extent extent;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (assembly.blocks[i].fixed) continue;
    for (const Region& region : plan[i]) {
      for (const Vec2& p : region.outer) extent.add(p);
    }
  }
  if (extent.empty()) return sheet;
  const double cell = (width_mm - 2 * kMargin - (kAcross - 1) * kGap) / kAcross;
  const Vec2 size = extent.size();
  const double high = std::clamp(cell * size.y() / std::max(size.x(), 1e-9), 12.0, 44.0);
  for (std::size_t k = 0; k < shown.size(); ++k) {
    const Stage& stage = programme.stages[shown[k]];
    const Vec2 at(kMargin + static_cast<double>(k % kAcross) * (cell + kGap),
                  kMargin + static_cast<double>(k / kAcross) * (high + kWordsHigh + kGap));
    Words head{at + Vec2(0, 3), "Step " + std::to_string(stage.step) + ": " + stage.what, 2.8};
    head.bold = true;
    sheet.items.emplace_back(std::move(head));
    sheet.words(at + Vec2(0, 6.4), short_words(stage), 2.2);
    sheet.words(at + Vec2(0, 9.4),
                std::to_string(stage.seats_bearing) + " seats bear, " +
                    fixed(stage.seat_load_n / 1e3, 1) + " kN",
                2.2);
    const SheetMap map = filling(extent, at + Vec2(0, kWordsHigh), {cell, high});
    add_stage(sheet, map, assembly, programme, plan, stage);
  }
  const double rows = std::ceil(static_cast<double>(shown.size()) / kAcross);
  const double y = kMargin + rows * (high + kWordsHigh + kGap) + 2;
  sheet.words({kMargin, y},
              "Grey: in place. Orange: this step. Green: walkway or parapet goes on or off. Blue "
              "dots: seats that bear; red: seats that do not.",
              2.3);
  sheet.height_mm = y + 3;
  return sheet;
}

}  // namespace skewback::deliver
