#include "brief/meetings.hpp"

#include <algorithm>
#include <array>

#include "brief/checks.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr int kSteps = 400;          // along a way
constexpr double kOffTheWay = 1e-3;  // m
constexpr int kRounds = 20;

std::string supports_at(const Plan& plan, const std::vector<int>& of, int meeting) {
  std::string text;
  for (std::size_t k = 0; k < of.size(); ++k)
    if (of[k] == meeting) text += (text.empty() ? "" : ", ") + plan.supports[k].id;
  return text.empty() ? "no support" : text;
}

}  // namespace

Stray stray(const Polygon& outline, const Vec2& a, const Vec2& b) {
  const Region plan{outline, {}};
  Stray worst;
  for (int i = 1; i < kSteps; ++i) {
    const Vec2 p = a + double(i) / kSteps * (b - a);
    if (contains(plan, p)) continue;
    if (const double off = nearest_on_outline(outline, p).distance_m; off > worst.most_m)
      worst = {off, p};
  }
  return worst;
}

bool straight_inside(const Region& plan, const Vec2& a, const Vec2& b) {
  for (int i = 1; i < kSteps; ++i)
    if (!contains(plan, a + double(i) / kSteps * (b - a))) return false;
  return true;
}

std::vector<Vec2> meetings(const Plan& plan) {
  std::vector<Vec2> out;
  if (plan.meeting) out.push_back(*plan.meeting);
  if (plan.meeting && plan.second_meeting) out.push_back(*plan.second_meeting);
  return out;
}

std::vector<int> meetings_of_supports(const Plan& plan) {
  std::vector<int> out(plan.supports.size(), 0);
  const std::vector<Vec2> all = meetings(plan);
  if (all.size() < 2) return out;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const Vec2 foot = 0.5 * (plan.supports[k].a + plan.supports[k].b);
    std::array<bool, 2> inside{};
    for (std::size_t m : {0, 1}) inside[m] = stray(plan.outline, foot, all[m]).most_m <= kOffTheWay;
    const bool second_nearer = (foot - all[1]).norm() < (foot - all[0]).norm();
    out[k] = inside[0] == inside[1] ? second_nearer : inside[1];
  }
  return out;
}

std::optional<Vec2> meeting_of(const Plan& plan, std::size_t support) {
  if (!plan.second_meeting) return plan.meeting;
  return meetings_of_supports(plan)[support] == 0 ? plan.meeting : plan.second_meeting;
}

Vec2 found_meeting(const Plan& plan) {
  const double n = static_cast<double>(plan.supports.size());
  Vec2 centre = Vec2::Zero();
  for (const Support& s : plan.supports) centre += 0.5 * (s.a + s.b) / n;
  for (int round = 0; round < kRounds; ++round) {
    Vec2 sum = Vec2::Zero();
    for (const FreeEdge& edge : plan.free_edges) {
      const double waist =
          plan.supports.size() == 2 ? 0.5 * length(edge.line) : nearest(edge.line, centre).s;
      sum += point_at(edge.line, waist);
    }
    centre = sum / n;
  }
  return centre;
}

std::optional<Vec2> nearest_meeting(const Plan& plan, const Vec2& p) {
  if (!plan.meeting || !plan.second_meeting) return plan.meeting;
  return (p - *plan.second_meeting).norm() < (p - *plan.meeting).norm() ? plan.second_meeting
                                                                        : plan.meeting;
}

std::optional<Vec2> middle_of_meetings(const Plan& plan) {
  if (!plan.meeting || !plan.second_meeting) return plan.meeting;
  return Vec2(0.5 * (*plan.meeting + *plan.second_meeting));
}

bool passes_spine(const Plan& plan, int free_edge) {
  if (!plan.second_meeting) return false;
  const FreeEdge& edge = plan.free_edges[static_cast<std::size_t>(free_edge)];
  const std::vector<int> of = meetings_of_supports(plan);
  return of[static_cast<std::size_t>(edge.from)] != of[static_cast<std::size_t>(edge.to)];
}

std::optional<Fault> spine_fault(const Plan& plan) {
  if (!plan.second_meeting) return std::nullopt;
  const auto fault = [](const std::string& found, const std::string& expected,
                        const std::string& change) {
    return Fault{.key = "plan.meeting", .found = found, .expected = expected, .change = change};
  };
  if ((*plan.second_meeting - *plan.meeting).norm() < kOffTheWay)
    return fault("the same point twice", "points at least 1 mm apart", "leave one");
  if (!plan.openings.empty())
    return fault("two meetings and an opening",
                 "one or the other: this version leaves an eye at a single meeting only",
                 "leave the opening out");
  const Stray off = stray(plan.outline, *plan.meeting, *plan.second_meeting);
  if (off.most_m > kOffTheWay)
    return fault("a straight way between the meetings that leaves the plan by " +
                     metres(off.most_m) + " at " + place_text(off.place),
                 "a spine that runs straight from one meeting to the other inside the plan",
                 "move one of them, or draw the outline further out there");
  for (const Support& s : plan.supports)
    for (const char* taken : {"spine-a", "spine-b", "key-a", "key-b"})
      if (s.id == taken)
        return fault("a support called " + s.id + " and two meetings",
                     "names that the blocks of the spine do not bear", "rename it");
  const std::vector<int> of = meetings_of_supports(plan);
  int changes = 0;
  for (std::size_t k = 0; k < of.size(); ++k) changes += of[k] != of[(k + 1) % of.size()];
  const auto second = std::count(of.begin(), of.end(), 1);
  const std::string found = supports_at(plan, of, 0) + " at the first meeting, " +
                            supports_at(plan, of, 1) + " at the second";
  if (second < 2 || std::ssize(of) - second < 2)
    return fault(found, "two supports or more that reach each of them straight",
                 "move one of them, or give one meeting of all arms");
  if (changes != 2)
    return fault(found, "supports of one meeting that follow each other round the plan",
                 "move the meetings to the two ends of the part that joins them");
  for (std::size_t k = 0; k < of.size(); ++k) {
    const Vec2 foot = 0.5 * (plan.supports[k].a + plan.supports[k].b);
    const Stray way = stray(plan.outline, foot, of[k] == 0 ? *plan.meeting : *plan.second_meeting);
    if (way.most_m > kOffTheWay)
      return fault("straight ways from " + plan.supports[k].id +
                       " that leave the plan, the shorter by " + metres(way.most_m) + " at " +
                       place_text(way.place),
                   "a meeting that every support reaches straight inside the plan",
                   "move one of them, or draw the outline further out there");
  }
  return std::nullopt;
}

}  // namespace skewback
