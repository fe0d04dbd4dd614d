// Every pallet, and every block on bearers of its own, from above and from the side: some to a
// sheet, all to one scale.

#include <algorithm>
#include <cmath>

#include "deliver/haul_sheets.hpp"
#include "deliver/outline.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kGap = 6, kPanelLeast = 72;  // mm
constexpr double kPallet_m = 0.15, kBearer_m = 0.1;
constexpr Colour kWood{200, 160, 100}, kConcrete{205, 208, 212};

struct Load {
  const Pallet* pallet = nullptr;
  std::string lorry;
  std::size_t off = 0, of = 0;  // in the order of unloading
  int first = 0;                // order of placing of its first block
};

std::string ordinal(std::size_t n) {
  const bool teen = n % 100 >= 11 && n % 100 <= 13;
  const char* const ends[] = {"th", "st", "nd", "rd"};
  return std::to_string(n) + (teen || n % 10 > 3 ? "th" : ends[n % 10]);
}

/// In the order needed, which is that of the pallets: first on the first lorry, and first off it.
std::vector<Load> loads_of(const Transport& transport) {
  std::vector<Load> loads(transport.pallets.size());
  int placed = 1;
  for (std::size_t i = 0; i < loads.size(); ++i) {
    loads[i].pallet = &transport.pallets[i];
    loads[i].first = placed;
    for (const BeddedBlock& block : transport.pallets[i].blocks) placed += block.spare ? 0 : 1;
  }
  for (const LorryLoad& lorry : transport.lorries) {
    std::vector<int> on;
    for (const LoadedPallet& p : lorry.pallets) on.push_back(p.pallet);
    std::ranges::sort(on);
    for (std::size_t k = 0; k < on.size(); ++k) {
      Load& load = loads[static_cast<std::size_t>(on[k])];
      load.lorry = lorry.id;
      load.off = k + 1;
      load.of = on.size();
    }
  }
  return loads;
}

/// "7  o3"; a spare has no place in the order: "spare  o3 again".
std::string numbered(const BeddedBlock& block, int& order) {
  return (block.spare ? "spare" : std::to_string(order++)) + "  " + name_of(block);
}

double under(const Pallet& pallet) { return pallet.own_bearers ? 0.0 : kPallet_m; }

Solid lying(const Assembly& assembly, const Pallet& pallet, const BeddedBlock& block) {
  Solid solid =
      moved(assembly.blocks[static_cast<std::size_t>(block.block)].solid, block.to_pallet);
  for (Vec3& v : solid.vertices) v.z() += under(pallet);
  return solid;
}

/// Of the blocks, from the middle of the pallet's underside.
Vec3 centre_of(const Assembly& assembly, const Pallet& pallet) {
  Vec3 sum = Vec3::Zero();
  double mass = 0;
  for (const BeddedBlock& b : pallet.blocks) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(b.block)];
    const double m = concrete_mass_kg(block);
    sum += m * (b.to_pallet(block.mass.centroid) + Vec3(0, 0, under(pallet)));
    mass += m;
  }
  return mass > 0 ? Vec3(sum / mass) : sum;
}

std::vector<Vec2> box_of(const Vec2& low, const Vec2& high) {
  return {low, {high.x(), low.y()}, high, {low.x(), high.y()}};
}

void ring(Sheet& sheet, const Vec2& at) {
  sheet.dot(at, 1.6, {std::nullopt, kThrust, 0.5});
  sheet.dot(at, 0.45, {kThrust, std::nullopt});
}

/// Outline of a bearer on the pallet: as long as the block is there, and as wide as it is high.
std::vector<Vec2> bearer_box(const BeddedBlock& block, const Vec2& middle, const Solid& solid) {
  const Vec2 way(std::cos(block.bearer_along_rad), std::sin(block.bearer_along_rad));
  const Vec2 across = kBearer_m / 2 * Vec2(-way.y(), way.x());
  double from = 1e9, to = -1e9;
  for (const Vec3& v : solid.vertices) {
    from = std::min(from, v.head<2>().dot(way));
    to = std::max(to, v.head<2>().dot(way));
  }
  const Vec2 off = middle - middle.dot(way) * way;
  const Vec2 a = off + from * way, b = off + to * way;
  return {a - across, b - across, b + across, a + across};
}

void add_plan(Sheet& sheet, const Assembly& assembly, const Load& load, const SheetMap& map) {
  const Pallet& pallet = *load.pallet;
  const Vec2 half(pallet.length_m / 2, pallet.width_m / 2);
  if (!pallet.own_bearers)
    sheet.path(map(box_of(-half, half)), true, {kWood, kBlack, 0.15, 0, 0.35});
  for (const BeddedBlock& block : pallet.blocks) {
    const Solid solid = lying(assembly, pallet, block);
    sheet.regions(map(silhouette(solid, plan_view())), {kConcrete, kBlack, 0.2});
    for (const Vec2& bearer : block.bearers)
      sheet.path(map(bearer_box(block, bearer, solid)), true, {kWood, kBlack, 0.12, 0, 0.6});
  }
  int order = load.first;
  for (const BeddedBlock& block : pallet.blocks) {
    const Vec3 centre =
        block.to_pallet(assembly.blocks[static_cast<std::size_t>(block.block)].mass.centroid);
    const auto reach = [&](int axis) {
      double least = HUGE_VAL, most = -HUGE_VAL;
      for (const Vec3& v : assembly.blocks[static_cast<std::size_t>(block.block)].solid.vertices) {
        const double at = block.to_pallet(v)[axis];
        least = std::min(least, at), most = std::max(most, at);
      }
      return most - least;
    };
    const bool upright = reach(1) > reach(0);  // its name along it: beside the next one's
    Words words{map(Vec2(centre.head<2>())) + (upright ? Vec2(-2.2, 0) : Vec2(0, -2.2)),
                numbered(block, order), 2.2, Anchor::kMiddle};
    words.turn_deg = upright ? -90 : 0;
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
  ring(sheet, map(Vec2(centre_of(assembly, pallet).head<2>())));
}

/// Seen from below on the plan: what lies lower there is in front.
void add_side(Sheet& sheet, const Assembly& assembly, const Load& load, const SheetMap& map) {
  const Pallet& pallet = *load.pallet;
  View view;
  view.right = Vec3::UnitX();
  view.up = Vec3::UnitZ();
  view.towards = -Vec3::UnitY();
  const double half = pallet.length_m / 2;
  if (!pallet.own_bearers)
    sheet.path(map(box_of({-half, 0}, {half, kPallet_m})), true, {kWood, kBlack, 0.15, 0, 0.6});
  std::vector<const BeddedBlock*> blocks;
  for (const BeddedBlock& block : pallet.blocks) blocks.push_back(&block);
  std::ranges::stable_sort(blocks, [&](const BeddedBlock* a, const BeddedBlock* b) {
    const auto y = [&](const BeddedBlock* c) {
      return c->to_pallet(assembly.blocks[static_cast<std::size_t>(c->block)].mass.centroid).y();
    };
    return y(a) > y(b);
  });
  for (const BeddedBlock* block : blocks) {
    const Solid solid = lying(assembly, pallet, *block);
    for (const Vec2& bearer : block->bearers) {
      double from = 1e9, to = -1e9;
      for (const Vec2& p : bearer_box(*block, bearer, solid)) {
        from = std::min(from, p.x());
        to = std::max(to, p.x());
      }
      sheet.path(map(box_of({from, under(pallet)}, {to, under(pallet) + kBearer_m})), true,
                 {kWood, kBlack, 0.12});
    }
    sheet.regions(map(silhouette(solid, view)), {kConcrete, kBlack, 0.2});
  }
  const Vec2 ends(-half - 0.1, half + 0.1);
  sheet.line(map(Vec2(ends.x(), 0)), map(Vec2(ends.y(), 0)), {std::nullopt, kBlack, 0.35});
  const Vec3 centre = centre_of(assembly, pallet);
  ring(sheet, map(Vec2(centre.x(), centre.z())));
}

/// "0.41 and 1.72 m from the left end of the pallet".
std::string bearers_in_words(const Pallet& pallet, const BeddedBlock& block) {
  const bool upright = std::abs(std::sin(block.bearer_along_rad)) > 0.5;
  std::vector<double> off;
  for (const Vec2& b : block.bearers)
    off.push_back(upright ? b.x() + pallet.length_m / 2 : b.y() + pallet.width_m / 2);
  std::ranges::sort(off);
  std::string text;
  for (const double m : off) text += (text.empty() ? "" : " and ") + fixed(m, 2);
  return text + " m from the " + (upright ? "left end" : "lower edge") +
         (pallet.own_bearers ? " of the block" : " of the pallet");
}

std::vector<std::string> lines_of(const Brief& brief, const Assembly& assembly, const Load& load) {
  const Pallet& pallet = *load.pallet;
  const Vec3 centre = centre_of(assembly, pallet);
  std::vector<std::string> lines;
  lines.push_back(fixed(pallet.mass_kg, 0) + " kg in all" +
                  (pallet.own_bearers
                       ? std::string(", on bearers of its own")
                       : " of " + fixed(brief.transport.pallet_load_kg, 0) + " kg and the pallet") +
                  "; " + fixed(pallet.length_m, 2) + " x " + fixed(pallet.width_m, 2) + " x " +
                  fixed(pallet.height_m, 2) + " m");
  const auto side = [](double m, const char* less, const char* more) {
    return fixed(std::abs(m), 2) + " m " + (m < 0 ? less : more);
  };
  constexpr double kNone = 0.005;  // shown as 0.00
  std::vector<std::string> off;
  if (std::abs(centre.x()) >= kNone) off.push_back(side(centre.x(), "to the left", "to the right"));
  if (std::abs(centre.y()) >= kNone)
    off.push_back(side(centre.y(), "towards the lower edge", "towards the upper edge"));
  lines.push_back("Centre of gravity " +
                  (off.empty() ? "over the middle" : "from the middle " + joined(off, " and ")) +
                  ", " + fixed(centre.z(), 2) + " m high");
  int order = load.first;
  for (const BeddedBlock& block : pallet.blocks) {
    const double mass = concrete_mass_kg(assembly.blocks[static_cast<std::size_t>(block.block)]);
    lines.push_back(numbered(block, order) + ", " + fixed(mass, 0) + " kg, " + block.words +
                    "; bearers " + bearers_in_words(pallet, block));
  }
  if (std::ranges::any_of(pallet.blocks, &BeddedBlock::spare))
    lines.push_back("\"again\": the spare, copy 2 in the daybook (\"/2\" on its label)");
  return lines;
}

struct Room {  // what every panel needs, m at the common scale and mm of words
  double wide_m = 0, deep_m = 0, high_m = 0;
  std::size_t lines = 0;
};

constexpr double kHead = 5.5, kLine = 2.9, kWords = 1.9;

std::vector<std::string> broken_lines(const Brief& brief, const Assembly& assembly,
                                      const Load& load, double wide_mm) {
  const auto letters = static_cast<std::size_t>(wide_mm / (0.56 * kWords));
  std::vector<std::string> out;
  for (const std::string& line : lines_of(brief, assembly, load))
    for (const std::string& part : broken(line, letters)) out.push_back(part);
  return out;
}

void add_panel(Sheet& sheet, const Brief& brief, const Assembly& assembly, const Load& load,
               const Vec2& corner, double wide_mm, double scale, const Room& room) {
  sheet.items.emplace_back(
      Words{corner + Vec2(0, 3), load.pallet->id, 3.2, Anchor::kStart, true, kBlack, false});
  if (load.of > 0)
    sheet.words(corner + Vec2(wide_mm, 3),
                "lorry " + load.lorry + ", " + ordinal(load.off) + " of " +
                    std::to_string(load.of) + " off",
                2.2, Anchor::kEnd);
  const double middle = corner.x() + wide_mm / 2;
  const double deep = scale * room.deep_m, high = scale * room.high_m;
  add_plan(sheet, assembly, load, SheetMap{scale, {middle, corner.y() + kHead + deep / 2}});
  const double floor = corner.y() + kHead + deep + 3 + high;
  add_side(sheet, assembly, load, SheetMap{scale, {middle, floor}});
  double y = floor + 4;
  for (const std::string& line : broken_lines(brief, assembly, load, wide_mm)) {
    sheet.words({corner.x(), y}, line, kWords);
    y += kLine;
  }
}

}  // namespace

std::vector<Sheet> pallet_sheets(const Brief& brief, const Assembly& assembly,
                                 const Transport& transport, double width_mm, double height_mm) {
  constexpr double kTop = kMargin + 9.5, kFoot = 11;
  const std::vector<Load> loads = loads_of(transport);
  const auto columns = static_cast<std::size_t>(
      std::max(1.0, std::floor((width_mm - 2 * kMargin + kGap) / (kPanelLeast + kGap))));
  const double wide = (width_mm - 2 * kMargin - kGap * static_cast<double>(columns - 1)) /
                      static_cast<double>(columns);
  Room room;
  for (const Load& load : loads) {
    room.wide_m = std::max(room.wide_m, load.pallet->length_m + 0.2);
    room.deep_m = std::max(room.deep_m, load.pallet->width_m);
    room.high_m = std::max(room.high_m, load.pallet->height_m);
    room.lines = std::max(room.lines, broken_lines(brief, assembly, load, wide).size());
  }
  if (loads.empty()) return {};
  const double words = kHead + 3 + 4 + kLine * static_cast<double>(room.lines);
  const double wanted = std::max(1.0, std::round(height_mm / 95));  // rows
  const double most = (height_mm - kTop - kFoot - kGap * (wanted - 1)) / wanted - words;
  Extent extent;
  extent.add({0, 0});
  extent.add({room.wide_m, room.deep_m + room.high_m});
  const double scale = fit(extent, {0, 0}, {wide, std::max(most, 20.0)}).mm_per_m;
  const double high = words + scale * (room.deep_m + room.high_m);
  const auto rows = static_cast<std::size_t>(
      std::max(1.0, std::floor((height_mm - kTop - kFoot + kGap) / (high + kGap))));
  std::vector<Sheet> sheets;
  for (std::size_t first = 0; first < loads.size(); first += rows * columns) {
    const std::size_t end = std::min(loads.size(), first + rows * columns);
    Sheet sheet{width_mm,
                0,
                "Pallets and loads " + loads[first].pallet->id + " to " + loads[end - 1].pallet->id,
                {}};
    sheet.items.emplace_back(
        Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
    sheet.words({kMargin, kMargin + 7},
                "From above and from the side. Numbers: order of placing. Bearers brown; centre of "
                "gravity of the blocks orange.",
                2.2);
    for (std::size_t i = first; i < end; ++i) {
      const std::size_t k = i - first;
      const Vec2 corner(kMargin + static_cast<double>(k % columns) * (wide + kGap),
                        kTop + static_cast<double>(k / columns) * (high + kGap));
      add_panel(sheet, brief, assembly, loads[i], corner, wide, scale, room);
    }
    const auto used = static_cast<double>((end - first + columns - 1) / columns);
    const double foot = kTop + used * (high + kGap) - kGap + 3;
    add_scale_bar(sheet, SheetMap{scale, {0, 0}}, {kMargin, foot});
    sheet.height_mm = foot + 8;
    sheets.push_back(std::move(sheet));
  }
  return sheets;
}

}  // namespace skewback::deliver
