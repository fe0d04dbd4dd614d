#include <algorithm>
#include <cmath>

#include "access/walk.hpp"
#include "brief/meetings.hpp"

namespace skewback::access {
namespace {

std::size_t place(int i) { return static_cast<std::size_t>(i); }

double to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 d = b - a;
  const double t = std::clamp((p - a).dot(d) / std::max(d.squaredNorm(), 1e-12), 0.0, 1.0);
  return (a + t * d - p).norm();
}

Vec2 meeting_near(const Plan& plan, const Vec2& p) {
  const auto given = nearest_meeting(plan, p);
  return given ? *given : centroid(Region{plan.outline, {}});
}

/// Where the leg from a support leads to.
Vec2 meeting_from(const Plan& plan, int support) {
  const auto given = meeting_of(plan, place(support));
  return given ? *given : centroid(Region{plan.outline, {}});
}

/// Index of the support at which a line ends there; -1: it is nearer to the meeting.
int support_at(const Plan& plan, const Vec2& p) {
  int best = -1;
  double least = (p - meeting_near(plan, p)).norm();
  for (std::size_t k = 0; k < plan.supports.size(); ++k) {
    const double d = to_segment(p, plan.supports[k].a, plan.supports[k].b);
    if (d < least) least = d, best = static_cast<int>(k);
  }
  return best;
}

std::vector<std::vector<Vec2>> plan_lines(const Brief& brief) {
  if (!brief.walkway.lines.empty()) return brief.walkway.lines;
  std::vector<std::vector<Vec2>> lines;
  for (std::size_t k = 0; k < brief.plan.supports.size(); ++k) {
    const Support& s = brief.plan.supports[k];
    lines.push_back({(s.a + s.b) / 2, meeting_from(brief.plan, static_cast<int>(k))});
  }
  if (brief.plan.second_meeting) lines.push_back({*brief.plan.meeting, *brief.plan.second_meeting});
  return lines;
}

/// The path cut at its plan point nearest to p.
std::pair<std::vector<Vec3>, std::vector<Vec3>> cut_at(const std::vector<Vec3>& path,
                                                       const Vec2& p) {
  std::size_t piece = 0;
  Vec3 spot = path.front();
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const Vec3 d = path[i + 1] - path[i];
    const double t = std::clamp(
        (p - path[i].head<2>()).dot(d.head<2>()) / std::max(d.head<2>().squaredNorm(), 1e-12), 0.0,
        1.0);
    const Vec3 q = path[i] + t * d;
    if (i > 0 && (q.head<2>() - p).norm() >= (spot.head<2>() - p).norm()) continue;
    spot = q;
    piece = i;
  }
  const auto cut = path.begin() + static_cast<std::ptrdiff_t>(piece) + 1;
  std::vector<Vec3> first(path.begin(), cut), second(cut, path.end());
  const auto apart = [&](const Vec3& q) { return (q - spot).head<2>().norm() > 1e-6; };
  if (apart(first.back())) first.push_back(spot);
  if (apart(second.front())) second.insert(second.begin(), spot);
  return {first, second};
}

Leg leg_of(const Brief& brief, std::vector<Vec3> path, int line, int support, bool backward,
           bool to_meeting) {
  Leg leg;
  if (backward) std::reverse(path.begin(), path.end());
  leg.path = std::move(path);
  leg.backward = backward;
  leg.ends_at_meeting = to_meeting;
  leg.line.support = support;
  leg.line.line = brief.walkway.lines.empty() ? -1 : line;
  leg.line.drawn = !brief.walkway.surface.empty();
  const std::string from =
      support >= 0 ? brief.plan.supports[place(support)].id : "line " + std::to_string(line + 1);
  leg.line.name = from + (to_meeting ? brief.plan.meeting ? " to meeting" : " to crown" : "");
  return leg;
}

/// From the middle of a spine to its ends.
void add_spine(const Brief& brief, const std::vector<Vec3>& path, int line,
               std::vector<Leg>& legs) {
  const Plan& plan = brief.plan;
  auto [first, second] = cut_at(path, *middle_of_meetings(plan));
  for (const bool on : {false, true}) {
    Leg leg = leg_of(brief, on ? std::move(second) : std::move(first), line, -1, !on, true);
    leg.meeting = meeting_near(plan, leg.path.back().head<2>()) == *plan.meeting ? 0 : 1;
    leg.line.name = std::string("middle of the spine to ") +
                    (leg.meeting == 0 ? "first meeting" : "second meeting");
    legs.push_back(std::move(leg));
  }
}

void cut_into_legs(const Brief& brief, const std::vector<Vec2>& drawn, int line,
                   std::vector<Leg>& legs) {
  std::vector<Vec3> path;
  for (const Vec2& p : drawn) path.emplace_back(p.x(), p.y(), 0);
  if (!brief.walkway.surface.empty()) {
    path = brief.walkway.surface[place(line)];
    const auto far = [&](const Vec3& p) { return (p.head<2>() - drawn.front()).norm(); };
    if (far(path.front()) > far(path.back())) std::reverse(path.begin(), path.end());
  }
  const int from = support_at(brief.plan, drawn.front()), to = support_at(brief.plan, drawn.back());
  const bool spined = brief.plan.second_meeting.has_value();
  const auto add = [&](std::vector<Vec3> way, int support, bool backward) {
    legs.push_back(leg_of(brief, std::move(way), line, support, backward, true));
    if (spined) legs.back().meeting = meetings_of_supports(brief.plan)[place(support)];
  };
  if (from >= 0 && to >= 0) {
    auto [first, second] = cut_at(path, meeting_from(brief.plan, from));
    add(std::move(first), from, false);
    if (meeting_from(brief.plan, from) != meeting_from(brief.plan, to)) {
      auto [spine, last] = cut_at(second, meeting_from(brief.plan, to));
      add_spine(brief, spine, line, legs);
      second = std::move(last);
    }
    add(std::move(second), to, true);
  } else if (from < 0 && to < 0) {
    if (spined)
      add_spine(brief, path, line, legs);
    else
      legs.push_back(leg_of(brief, std::move(path), line, -1, false, false));
  } else {
    add(std::move(path), std::max(from, to), to >= 0);
  }
}

}  // namespace

std::vector<Leg> plan_legs(const Brief& brief) {
  std::vector<Leg> legs;
  const std::vector<std::vector<Vec2>> lines = plan_lines(brief);
  for (std::size_t k = 0; k < lines.size(); ++k)
    cut_into_legs(brief, lines[k], static_cast<int>(k), legs);
  return legs;
}

}  // namespace skewback::access
