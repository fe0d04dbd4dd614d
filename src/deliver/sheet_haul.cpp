#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.hpp"
#include "deliver/haul_sheets.hpp"
#include "deliver/outline.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8;
constexpr Colour kDeck{236, 230, 218}, kWood{200, 160, 100}, kConcrete{205, 208, 212},
    kStrap{0, 114, 178};

struct Lying {  // a pallet on the bed
  const Pallet* pallet = nullptr;
  const LoadedPallet* at = nullptr;
  [[nodiscard]] Vec2 size() const {
    return at->turned ? Vec2(pallet->width_m, pallet->length_m)
                      : Vec2(pallet->length_m, pallet->width_m);
  }
  [[nodiscard]] Vec2 on_bed(const Vec2& p) const {
    return at->at + (at->turned ? Vec2(-p.y(), p.x()) : p);
  }
};

std::vector<Vec2> box_of(const Vec2& low, const Vec2& high) {
  return {low, {high.x(), low.y()}, high, {low.x(), high.y()}};
}

Solid on_bed(const Assembly& assembly, const Lying& lying, const BeddedBlock& block) {
  Solid solid =
      moved(assembly.blocks[static_cast<std::size_t>(block.block)].solid, block.to_pallet);
  for (Vec3& v : solid.vertices) {
    const Vec2 p = lying.on_bed(v.head<2>());
    v = {p.x(), p.y(), v.z() + (lying.pallet->own_bearers ? 0.0 : 0.15)};
  }
  return solid;
}

void add_name(Sheet& sheet, const Vec2& at, const std::string& text, double size, bool upright) {
  Words words{at, text, size, Anchor::kMiddle};
  words.halo = true;
  if (upright) words.turn_deg = -90;
  sheet.items.emplace_back(std::move(words));
}

/// As long as the block is wide there.
void add_bearers(Sheet& sheet, const Assembly& assembly, const Lying& lying,
                 const BeddedBlock& block, const SheetMap& map) {
  const Vec2 way(std::cos(block.bearer_along_rad), std::sin(block.bearer_along_rad));
  double from = 1e9, to = -1e9;
  for (const Vec3& v : assembly.blocks[static_cast<std::size_t>(block.block)].solid.vertices) {
    const double along = block.to_pallet(v).head<2>().dot(way);
    from = std::min(from, along);
    to = std::max(to, along);
  }
  for (const Vec2& bearer : block.bearers) {
    const Vec2 off = bearer - bearer.dot(way) * way;
    sheet.line(map(lying.on_bed(off + from * way)), map(lying.on_bed(off + to * way)),
               {std::nullopt, kWood, 0.9});
  }
}

/// From above: headboard on the left.
void add_plan(Sheet& sheet, const TransportRequest& bed, const Assembly& assembly,
              const std::vector<Lying>& load, const SheetMap& map) {
  const double half = bed.lorry_width_m / 2;
  sheet.path(map(box_of({0, -half}, {bed.lorry_length_m, half})), true, {kDeck, kBlack, 0.4});
  sheet.line(map(Vec2(0, -half)), map(Vec2(0, half)), {std::nullopt, kBlack, 1.2});
  for (const Lying& lying : load) {
    const Vec2 size = lying.size();
    sheet.path(map(box_of(lying.at->at - size / 2, lying.at->at + size / 2)), true,
               {lying.pallet->own_bearers ? std::optional<Colour>{} : kWood, kBlack, 0.15, 0, 0.5});
    for (const BeddedBlock& block : lying.pallet->blocks) {
      sheet.regions(map(silhouette(on_bed(assembly, lying, block), plan_view())),
                    {kConcrete, kBlack, 0.15});
      add_bearers(sheet, assembly, lying, block, map);
    }
  }
}

void add_names(Sheet& sheet, const std::vector<Lying>& load, const SheetMap& map) {
  for (const Lying& lying : load) {
    const Vec2 size = lying.size();
    const bool upright = size.y() > size.x();
    std::vector<std::string> ids;
    for (const BeddedBlock& block : lying.pallet->blocks) ids.push_back(name_of(block));
    const double room = map.mm_per_m * std::min(size.x(), size.y());
    const Vec2 middle = map(lying.at->at);
    const std::string text = lying.pallet->id + "  " + joined(ids, ", ");
    add_name(sheet, middle + (upright ? Vec2(0.8, 0) : Vec2(0, 0.8)), text,
             std::clamp(0.35 * room, 1.5, 2.4), upright);
  }
}

void add_straps(Sheet& sheet, const TransportRequest& bed, const LorryLoad& lorry,
                const std::vector<Lying>& load, const SheetMap& map) {
  const double half = bed.lorry_width_m / 2;
  for (std::size_t row = 0; row < lorry.row_straps.size(); ++row) {
    double from = 1e9, to = -1e9;
    for (const Lying& lying : load) {
      if (lying.at->row != static_cast<int>(row)) continue;
      from = std::min(from, lying.at->at.x() - lying.size().x() / 2);
      to = std::max(to, lying.at->at.x() + lying.size().x() / 2);
    }
    const int n = lorry.row_straps[row];
    for (int k = 0; k < n; ++k) {
      const double x = from + (to - from) * (k + 0.5) / n;
      sheet.line(map(Vec2(x, -half - 0.08)), map(Vec2(x, half + 0.08)),
                 {std::nullopt, kStrap, 0.6, 2.5});
    }
  }
}

/// From the left-hand side: the headboard is on the left, as above.
void add_side(Sheet& sheet, const TransportRequest& bed, const Assembly& assembly,
              std::vector<Lying> load, const SheetMap& map) {
  View view = plan_view();
  view.right = Vec3::UnitX();
  view.up = Vec3::UnitZ();
  view.towards = -Vec3::UnitY();
  std::ranges::stable_sort(load, [](const Lying& a, const Lying& b) {
    return a.at->at.y() > b.at->at.y();  // what is nearer to the eye last
  });
  for (const Lying& lying : load) {
    const Vec2 size = lying.size();
    if (!lying.pallet->own_bearers) {
      sheet.path(map(box_of({lying.at->at.x() - size.x() / 2, 0},
                            {lying.at->at.x() + size.x() / 2, 0.15})),
                 true, {kWood, kBlack, 0.15, 0, 0.6});
    }
    for (const BeddedBlock& block : lying.pallet->blocks) {
      const Solid solid = on_bed(assembly, lying, block);
      const double under = lying.pallet->own_bearers ? 0.0 : 0.15;
      for (const Vec2& bearer : block.bearers) {
        const double x = lying.on_bed(bearer).x();
        sheet.path(map(box_of({x - 0.05, under}, {x + 0.05, under + 0.1})), true,
                   {kWood, kBlack, 0.12});
      }
      sheet.regions(map(silhouette(solid, view)), {kConcrete, kBlack, 0.15});
    }
  }
  sheet.path(map(box_of({0, -0.12}, {bed.lorry_length_m, 0})), true, {kDeck, kBlack, 0.3});
  sheet.line(map(Vec2(0, -0.12)), map(Vec2(0, 1.0)), {std::nullopt, kBlack, 1.2});
}

/// How most blocks of the load are bedded.
std::string usual_bedding(const std::vector<Lying>& load) {
  std::map<std::string, int> ways;
  for (const Lying& lying : load)
    for (const BeddedBlock& block : lying.pallet->blocks) ++ways[block.words];
  if (ways.empty()) return "";
  return std::ranges::max_element(ways, {}, [](const auto& way) { return way.second; })->first;
}

/// In two columns, each entry as many lines as it needs.
void add_list(Sheet& sheet, const std::vector<Lying>& load, double width_mm, double& y) {
  constexpr double kLine = 3.3, kSize = 2.1;
  const std::string usual = usual_bedding(load);
  const auto letters = static_cast<std::size_t>((width_mm / 2 - kMargin - 4) / (0.58 * kSize));
  if (!usual.empty()) {
    sheet.words({kMargin, y}, "Bedded " + usual + " where nothing else is said.", kSize);
    y += kLine;
  }
  const std::size_t half = (load.size() + 1) / 2;
  double lowest = y, at_y = y;
  for (std::size_t i = 0; i < load.size(); ++i) {
    if (i == half) at_y = y;
    const Pallet& p = *load[i].pallet;
    std::vector<std::string> ids;
    for (const BeddedBlock& block : p.blocks)
      ids.push_back(name_of(block) + (block.words == usual ? "" : " (" + block.words + ")"));
    const std::string text = p.id + ": " + joined(ids, ", ") + ", " + fixed(p.mass_kg, 0) +
                             " kg, " + fixed(p.length_m, 2) + " x " + fixed(p.width_m, 2) + " x " +
                             fixed(p.height_m, 2) + " m";
    for (const std::string& line : broken(text, letters)) {
      sheet.words({i < half ? kMargin : width_mm / 2, at_y}, line, kSize);
      at_y += kLine;
    }
    lowest = std::max(lowest, at_y);
  }
  y = lowest;
}

/// Title, and the lines under it; gives where the drawing begins.
double add_head(Sheet& sheet, const TransportRequest& bed, const LorryLoad& lorry) {
  constexpr double kSize = 2.4, kLine = 3.4;
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  double y = kMargin + 7.2;
  const std::string text =
      fixed(lorry.mass_kg, 0) + " kg of " + fixed(bed.lorry_load_kg, 0) +
      "; centre of gravity (orange) " + fixed(lorry.centre.x(), 2) + " m behind the headboard, " +
      fixed(std::abs(lorry.centre.y()), 2) + " m to the " +
      (lorry.centre.y() < 0 ? "right" : "left") + "; " +
      counted(static_cast<std::size_t>(lorry.straps), "strap") +
      " (blue); bearers brown. Headboard on the left; pallets numbered as they are needed, the "
      "first on the right.";
  const auto letters = static_cast<std::size_t>((sheet.width_mm - 2 * kMargin) / (0.58 * kSize));
  for (const std::string& line : broken(text, letters)) {
    sheet.words({kMargin, y}, line, kSize);
    y += kLine;
  }
  return y - 1;
}

}  // namespace

Sheet lorry_sheet(const Brief& brief, const Assembly& assembly, const Transport& transport,
                  std::size_t index, double width_mm, const std::optional<double>& most_mm) {
  constexpr double kBetween = 4, kScaleBar = 10;
  const TransportRequest& bed = brief.transport;
  const LorryLoad& lorry = transport.lorries[index];
  Sheet sheet{width_mm, 0, "Lorry " + lorry.id, {}};
  const double head = add_head(sheet, bed, lorry);
  std::vector<Lying> load;
  double top = 1.1;
  Extent plan, side;
  for (const LoadedPallet& p : lorry.pallets) {
    load.push_back({&transport.pallets[static_cast<std::size_t>(p.pallet)], &p});
    const Lying& lying = load.back();
    top = std::max(top, lying.pallet->height_m);
    plan.add(p.at - lying.size() / 2);
    plan.add(p.at + lying.size() / 2);
  }
  plan.add({0, -bed.lorry_width_m / 2 - 0.1});
  plan.add({bed.lorry_length_m, bed.lorry_width_m / 2 + 0.1});
  side.add({plan.low.x(), -0.15});
  side.add({plan.high.x(), top});
  const double wide = width_mm - 2 * kMargin;
  const double both = plan.size().y() + side.size().y();
  const double room = most_mm ? *most_mm - head - kBetween - kScaleBar - 2 : 130.0;
  const double high = most_mm ? room * plan.size().y() / both : room;
  const double scale = fit(plan, {0, 0}, {wide, high}).mm_per_m;
  const double high_plan = scale * plan.size().y() + 1, high_side = scale * side.size().y() + 1;
  const SheetMap above = fit(plan, {kMargin, head}, {wide, high_plan});
  SheetMap beside{scale, above.corner};  // the same x, under the plan
  beside.corner.y() = head + high_plan + kBetween + scale * top;
  add_plan(sheet, bed, assembly, load, above);
  add_straps(sheet, bed, lorry, load, above);
  add_names(sheet, load, above);
  // a ring: the name under it can still be read
  sheet.dot(above(lorry.centre), 1.9, {std::nullopt, kThrust, 0.6});
  sheet.dot(above(lorry.centre), 0.5, {kThrust, std::nullopt});
  add_side(sheet, bed, assembly, load, beside);
  double y = head + high_plan + high_side + kScaleBar;
  add_scale_bar(sheet, above, {kMargin, y});
  y += 7;
  if (!most_mm) add_list(sheet, load, width_mm, y);
  sheet.height_mm = y + (most_mm ? -1 : 3);
  return sheet;
}

}  // namespace skewback::deliver
