#include <algorithm>
#include <cmath>
#include <limits>

#include "centring/rib_lines.hpp"

namespace skewback {
namespace {

constexpr double kBeside =
    0.06;  // m; a station may run along a pad, so its sides are looked at too

constexpr double kClosing = 0.35;  // of its mean width, that a fan closes over a leg's length, most

struct Station {
  double s, low, high;
};

std::vector<Station> stations(const Fan& fan, const Soffits& all, const std::vector<char>& counts,
                              double step) {
  const int n = std::max(2, static_cast<int>((fan.to - fan.from) / step));
  std::vector<Station> out;
  for (int i = 0; i <= n; ++i) {
    // inside the ends, where springing and last joint may run askew
    const double s = fan.from + (fan.to - fan.from) * (0.06 + 0.88 * i / n);
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const double off : {-kBeside, 0.0, kBeside}) {
      const PlanLine across{fan.foot + (s + off) * fan.axis, fan.across()};
      for (const Span& span : spans_over(all, across)) {
        if (counts[static_cast<std::size_t>(span.block)] == 0) continue;
        low = std::min(low, span.from);
        high = std::max(high, span.to);
      }
    }
    if (high > low) out.push_back({s, low, high});
  }
  // nor where the station cuts no more than a corner of the leg
  std::vector<double> widths;
  for (const Station& c : out) widths.push_back(c.high - c.low);
  std::ranges::sort(widths);
  std::erase_if(out,
                [&](const Station& c) { return c.high - c.low < widths[widths.size() / 2] / 2; });
  return out;
}

/// Straight line {a, b}, a + b s, under all points and highest at the mean of their s: the edge
/// over it of their lower hull.
Vec2 line_under(const std::vector<Vec2>& points) {
  double mean = 0;
  for (const Vec2& p : points) mean += p.x() / static_cast<double>(points.size());
  std::vector<Vec2> hull;
  for (const Vec2& p : points) {
    while (hull.size() >= 2) {
      const Vec2 u = hull.back() - hull[hull.size() - 2], v = p - hull.back();
      if (u.x() * v.y() - u.y() * v.x() > 0) break;
      hull.pop_back();
    }
    hull.push_back(p);
  }
  std::size_t i = 1;
  while (i + 1 < hull.size() && hull[i].x() < mean) ++i;
  const double b = (hull[i].y() - hull[i - 1].y()) / (hull[i].x() - hull[i - 1].x());
  return {hull[i].y() - b * hull[i].x(), b};
}

/// The same line as near as may be with another slope, under all points.
Vec2 line_under(const std::vector<Vec2>& points, double slope) {
  double a = std::numeric_limits<double>::infinity();
  for (const Vec2& p : points) a = std::min(a, p.y() - slope * p.x());
  return {a, slope};
}

// Ribs that close up too much stand foot on foot past the leg's end.
void close_less(const std::vector<Vec2>& high, const std::vector<Vec2>& low, Fan& fan) {
  const double middle = (fan.from + fan.to) / 2;
  const double most = kClosing * fan.width(middle) / (fan.to - fan.from);
  const double closing = fan.low.y() - fan.high.y();
  if (closing <= most) return;
  const double less = (closing - most) / 2;
  fan.high = line_under(high, fan.high.y() + less);
  fan.low = -line_under(low, -(fan.low.y() - less));
}

}  // namespace

std::optional<Fan> fan_over(const Vec2& foot, const Vec2& towards, const Soffits& all,
                            const std::vector<char>& counts, double inset) {
  Fan fan;
  fan.foot = foot;
  fan.axis = (towards - foot).normalized();
  fan.from = std::numeric_limits<double>::infinity();
  fan.to = -fan.from;
  for (std::size_t b = 0; b < all.size(); ++b) {
    if (counts[b] == 0) continue;
    for (const SoffitFace& face : all[b]) {
      for (const Vec3& corner : face.corners) {
        const double s = (corner.head<2>() - foot).dot(fan.axis);
        fan.from = std::min(fan.from, s);
        fan.to = std::max(fan.to, s);
      }
    }
  }
  if (!(fan.to - fan.from > 0.1)) return std::nullopt;
  const std::vector<Station> cut = stations(fan, all, counts, 0.1);
  if (cut.size() < 2) return std::nullopt;
  std::vector<Vec2> high, low;
  for (const Station& c : cut) {
    const double in = std::min(inset, (c.high - c.low) / 8);
    high.emplace_back(c.s, c.high - in);
    low.emplace_back(c.s, -(c.low + in));
  }
  fan.high = line_under(high);
  fan.low = -line_under(low);
  close_less(high, low, fan);
  // a leg that narrows to a point would cross its lines
  if (fan.width(fan.from) < 0.05 || fan.width(fan.to) < 0.05) {
    const Vec2 middle = (fan.high + fan.low) / 2;
    double half = std::numeric_limits<double>::infinity();
    for (const Station& c : cut) {
      const double v = middle.x() + c.s * middle.y();
      half = std::min({half, 0.75 * (c.high - v), 0.75 * (v - c.low)});
    }
    if (!(half > 0)) return std::nullopt;
    fan.high = middle + Vec2(half, 0);
    fan.low = middle - Vec2(half, 0);
  }
  return fan;
}

}  // namespace skewback
