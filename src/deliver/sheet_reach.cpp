#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/drawings.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 6, kTitle = 6, kStar = 15;  // longest ray, mm

struct Ray {
  Vec2 way;  // on the sheet
  double value = 0;
  bool beyond = false;
};

const FootingReach* find(const std::vector<FootingReach>& reach, int block, const char* way) {
  const auto it = std::ranges::find_if(
      reach, [&](const FootingReach& r) { return r.block == block && r.way == way; });
  return it == reach.end() ? nullptr : &*it;
}

/// As many millimetres as the square root of the movement, so that 1 mm and 100 mm are both seen.
double ray_length(double metres, double most) { return kStar * std::sqrt(metres / most); }

void add_ray(Sheet& sheet, const Vec2& at, const Ray& ray, double most, Colour colour) {
  const Vec2 end = at + ray_length(ray.value, most) * ray.way;
  sheet.arrow(at, end, {colour, colour, 0.5}, 1.8);
  Words words{end + 3.4 * ray.way + Vec2(0, 0.8),
              (ray.beyond ? "> " : "") + fixed(1000 * ray.value, ray.value < 0.01 ? 1 : 0), 2.3,
              Anchor::kMiddle};
  words.halo = true;
  sheet.items.emplace_back(std::move(words));
}

}  // namespace

Sheet reach_sheet(const Dossier& dossier, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "How far each footing may move", {}};
  const auto& supports = dossier.brief.plan.supports;
  Extent extent;
  for (const Vec2& p : dossier.brief.plan.outline) extent.add(p);
  const Vec2 box(size.width_mm - 2 * kMargin - 2 * kStar - 40,
                 size.height_mm - 2 * kMargin - 2 * kStar - kTitle - 14);
  const SheetMap map = fit(extent, {kMargin + kStar + 20, kMargin + kStar + kTitle + 8}, box);
  sheet.path(map(dossier.brief.plan.outline), true, {Colour{238, 236, 230}, kGrey, 0.2});
  double most = 0;
  for (const FootingReach& r : dossier.reach) {
    if (!r.is_turn) most = std::max(most, r.opens);
  }
  if (!(most > 0) || !dossier.cut) return sheet;
  const auto& blocks = dossier.cut->assembly.blocks;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    const int arm = blocks[b].place.arm;
    const FootingReach* out = find(dossier.reach, static_cast<int>(b), "outward");
    if (!blocks[b].fixed || arm < 0 || out == nullptr) continue;
    const Support& support = supports[static_cast<std::size_t>(arm)];
    const Vec2 middle = (support.a + support.b) / 2;
    sheet.line(map(support.a), map(support.b), {std::nullopt, kBlack, 0.8});
    for (const char* way : {"outward", "inward", "left", "right"}) {
      const FootingReach* r = find(dossier.reach, static_cast<int>(b), way);
      if (r == nullptr) continue;
      const Vec2 d = r->unit.shift.head<2>().normalized();
      add_ray(sheet, map(middle), {{d.x(), -d.y()}, r->opens, r->opens_beyond}, most, kThrust);
    }
    std::string text = support.id;
    for (const char* way : {"up", "down"}) {
      const FootingReach* r = find(dossier.reach, static_cast<int>(b), way);
      if (r == nullptr) continue;
      text += std::string(", ") + way + " " + (r->opens_beyond ? "> " : "") +
              fixed(1000 * r->opens, r->opens < 0.01 ? 1 : 0);
    }
    const Vec2 out_way = out->unit.shift.head<2>().normalized();
    const Vec2 beyond = map(middle) + (kStar + 9) * Vec2(out_way.x(), -out_way.y());
    Words words{beyond + Vec2(0, 1), text, 2.5, Anchor::kMiddle, true};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
  sheet.words({kMargin, kMargin + 3},
              "Millimetres until the first joint opens, weight alone; length of an arrow as the "
              "square root.",
              2.4);
  return sheet;
}

}  // namespace skewback::deliver
