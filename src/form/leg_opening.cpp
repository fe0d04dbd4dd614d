#include "form/leg_opening.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "brief/meetings.hpp"
#include "form/mesh.hpp"
#include "form/opening.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr double kBlunt = 0.01;              // of an opening's length: what counts as its end
constexpr double kTipTurn = 20 * kPi / 180;  // a turn that is a corner, not a sample of a curve
constexpr double kOnRidge = 1e-6;            // m

Vec2 meeting_of_leg(const Plan& plan, std::size_t leg) {
  return plan.second_meeting ? *meeting_of(plan, leg) : meeting_point(plan);
}

// Arc length of the end of a convex loop that lies furthest in a direction.
double tip(const std::vector<Vec2>& loop, const Vec2& way) {
  const std::size_t n = loop.size() - 1;
  double most = -HUGE_VAL, least = HUGE_VAL;
  for (const Vec2& p : loop) most = std::max(most, way.dot(p)), least = std::min(least, way.dot(p));
  const double limit = most - kBlunt * (most - least), whole = length(loop);
  double from = 0, to = 0, s = 0, corner = 0;  // where the loop passes the limit, and comes back
  int corners = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 side = loop[i + 1] - loop[i], before = loop[i] - loop[(i + n - 1) % n];
    const double a = way.dot(loop[i]), b = way.dot(loop[i + 1]);
    const double turn = std::atan2(before.x() * side.y() - before.y() * side.x(), before.dot(side));
    if (a > limit && turn > kTipTurn) ++corners, corner = s;
    if (a < limit && b >= limit) from = s + (limit - a) / (b - a) * side.norm();
    if (a >= limit && b < limit) to = s + (limit - a) / (b - a) * side.norm();
    s += side.norm();
  }
  if (corners == 1) return corner;
  if (to < from) to += whole;
  return std::fmod(0.5 * (from + to), whole);
}

void follow(const std::vector<Vec2>& line, double from, double to, Polygon& out) {
  out.push_back(point_at(line, from));
  double s = 0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    s += (line[i] - line[i - 1]).norm();
    if (s > from && s < to) out.push_back(line[i]);
  }
  out.push_back(point_at(line, to));
}

}  // namespace

std::pair<Vec2, Vec2> leg_axis(const Plan& plan, std::size_t leg) {
  return {0.5 * (plan.supports[leg].a + plan.supports[leg].b), meeting_of_leg(plan, leg)};
}

std::vector<Vec2> side_of(const LegOpening& opening, bool right, int steps) {
  const double from = right ? opening.low : opening.high, to = right ? opening.high : opening.low;
  const double run = to > from ? to - from : to - from + length(opening.loop);
  std::vector<Vec2> points = along_loop(opening.loop, from, run, steps);
  if (!right) std::reverse(points.begin(), points.end());
  return points;
}

Polygon leg_outline(const Plan& plan, std::size_t leg) {
  const std::size_t n = plan.supports.size();
  const Vec2 meeting = meeting_of_leg(plan, leg);
  const auto waist = [&](const std::vector<Vec2>& line) {
    return n == 2 ? 0.5 * length(line) : nearest(line, meeting).s;
  };
  const std::vector<Vec2>&before = plan.free_edges[(leg + n - 1) % n].line,
        &after = plan.free_edges[leg].line;
  Polygon out{meeting};
  follow(before, waist(before), length(before), out);
  follow(after, 0, waist(after), out);
  return out;
}

std::vector<LegOpening> leg_openings(const Plan& plan) {
  std::vector<LegOpening> out;
  const auto eye = eye_of(plan);
  for (std::size_t k = 0; k < plan.openings.size(); ++k) {
    if (k == eye) continue;
    LegOpening found;
    found.opening = k;
    found.loop = loop_of(plan.openings[k]);
    const Vec2 middle = centroid(Region{{found.loop.begin(), found.loop.end() - 1}, {}});
    double best = HUGE_VAL;
    for (std::size_t leg = 0; leg < plan.supports.size(); ++leg) {
      const auto [foot, end] = leg_axis(plan, leg);
      const bool inside = contains({leg_outline(plan, leg), {}}, middle);
      const double far = nearest({foot, end}, middle).distance - (inside ? 1e6 : 0);
      if (far < best) best = far, found.leg = leg;
    }
    const auto [foot, end] = leg_axis(plan, found.leg);
    const Vec2 way = (end - foot).normalized();
    found.low = tip(found.loop, -way);
    found.high = tip(found.loop, way);
    out.push_back(std::move(found));
  }
  return out;
}

OutOfLeg out_of_leg(const Plan& plan, const LegOpening& opening) {
  const Region leg{leg_outline(plan, opening.leg), {}};
  std::vector<Vec2> rim = leg.outer;
  rim.push_back(rim.front());
  OutOfLeg worst;
  for (const Vec2& p : opening.loop) {
    if (contains(leg, p)) continue;
    const double far = nearest(rim, p).distance;
    if (far > std::max(worst.most_m, kOnRidge)) worst = {far, p};
  }
  return worst;
}

}  // namespace skewback
