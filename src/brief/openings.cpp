#include <algorithm>
#include <cmath>
#include <string>

#include "base/constants.hpp"
#include "brief/checks.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr int kCorners = 48;         // of a round opening, on its circle
constexpr double kNarrowest = 0.05;  // m: what is left beside an opening must be wider

Polygon reversed(const Polygon& polygon) { return {polygon.rbegin(), polygon.rend()}; }

double least_distance(const Polygon& a, const Polygon& b) {
  double least = HUGE_VAL;
  for (const Vec2& p : a) least = std::min(least, nearest_on_outline(b, p).distance_m);
  for (const Vec2& p : b) least = std::min(least, nearest_on_outline(a, p).distance_m);
  return least;
}

// `opening` is simple, clockwise.
void add(const Polygon& opening, const std::string& key, Draft& draft) {
  Plan& plan = draft.brief.plan;
  const std::size_t before = draft.faults.size();
  const Regions hole{{reversed(opening), {}}};
  const double sticking_out = area(subtract(hole, {{plan.outline, {}}}));
  if (sticking_out > 1e-6)
    draft.fault(key, "an opening with " + number(sticking_out) + " m2 outside the outline",
                "an opening inside the outline", "draw it further in");
  else if (const double left = least_distance(opening, plan.outline); left < kNarrowest)
    draft.fault(key, "an opening " + metres(left) + " from the outline",
                "at least " + metres(kNarrowest) + " between them",
                "draw it further in, or make it a bay of the outline");
  for (const Polygon& other : plan.openings) {
    if (area(intersect(hole, {{reversed(other), {}}})) > 1e-6)
      draft.fault(key, "an opening that overlaps another", "openings apart from each other",
                  "move it, or make them one");
    else if (const double left = least_distance(opening, other); left < kNarrowest)
      draft.fault(key, "an opening " + metres(left) + " from another",
                  "at least " + metres(kNarrowest) + " between them", "move it, or make them one");
  }
  if (draft.faults.size() == before) plan.openings.push_back(opening);
}

Polygon circle(const RoundOpening& round) {
  Polygon corners;
  for (int k = 0; k < kCorners; ++k) {
    const double t = -2 * kPi * k / kCorners;
    corners.push_back(round.centre + round.diameter_m / 2 * Vec2(std::cos(t), std::sin(t)));
  }
  return corners;
}

}  // namespace

void settle_openings(Draft& draft) {
  for (std::size_t k = 0; k < draft.openings.size(); ++k) {
    const std::string key = numbered("plan.openings", k);
    const Polygon& opening = draft.openings[k];
    if (!draft.has("plan.openings") || !check_polygon(opening, key, draft)) continue;
    add(area(opening) > 0 ? reversed(opening) : opening, key, draft);
  }
  for (std::size_t k = 0; k < draft.round_openings.size(); ++k) {
    const std::string key = numbered("plan.round_opening", k);
    const bool whole = draft.has(key + ".centre") && draft.has(key + ".diameter");
    if (whole && check_polygon(circle(draft.round_openings[k]), key, draft))
      add(circle(draft.round_openings[k]), key, draft);
  }
}

}  // namespace skewback
