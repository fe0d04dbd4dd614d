#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "brief/checks.hpp"
#include "brief/drawing.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

double lowest_springing(const Plan& plan) {
  double lowest = HUGE_VAL;
  for (const Support& s : plan.supports) lowest = std::min(lowest, s.level_m);
  return lowest;
}

// A surface that only pushes is nowhere below the lowest of its supports: each free point is
// lifted over the middle of its neighbours.
bool check_over_springings(double z_m, const std::string& key, Draft& draft) {
  const double lowest = lowest_springing(draft.brief.plan);
  if (z_m > lowest) return true;
  draft.fault(
      key, "a height of " + metres(z_m) + ", not above the lowest springing at " + metres(lowest),
      "a height above it", "raise it");
  return false;
}

void check_heights(Draft& draft) {
  const auto& heights = draft.brief.form.heights;
  for (std::size_t k = 0; k < heights.size(); ++k) {
    const std::string key = numbered("form.height", k);
    if (!draft.has(key + ".at")) continue;
    if (!on_plan(draft.brief.plan, heights[k].at, 0))
      draft.fault(key + ".at", place_text(heights[k].at) + ", where there is nothing",
                  "a point inside the outline and in no opening", "move it");
    for (std::size_t j = 0; j < k; ++j)
      if ((heights[j].at - heights[k].at).norm() < kOn)
        draft.fault(key + ".at", "the same place as " + numbered("form.height", j),
                    "one height for each place", "take one out");
    if (draft.has(key + ".z")) check_over_springings(heights[k].z_m, key + ".z", draft);
  }
}

// Some of a line may run beside the plan; all of it would be a slip.
bool passes_over(const std::vector<Vec2>& line, const Plan& plan) {
  constexpr double kStep = 0.01;  // m
  constexpr double kMostSteps = 1e4;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double length = (line[i + 1] - line[i]).norm();
    const int steps = static_cast<int>(std::ceil(std::min(length / kStep, kMostSteps)));
    for (int k = 0; k <= steps; ++k)
      if (on_plan(plan, line[i] + double(k) / std::max(steps, 1) * (line[i + 1] - line[i]), 0))
        return true;
  }
  return false;
}

void check_ceilings_over(Draft& draft) {
  const auto& lines = draft.brief.form.stay_under;
  for (std::size_t k = 0; k < lines.size(); ++k) {
    const std::string key = numbered("form.stay_under", k) + ".line";
    if (!draft.has(key)) continue;
    const std::vector<Vec2> plan_line = in_plan(lines[k]);
    if (!check_line(plan_line, key, draft)) continue;
    if (!passes_over(plan_line, draft.brief.plan))
      draft.fault(key, "a line that nowhere passes over the plan", "one that does",
                  "move it, or take it out");
    for (std::size_t i = 0; i < lines[k].size(); ++i)
      if (on_plan(draft.brief.plan, plan_line[i], 0))
        check_over_springings(lines[k][i].z(), numbered(key, i), draft);
  }
}

void settle_thrusts(Draft& draft) {
  std::set<std::string> named;
  for (std::size_t k = 0; k < draft.thrusts.size(); ++k) {
    const CeilingDraft& thrust = draft.thrusts[k];
    const std::string key = numbered("form.thrust", k) + ".support";
    check_support_name(draft, key, thrust.support);
    if (!thrust.support.empty() && !named.insert(thrust.support).second)
      draft.fault(key, "\"" + thrust.support + "\" for the second time",
                  "one ceiling for each support", "take one out");
    draft.brief.form.thrusts.push_back({support_index(draft, thrust.support), thrust.most_n});
  }
}

// Whether p lies under a triangle in plan, or so little beside one that it is a matter of rounding.
bool covers(const std::array<Vec2, 3>& t, const Vec2& p) {
  constexpr double kRound = 1e-9;  // m2
  const auto side = [&](int i) {
    const Vec2 way = t[(i + 1) % 3] - t[i], to = p - t[i];
    return way.x() * to.y() - way.y() * to.x();
  };
  const double a = side(0), b = side(1), c = side(2);
  return std::min({a, b, c}) >= -kRound || std::max({a, b, c}) <= kRound;
}

// Every place of the plan wants something over it, but for slivers along an edge drawn otherwise.
void check_covers(const Plan& plan, const TriangleMesh3& surface, Draft& draft) {
  constexpr int kAcross = 48;     // places on the longer side of the plan
  constexpr double kLeft = 0.02;  // share that may be bare
  Vec2 low = plan.outline.front(), high = low;
  for (const Vec2& p : plan.outline) low = low.cwiseMin(p), high = high.cwiseMax(p);
  const double step = (high - low).maxCoeff() / kAcross;
  std::vector<Vec2> places;
  for (double x = low.x() + step / 2; x < high.x(); x += step)
    for (double y = low.y() + step / 2; y < high.y(); y += step)
      if (on_plan(plan, {x, y}, 0)) places.emplace_back(x, y);
  const std::size_t all = places.size();
  for (const auto& corners : surface.triangles) {
    std::array<Vec2, 3> t;
    for (int c = 0; c < 3; ++c) t[c] = surface.vertices[corners[c]].head<2>();
    const Vec2 a = t[1] - t[0], b = t[2] - t[0];
    if (a.x() * b.y() != a.y() * b.x())
      std::erase_if(places, [&](const Vec2& p) { return covers(t, p); });
    if (places.empty()) return;
  }
  if (double(places.size()) <= kLeft * double(all)) return;
  draft.fault("form.target",
              "a mesh that leaves " +
                  std::to_string(int(std::ceil(100 * double(places.size()) / double(all)))) +
                  " % of the plan bare, such as " + place_text(places.front()),
              "one that covers it", "move it, check its unit, or draw it further out");
}

void take_target(Draft& draft) {
  if (!draft.has("form.target")) {
    if (draft.has("form.target_unit") && !draft.spots.contains("form.target"))
      draft.fault("form.target_unit", "a unit and no `target`", "the mesh it belongs to",
                  "name it, or take the unit out");
    return;
  }
  if (!draft.has("form.target_unit")) {
    if (!draft.spots.contains("form.target_unit"))
      draft.fault("form.target", "a mesh without a unit", "its unit",
                  "add a line such as target_unit = \"m\" under [form]");
    return;
  }
  Result<TriangleMesh3> surface =
      read_surface(beside_brief(draft, draft.target), draft.target_unit);
  if (!surface) {
    draft.take_faults_of("form.target", surface.faults());
    return;
  }
  if (!draft.brief.plan.outline.empty()) check_covers(draft.brief.plan, *surface, draft);
  draft.brief.form.target = std::move(surface).value();
}

}  // namespace

void settle_wishes(Draft& draft) {
  settle_thrusts(draft);
  take_target(draft);
  if (draft.brief.plan.outline.empty()) return;
  check_heights(draft);
  check_ceilings_over(draft);
}

}  // namespace skewback
