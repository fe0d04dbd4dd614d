#include <algorithm>

#include "brief/tie_lines.hpp"
#include "deliver/report_ground.hpp"

namespace skewback::deliver {
namespace {

constexpr Colour kRod{0, 114, 178}, kDrawn{150, 150, 150};

Vec2 middle(const Support& s) { return (s.a + s.b) / 2; }

Polygon plan_of(const Support& s, const FootingSize& size) {
  const Vec2 along = (s.b - s.a).normalized(), out(along.y(), -along.x());
  const Vec2 half = size.length_m / 2 * along, m = middle(s);
  return {m - half - size.inner_m * out, m - half + size.outer_m * out,
          m + half + size.outer_m * out, m + half - size.inner_m * out};
}

Polygon footing_of(const Brief& brief, const Groundworks& ground, const Support& s) {
  const auto f = std::ranges::find(ground.footings, s.id, &FootingReport::id);
  return f == ground.footings.end() ? footing_plan(s, brief.ground) : plan_of(s, f->size);
}

void add_tie(Sheet& sheet, const SheetMap& map, const Brief& brief, const Tie& tie,
             const Layout& best) {
  const auto& supports = brief.plan.supports;
  const Vec2 from = middle(supports[static_cast<std::size_t>(tie.from)]);
  const Vec2 to = middle(supports[static_cast<std::size_t>(tie.to)]);
  const Vec2 along = (to - from).normalized(), across(-along.y(), along.x());
  const auto laid = std::ranges::find(best.ties, tie.id, &LaidTie::id);
  const bool used = laid != best.ties.end();
  for (int k = 0; k < tie.rods; ++k) {
    const double share = tie.rods > 1 ? static_cast<double>(k) / (tie.rods - 1) - 0.5 : 0;
    const Vec2 shift = share * tie.spacing_m * across;
    sheet.line(map(from + shift), map(to + shift),
               {std::nullopt, used ? kRod : kDrawn, used ? 0.5 : 0.25, used ? 0.0 : 2.0});
  }
  if (!used) return;
  Words words{map((from + to) / 2), tie.id + " " + std::to_string(tie.rods) + " " + laid->thread,
              2.5, Anchor::kMiddle};
  words.halo = true;
  sheet.items.emplace_back(std::move(words));
}

}  // namespace

Sheet feet_plan(const Brief& brief, const Groundworks& ground, double width_mm, double height_mm) {
  Sheet sheet{width_mm, height_mm, "Footings and ties", {}};
  Extent extent;
  std::vector<Polygon> footings;
  for (const Support& s : brief.plan.supports) {
    footings.push_back(footing_of(brief, ground, s));
    for (const Vec2& p : footings.back()) extent.add(p);
  }
  if (extent.empty()) return sheet;
  const SheetMap map = fit(extent, {6, 6}, {width_mm - 12, height_mm - 22});
  for (const Polygon& f : footings) sheet.path(map(f), true, {kGround, kBlack, 0.2, 0, 0.6});
  std::vector<Tie> ties = ground.laid.empty() ? brief.ground.ties : ground.laid;
  for (const Tie& tie : ground.laid)
    if (std::ranges::find(ties, tie.id, &Tie::id) == ties.end()) ties.push_back(tie);
  for (const Tie& tie : ties)
    add_tie(sheet, map, brief, tie, ground.layout.best.value_or(Layout{}));
  for (const Support& s : brief.plan.supports) {
    sheet.line(map(s.a), map(s.b), {std::nullopt, kBlack, 0.6});
    Words name{map(middle(s)) + Vec2(0, 4), s.id, 3, Anchor::kMiddle, true};
    name.halo = true;
    sheet.items.emplace_back(std::move(name));
  }
  add_scale_bar(sheet, map, {6, height_mm - 8});
  return sheet;
}

}  // namespace skewback::deliver
