#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 6, kHead = 17, kTileLeast = 24.5, kTileMost = 36, kHigh = 15, kGap = 1.5,
                 kName = 6;
constexpr std::array<Made, 4> kAll = {Made::kBedToBed, Made::kFlat, Made::kCast, Made::kNot};

void add_counts(Sheet& sheet, const PrintSet& set, double y) {
  double x = kMargin;
  for (const Made kind : kAll) {
    const auto n =
        std::ranges::count_if(set.blocks, [&](const BlockPrint& b) { return made(b) == kind; });
    sheet.path({{x, y - 2.6}, {x + 4, y - 2.6}, {x + 4, y + 0.4}, {x, y + 0.4}}, true,
               {colour(kind), kBlack, 0.15, 0, 0.55});
    const std::string text = std::to_string(n) + " " + word(kind);
    sheet.words({x + 5.2, y}, text, 2.4);
    x += 9 + 1.45 * static_cast<double>(text.size());
  }
}

void add_tile(Sheet& sheet, const Vec2& at, double wide, const Block& block,
              const BlockPrint& print) {
  const Made kind = made(print);
  const Vec2 far = at + Vec2(wide, kHigh);
  sheet.path({at, {far.x(), at.y()}, far, {at.x(), far.y()}}, true,
             {colour(kind), kBlack, 0.2, 0, 0.45});
  sheet.items.emplace_back(Words{at + Vec2(1.2, 3.6), print.id, 2.6, Anchor::kStart, true});
  const std::string layers =
      print.layers.empty() ? "no layers" : counted(print.layers.size(), "layer");
  sheet.words(at + Vec2(1.2, 7.2), layers, 2.3);
  sheet.words(at + Vec2(1.2, 10.4), print.poses.empty() ? "" : fixed(print.time_s / 60, 0) + " min",
              2.3);
  sheet.words(at + Vec2(1.2, 13.6), fixed(concrete_mass_kg(block), 0) + " kg", 2.3);
}

}  // namespace

Made made(const BlockPrint& block) {
  if (block.way == PrintWay::kCast) return Made::kCast;
  if (!block.printable || block.way == PrintWay::kNone) return Made::kNot;
  return block.way == PrintWay::kFlat ? Made::kFlat : Made::kBedToBed;
}

Colour colour(Made made) {
  switch (made) {
    case Made::kBedToBed:
      return {0, 158, 115};
    case Made::kFlat:
      return {86, 180, 233};
    case Made::kCast:
      return {170, 165, 155};
    case Made::kNot:
      break;
  }
  return kThrust;
}

const char* word(Made made) {
  switch (made) {
    case Made::kBedToBed:
      return "printed from bed to bed";
    case Made::kFlat:
      return "printed flat";
    case Made::kCast:
      return "cast";
    case Made::kNot:
      break;
  }
  return "not printable";
}

std::vector<ArmRow> rows_by_arm(const Brief& brief, const Assembly& assembly, const PrintSet& set) {
  std::vector<ArmRow> rows;
  for (std::size_t i = 0; i < set.blocks.size(); ++i) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(set.blocks[i].block)];
    const std::string name = arm_name(brief, block);
    auto row = std::ranges::find(rows, name, &ArmRow::name);
    if (row == rows.end()) row = rows.insert(rows.end(), {name, {}});
    row->blocks.push_back(i);
  }
  std::ranges::stable_partition(rows, [](const ArmRow& row) { return row.name != "key"; });
  return rows;
}

Sheet print_overview_sheet(const Brief& brief, const Assembly& assembly, const PrintSet& set,
                           double width_mm) {
  Sheet sheet{width_mm, 0, "Printing of all blocks", {}};
  sheet.items.emplace_back(
      Words{{kMargin, 6}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  add_counts(sheet, set, 12.5);
  const std::vector<ArmRow> rows = rows_by_arm(brief, assembly, set);
  std::size_t longest = 1;
  for (const ArmRow& row : rows) longest = std::max(longest, row.blocks.size());
  const double room = width_mm - 2 * kMargin + kGap;
  const double tile = std::clamp(room / static_cast<double>(longest) - kGap, kTileLeast, kTileMost);
  const auto across =
      static_cast<std::size_t>(std::max(1.0, std::floor(room / (tile + kGap) + 1e-9)));
  double y = kHead;
  for (const ArmRow& row : rows) {
    sheet.items.emplace_back(
        Words{{kMargin, y + 3.4}, row.name, 2.8, Anchor::kStart, true, kBlack, false});
    y += kName - 1;
    for (std::size_t k = 0; k < row.blocks.size(); ++k) {
      if (k > 0 && k % across == 0) y += kHigh + kGap;
      const BlockPrint& print = set.blocks[row.blocks[k]];
      add_tile(sheet, {kMargin + static_cast<double>(k % across) * (tile + kGap), y}, tile,
               assembly.blocks[static_cast<std::size_t>(print.block)], print);
    }
    y += kHigh + 2 * kGap;
  }
  sheet.words({kMargin, y + 2.5},
              "By arm, course by course from the springing. kg: of the concrete of the block; min: "
              "of the nozzle.",
              2.2);
  sheet.height_mm = y + 6;
  return sheet;
}

}  // namespace skewback::deliver
