#include <algorithm>
#include <cmath>
#include <set>
#include <string>

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
  const Plan& plan = draft.brief.plan;
  const auto& vertices = surface->vertices;
  const bool over = std::any_of(vertices.begin(), vertices.end(),
                                [&](const Vec3& v) { return on_plan(plan, Vec2(v.head<2>()), 0); });
  if (!plan.outline.empty() && !over)
    draft.fault("form.target", "a mesh of which no corner is over the plan", "one that covers it",
                "move it, or check its unit");
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
