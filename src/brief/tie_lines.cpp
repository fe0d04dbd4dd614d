#include "brief/tie_lines.hpp"

#include <algorithm>

namespace skewback {
namespace {

constexpr double kTouch = 1e-6;  // m

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

/// Whether a segment has more than a touch inside a convex polygon (counter-clockwise): what each
/// side leaves of it (Cyrus and Beck 1978).
bool runs_through(const Polygon& polygon, const Vec2& from, const Vec2& to) {
  const Vec2 run = to - from;
  double enter = 0, leave = 1;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2& a = polygon[i];
    const Vec2 side = (polygon[(i + 1) % polygon.size()] - a).normalized();
    const double at = cross(side, from - a) - kTouch, rate = cross(side, run);
    if (std::abs(rate) < 1e-15) {
      if (at < 0) return false;
    } else if (rate > 0) {
      enter = std::max(enter, -at / rate);
    } else {
      leave = std::min(leave, -at / rate);
    }
  }
  return (leave - enter) * run.norm() > kTouch;
}

}  // namespace

Polygon footing_plan(const Support& support, const GroundRequest& ground) {
  const Vec2 along = (support.b - support.a).normalized(), out(along.y(), -along.x());
  const Vec2 a = support.a - ground.footing_length_m * along;
  const Vec2 b = support.b + ground.footing_length_m * along;
  return {a, a + ground.footing_width_m * out, b + ground.footing_width_m * out, b};
}

std::vector<std::string> crossed_footings(const std::vector<Support>& supports,
                                          const GroundRequest& ground, const Tie& tie) {
  const auto middle = [&](int s) -> Vec2 { return (supports[s].a + supports[s].b) / 2; };
  const Vec2 from = middle(tie.from), to = middle(tie.to);
  const Vec2 along = (to - from).normalized(), across(-along.y(), along.x());
  std::vector<std::string> out;
  for (int s = 0; s < static_cast<int>(supports.size()); ++s) {
    if (s == tie.from || s == tie.to) continue;
    const Polygon plan = footing_plan(supports[s], ground);
    bool crossed = false;
    for (int k = 0; k < tie.rods; ++k) {
      const double share = tie.rods > 1 ? static_cast<double>(k) / (tie.rods - 1) - 0.5 : 0.0;
      const Vec2 shift = share * tie.spacing_m * across;
      crossed = crossed || runs_through(plan, from + shift, to + shift);
    }
    if (crossed) out.push_back(supports[s].id);
  }
  return out;
}

}  // namespace skewback
