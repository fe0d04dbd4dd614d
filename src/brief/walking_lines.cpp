#include "brief/walking_lines.hpp"

#include <algorithm>
#include <cmath>

#include "brief/checks.hpp"
#include "brief/meetings.hpp"
#include "brief/outline.hpp"

namespace skewback {

bool passes_over_an_opening(const std::vector<Vec2>& line, const Plan& plan) {
  if (line.size() < 2) return false;
  for (const Polygon& opening : plan.openings)
    if (area(intersect(strip_along(line, 2 * kOn), {{{opening.rbegin(), opening.rend()}, {}}})) >
        1e-6)
      return true;
  return false;
}

namespace {

/// How far from p along a unit way the outline is.
double room(const Polygon& outline, const Vec2& p, const Vec2& way) {
  double least = HUGE_VAL;
  const Vec2 across(-way.y(), way.x());
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i] - p, b = outline[(i + 1) % outline.size()] - p;
    const double sa = a.dot(across), sb = b.dot(across);
    if ((sa > 0) == (sb > 0)) continue;
    const double far = (a + sa / (sa - sb) * (b - a)).dot(way);
    if (far > 0) least = std::min(least, far);
  }
  return least;
}

/// A straight way up a leg, led round an opening in it: past the middle of what is left on its
/// wider side. A way over an eye is left to be refused.
std::vector<Vec2> round_opening(const Vec2& from, const Vec2& to, const Plan& plan) {
  for (const Polygon& opening : plan.openings) {
    Plan alone;
    alone.openings = {opening};
    if (!passes_over_an_opening({from, to}, alone)) continue;
    if (inside(opening, plan.meeting ? *plan.meeting : found_meeting(plan))) continue;
    const Vec2 way = (to - from).normalized(), left(-way.y(), way.x());
    const auto least = [&](const Vec2& d) -> Vec2 {
      return *std::min_element(opening.begin(), opening.end(),
                               [&](const Vec2& a, const Vec2& b) { return d.dot(a) < d.dot(b); });
    };
    const Vec2 right_most = least(left), left_most = least(-left);
    const double on_right = room(plan.outline, right_most, -left),
                 on_left = room(plan.outline, left_most, left);
    const double aside = on_left > on_right ? left.dot(left_most - from) + on_left / 2
                                            : left.dot(right_most - from) - on_right / 2;
    const auto beside = [&](const Vec2& p) -> Vec2 {
      return from + way.dot(p - from) * way + aside * left;
    };
    return {from, beside(least(way)), beside(least(-way)), to};
  }
  return {from, to};
}

}  // namespace

std::vector<std::vector<Vec2>> default_walking_lines(const Plan& plan) {
  const auto middle = [](const Support& s) -> Vec2 { return 0.5 * (s.a + s.b); };
  const std::size_t n = plan.supports.size();
  const bool whole = plan.free_edges.size() == n;
  std::vector<std::vector<Vec2>> lines;
  Plan met = plan;
  if (!plan.meeting && n > 2 && whole) met.meeting = found_meeting(plan);
  if (met.meeting) {
    for (std::size_t k = 0; k < n; ++k)
      lines.push_back(round_opening(middle(plan.supports[k]), *meeting_of(met, k), met));
    if (plan.second_meeting) lines.push_back({*plan.meeting, *plan.second_meeting});
  } else if (n == 2) {
    const Vec2 a = middle(plan.supports[0]), b = middle(plan.supports[1]);
    lines.push_back(whole ? round_opening(a, b, plan) : std::vector<Vec2>{a, b});
  }
  return lines;
}

}  // namespace skewback
