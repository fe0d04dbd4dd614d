// How well strips of the beads' width cover a section, measured along parallel lines.
#include <algorithm>
#include <cmath>
#include <limits>

#include "print/fill.hpp"
#include "print/fill_parts.hpp"

namespace skewback {
namespace {

struct Event {
  double x;
  int section, beads;  // change of the count when x grows
};

class Lines {
 public:
  Lines(double low, double high, double spacing)
      : low_(low),
        spacing_(spacing),
        rows_(static_cast<std::size_t>(std::max(1.0, std::ceil((high - low) / spacing)))) {}

  /// Lines that cross between y0 and y1: the middle of each row counts.
  template <class Each>
  void between(double y0, double y1, const Each& each) {
    const double last = static_cast<double>(rows_.size()) - 1;
    const double from = std::max(0.0, std::ceil((y0 - low_) / spacing_ - 0.5)),
                 to = std::min(last, std::ceil((y1 - low_) / spacing_ - 0.5) - 1);
    for (double r = from; r <= to; r += 1) {
      each(rows_[static_cast<std::size_t>(r)], low_ + (r + 0.5) * spacing_);
    }
  }
  void outline(const Polygon& p) {
    for (std::size_t i = 0; i < p.size(); ++i) {
      Vec2 a = p[i], b = p[(i + 1) % p.size()];
      const int sense = a.y() > b.y() ? 1 : -1;  // inside lies left: enters where it runs down
      if (sense > 0) std::swap(a, b);
      between(a.y(), b.y(), [&](std::vector<Event>& row, double y) {
        row.push_back({a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x()), sense, 0});
      });
    }
  }
  void quad(const std::array<Vec2, 4>& q) {
    double y0 = q[0].y(), y1 = y0;
    for (const Vec2& p : q) y0 = std::min(y0, p.y()), y1 = std::max(y1, p.y());
    between(y0, y1, [&](std::vector<Event>& row, double y) {
      double from = std::numeric_limits<double>::max(), to = -from;
      for (std::size_t i = 0; i < 4; ++i) {
        const Vec2 &a = q[i], &b = q[(i + 1) % 4];
        if ((a.y() < y) == (b.y() < y)) continue;
        const double x = a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
        from = std::min(from, x), to = std::max(to, x);
      }
      if (from >= to) return;
      row.push_back({from, 0, 1});
      row.push_back({to, 0, -1});
    });
  }
  Cover sum() {
    Cover cover;
    for (std::vector<Event>& row : rows_) {
      std::sort(row.begin(), row.end(), [](const Event& a, const Event& b) { return a.x < b.x; });
      int section = 0, beads = 0;
      for (std::size_t i = 0; i + 1 < row.size(); ++i) {
        section += row[i].section, beads += row[i].beads;
        const double area = (row[i + 1].x - row[i].x) * spacing_;
        if (section > 0 && beads == 0) cover.gap_m2 += area;
        if (section > 0 && beads > 1) cover.twice_m2 += area;
        if (section <= 0 && beads > 0) cover.outside_m2 += area;
      }
    }
    return cover;
  }

 private:
  double low_, spacing_;
  std::vector<std::vector<Event>> rows_;
};

/// Sideways at a point of a path, so long that strips of neighbours meet on their mitre.
Vec2 mitre(const Vec2& before, const Vec2& at, const Vec2& after) {
  const Vec2 a = (at - before).normalized(), b = (after - at).normalized();
  const Vec2 sum = filling::left_of(a) + filling::left_of(b);
  return sum.norm() < 0.5 ? filling::left_of(b) : Vec2(2 * sum / sum.squaredNorm());
}

}  // namespace

Cover measure_cover(const Region& section, const std::vector<Stroke>& strokes, double line_m) {
  double low = std::numeric_limits<double>::max(), high = -low;
  for (const Vec2& p : section.outer) low = std::min(low, p.y()), high = std::max(high, p.y());
  if (section.outer.size() < 3) return {};
  constexpr double kMargin = 0.05;
  Lines lines(low - kMargin, high + kMargin, line_m);
  lines.outline(section.outer);
  for (const Polygon& hole : section.holes) lines.outline(hole);
  for (const Stroke& stroke : strokes) {
    const auto& p = stroke.points;
    const std::size_t n = p.size();
    if (n < 2) continue;
    std::vector<Vec2> sideways(n);
    for (std::size_t i = 0; i < n; ++i) {
      const bool first = !stroke.closed && i == 0, last = !stroke.closed && i + 1 == n;
      const Vec2 before = first ? Vec2(2 * p[0].p - p[1].p) : p[(i + n - 1) % n].p;
      const Vec2 after = last ? Vec2(2 * p[i].p - p[i - 1].p) : p[(i + 1) % n].p;
      sideways[i] = mitre(before, p[i].p, after);
    }
    for (std::size_t i = 0; i + (stroke.closed ? 0 : 1) < n; ++i) {
      const std::size_t j = (i + 1) % n;
      const double half = p[i].share_m / 2;
      lines.quad({p[i].p + half * sideways[i], p[i].p - half * sideways[i],
                  p[j].p - half * sideways[j], p[j].p + half * sideways[j]});
    }
  }
  return lines.sum();
}

}  // namespace skewback
