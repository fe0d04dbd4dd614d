#include <algorithm>
#include <array>
#include <cmath>

#include "brief/meetings.hpp"
#include "deliver/drawings.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8;

int node_at_meeting(const Dossier& dossier) {
  const Vec2 meeting = meetings(dossier.brief.plan).empty() ? meeting_point(dossier)
                                                            : meetings(dossier.brief.plan).front();
  const Form& form = *dossier.form;
  int best = -1;
  double least = 1e300;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    const double d = (form.vertices[v].head<2>() - meeting).squaredNorm();
    const bool is_free = form.support_of[v] < 0 && form.free_edge_of[v] < 0;
    if (is_free && d < least) {
      least = d;
      best = static_cast<int>(v);
    }
  }
  return best;
}

double round_step(double target) {  // 1, 2 or 5 times a power of ten, at most the target
  const double base = std::pow(10.0, std::floor(std::log10(target)));
  const double lead = target / base;
  return base * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
}

struct ForceMap {
  double mm_per_n = 1;
  Vec2 corner = Vec2::Zero();
  Vec2 operator()(const Vec2& f) const {
    return {corner.x() + mm_per_n * f.x(), corner.y() - mm_per_n * f.y()};
  }
};

ForceMap fit_forces(const Extent& extent, const SheetSize& size) {
  const Vec2 box(size.width_mm - 2 * kMargin - 20, size.height_mm - 2 * kMargin - 34);
  const Vec2 span = extent.size().cwiseMax(1e-9);
  ForceMap map;
  map.mm_per_n = std::min(box.x() / span.x(), box.y() / span.y());
  const Vec2 middle = (extent.low + extent.high) / 2;
  map.corner = {size.width_mm / 2 - map.mm_per_n * middle.x(),
                kMargin + 14 + box.y() / 2 + map.mm_per_n * middle.y()};
  return map;
}

// Numbers stand outside the polygon; of forces too short to be named only the count is told.
void add_polygon(Sheet& sheet, const std::vector<Vec2>& corners, const ForceMap& map) {
  const double outside = area(Polygon(corners.begin(), corners.end() - 1)) < 0 ? -1 : 1;
  int unnamed = 0;
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    const Vec2 a = map(corners[i]), b = map(corners[i + 1]), along = b - a;
    sheet.arrow(a, b, {std::nullopt, arm_colour(4), 0.4}, 2.2);
    if (along.norm() < 4) {
      ++unnamed;
      continue;
    }
    const Vec2 out = outside * Vec2(-along.y(), along.x()) / along.norm();
    const double kn = (corners[i + 1] - corners[i]).norm() / 1000;
    Words words{(a + b) / 2 + Vec2(7 * out.x(), 3 * out.y() + 0.8),
                std::to_string(i + 1) + ": " + fixed(kn, 2), 2.2, Anchor::kMiddle};
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
  if (unnamed == 0) return;
  sheet.words({kMargin, kMargin + 13},
              "Forces too small to be named: " + std::to_string(unnamed) + ".", 2.4);
}

void add_force_bar(Sheet& sheet, const ForceMap& map, const Vec2& at) {
  const double step = round_step(40 / map.mm_per_n);
  const double w = step * map.mm_per_n;
  sheet.line(at, at + Vec2(w, 0), {std::nullopt, kBlack, 0.5});
  sheet.words(at + Vec2(w + 2, 0.8),
              fixed(step / 1000, step < 100    ? 3
                                 : step < 1000 ? 1
                                               : 0) +
                  " kN",
              2.4);
}

}  // namespace

Sheet force_polygon_sheet(const Dossier& dossier, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "", {}};
  sheet.title = dossier.brief.title + ": force polygon at the " +
                (dossier.brief.plan.second_meeting ? "first meeting" : "meeting");
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  const int node = dossier.form ? node_at_meeting(dossier) : -1;
  if (node < 0) {
    sheet.words({kMargin, kMargin + 12}, "The form has no free node at the meeting.");
    return sheet;
  }
  const ForcePolygon polygon = force_polygon(*dossier.form, node);
  std::vector<Vec2> corners = {Vec2::Zero()};
  Extent extent;
  extent.add(corners[0]);
  for (const Vec3& force : polygon.forces) {
    if (force.head<2>().norm() <= 1e-9 * force.norm()) continue;  // the load is a point in plan
    corners.emplace_back(corners.back() + force.head<2>());
    extent.add(corners.back());
  }
  const Vec3& at = dossier.form->vertices[static_cast<std::size_t>(node)];
  sheet.words({kMargin, kMargin + 9},
              "Horizontal forces of the net on node " + std::to_string(node) + " at (" +
                  fixed(at.x(), 3) + ", " + fixed(at.y(), 3) + ", " + fixed(at.z(), 3) +
                  ") m, head to tail, in kN.",
              2.4);
  const ForceMap map = fit_forces(extent, size);
  add_polygon(sheet, corners, map);
  const double gap = corners.back().norm();
  sheet.words({kMargin, size.height_mm - kMargin - 6},
              "Closing error: " + scientific(gap) + " N in plan, " +
                  scientific(polygon.closure_rel) + " of the forces in space.",
              2.4);
  add_force_bar(sheet, map, {kMargin, size.height_mm - kMargin});
  return sheet;
}

Sheet colour_sheet(const Dossier& dossier, double width_mm) {
  Sheet sheet{width_mm, 5, "Colours", {}};
  double x = 0;
  const auto add = [&](const std::string& name, Colour colour) {
    sheet.path({{x, 1}, {x + 4, 1}, {x + 4, 4}, {x, 4}}, true, {colour, kBlack, 0.15});
    sheet.words({x + 5.5, 3.6}, name, 2.8);
    x += 10 + 1.9 * static_cast<double>(name.size());
  };
  const auto& supports = dossier.brief.plan.supports;
  for (std::size_t k = 0; k < supports.size(); ++k) {
    add(supports[k].id, arm_colour(static_cast<int>(k)));
  }
  add("key", kKey);
  add("ground", kGround);
  return sheet;
}

Sheet mass_sheet(const Dossier& dossier, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, "Masses of the blocks", {}};
  const BlockTotals t = dossier.cut ? totals(dossier.cut->assembly) : BlockTotals{};
  if (t.blocks == 0) return sheet;
  const double limit = dossier.brief.blocks.mass_max_kg;
  const double step = round_step(std::max(t.mass_max_kg, limit) / 8);
  const auto bins = static_cast<std::size_t>(std::max(t.mass_max_kg, limit) / step) + 1;
  std::vector<int> counts(bins, 0);
  for (const Block& block : dossier.cut->assembly.blocks) {
    if (!block.fixed) ++counts[static_cast<std::size_t>(concrete_mass_kg(block) / step)];
  }
  const int most = *std::ranges::max_element(counts);
  const double left = 8, floor = size.height_mm - 9, width = size.width_mm - 2 * left;
  const double w = width / static_cast<double>(bins), h = (floor - 8) / most;
  for (std::size_t i = 0; i < bins; ++i) {
    const double x = left + w * static_cast<double>(i), top = floor - h * counts[i];
    const bool over = step * static_cast<double>(i) >= limit;
    if (counts[i] > 0) {
      sheet.path({{x + 0.4, floor}, {x + w - 0.4, floor}, {x + w - 0.4, top}, {x + 0.4, top}}, true,
                 {over ? kThrust : arm_colour(0), kBlack, 0.15});
      sheet.words({x + w / 2, top - 0.8}, std::to_string(counts[i]), 2.2, Anchor::kMiddle);
    }
  }
  for (std::size_t i = 0; i <= bins; ++i) {
    sheet.words({left + w * static_cast<double>(i), floor + 3},
                fixed(step * static_cast<double>(i), 0), 2.2, Anchor::kMiddle);
  }
  sheet.line({left, floor}, {left + width, floor}, {std::nullopt, kBlack, 0.25});
  const double x = left + limit / step * w;
  sheet.line({x, floor}, {x, 4}, {std::nullopt, kThrust, 0.35, 1.2});
  sheet.words({x - 1, 4}, "limit " + fixed(limit, 0) + " kg", 2.2, Anchor::kEnd);
  sheet.words({left + width / 2, size.height_mm - 1}, "concrete in a block, kg", 2.2,
              Anchor::kMiddle);
  return sheet;
}

}  // namespace skewback::deliver
