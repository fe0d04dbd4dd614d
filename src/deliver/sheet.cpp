#include "deliver/sheet.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {

void Sheet::line(const Vec2& a, const Vec2& b, const Pen& pen) { path({a, b}, false, pen); }

void Sheet::path(const std::vector<Vec2>& points, bool is_closed, const Pen& pen) {
  items.emplace_back(Shape{{points}, is_closed, pen});
}

void Sheet::regions(const Regions& regions, const Pen& pen) {
  for (const Region& region : regions) {
    Shape shape{{region.outer}, true, pen};
    for (const Polygon& hole : region.holes) shape.rings.push_back(hole);
    items.emplace_back(std::move(shape));
  }
}

void Sheet::dot(const Vec2& centre, double radius_mm, const Pen& pen) {
  std::vector<Vec2> ring;
  constexpr int kCorners = 16;
  for (int i = 0; i < kCorners; ++i) {
    const double angle = 2 * kPi * i / kCorners;
    ring.push_back(centre + radius_mm * Vec2(std::cos(angle), std::sin(angle)));
  }
  path(ring, true, pen);
}

void Sheet::arrow(const Vec2& from, const Vec2& to, const Pen& pen, double head_mm) {
  const double length = (to - from).norm();
  if (!(length > 0)) return;
  const Vec2 along = (to - from) / length;
  const double head = std::min(head_mm, length);
  const Vec2 neck = to - head * along, side = 0.3 * head * Vec2(-along.y(), along.x());
  line(from, neck, pen);
  path({to, neck + side, neck - side}, true, {pen.line, std::nullopt});
}

void Sheet::words(const Vec2& at, const std::string& text, double size_mm, Anchor anchor) {
  items.emplace_back(Words{at, text, size_mm, anchor});
}

void paste(Sheet& page, const Sheet& part, const Vec2& corner) {
  for (const auto& item : part.items) {
    auto moved = item;
    if (auto* shape = std::get_if<Shape>(&moved)) {
      for (auto& ring : shape->rings)
        for (Vec2& p : ring) p += corner;
    } else {
      std::get<Words>(moved).at += corner;
    }
    page.items.push_back(std::move(moved));
  }
}

std::vector<Vec2> SheetMap::operator()(const std::vector<Vec2>& line) const {
  std::vector<Vec2> out;
  for (const Vec2& p : line) out.push_back((*this)(p));
  return out;
}

Regions SheetMap::operator()(const Regions& regions) const {
  Regions out;
  for (const Region& region : regions) {
    Region moved{(*this)(region.outer), {}};
    for (const Polygon& hole : region.holes) moved.holes.push_back((*this)(hole));
    out.push_back(std::move(moved));
  }
  return out;
}

std::string SheetMap::scale() const { return "1:" + fixed(1000 / mm_per_m, 0); }

SheetMap fit(const Extent& extent, const Vec2& box_at, const Vec2& box_size) {
  constexpr std::array<double, 16> kScales = {1,  2,  5,  10,  15,  20,  25,  30,
                                              40, 50, 75, 100, 150, 200, 500, 1000};
  const Vec2 size = extent.size().cwiseMax(1e-6);
  double scale = kScales.back();
  for (const double s : kScales) {
    if (size.x() * 1000 / s <= box_size.x() && size.y() * 1000 / s <= box_size.y()) {
      scale = s;
      break;
    }
  }
  SheetMap map;
  map.mm_per_m = 1000 / scale;
  const Vec2 middle = (extent.low + extent.high) / 2;
  map.corner = {box_at.x() + box_size.x() / 2 - map.mm_per_m * middle.x(),
                box_at.y() + box_size.y() / 2 + map.mm_per_m * middle.y()};
  return map;
}

void add_scale_bar(Sheet& sheet, const SheetMap& map, const Vec2& at) {
  constexpr std::array<double, 7> kSteps = {0.05, 0.1, 0.2, 0.5, 1, 2, 5};
  double step = 10;
  for (const double s : kSteps) {
    if (s * map.mm_per_m >= 8) {
      step = s;
      break;
    }
  }
  const double w = step * map.mm_per_m;
  constexpr int kParts = 4;
  for (int i = 0; i < kParts; ++i) {
    const double x = at.x() + i * w;
    sheet.path({{x, at.y()}, {x + w, at.y()}, {x + w, at.y() + 1.2}, {x, at.y() + 1.2}}, true,
               {i % 2 == 0 ? kBlack : Colour{255, 255, 255}, kBlack, 0.15});
  }
  for (int i = 0; i <= kParts; i += 2) {
    sheet.words({at.x() + i * w, at.y() - 0.8}, fixed(i * step, step < 0.5 ? 1 : 0), 2.2,
                Anchor::kMiddle);
  }
  sheet.words({at.x() + kParts * w + 3, at.y() + 1.2}, "m, " + map.scale(), 2.2);
}

}  // namespace skewback::deliver
