#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "brief/checks.hpp"
#include "brief/meetings.hpp"
#include "brief/outline.hpp"
#include "brief/text.hpp"
#include "brief/walking_lines.hpp"

namespace skewback {
namespace {

constexpr double kBeside = 0.01;  // m: a walking line may end this far off the outline

void check_walking_line(const std::vector<Vec2>& line, const std::string& key, Draft& draft) {
  const Plan& plan = draft.brief.plan;
  const bool whole = check_line(line, key, draft);
  for (std::size_t i = 0; i < line.size(); ++i) {
    const double off = nearest_on_outline(plan.outline, line[i]).distance_m;
    if (!inside(plan.outline, line[i]) && off > kBeside)
      draft.fault(numbered(key, i),
                  place_text(line[i]) + ", " + metres(off) + " outside the outline",
                  "a walking line inside the outline", "move it in");
  }
  if (!whole || !passes_over_an_opening(line, plan)) return;
  if (draft.spots.contains(key))
    return draft.fault(key, "a walking line over an opening", "something under every step",
                       "lead walkway.lines round the opening");
  constexpr const char* kFound =
      "walking lines over an opening, drawn from springing to springing since none are written";
  if (std::ranges::none_of(draft.faults, [&](const Fault& f) { return f.found == kFound; }))
    draft.fault("walkway", kFound, "something under every step",
                "write walkway.lines that lead round the opening, or take walkway.width out");
}

void default_lines(Draft& draft) {
  Brief& brief = draft.brief;
  const bool whole = brief.plan.free_edges.size() == brief.plan.supports.size();
  if (!brief.plan.meeting && brief.plan.supports.size() > 2 && whole)
    brief.plan.meeting = found_meeting(brief.plan);
  brief.walkway.lines = default_walking_lines(brief.plan);
}

double distance_to_line(const Vec2& p, const std::vector<Vec2>& line) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    least = std::min(least, distance_to_segment(p, line[i], line[i + 1]));
  return least;
}

/// A riser cannot be drawn upright: heights are those over a place in plan.
bool check_steps(const std::vector<Vec3>& profile, const std::string& key, Draft& draft) {
  const std::size_t before = draft.faults.size();
  for (std::size_t i = 1; i < profile.size(); ++i) {
    const Vec2 a = profile[i - 1].head<2>(), b = profile[i].head<2>();
    const double rise = std::abs(profile[i].z() - profile[i - 1].z());
    if (too_near(a, b) && rise >= kOn)
      draft.fault(numbered(key, i),
                  "a step of " + metres(rise) + " with both its edges at " + place_text(b),
                  "points at least 1 mm apart in plan",
                  "set one of its edges 2 mm on along the walk");
  }
  return draft.faults.size() == before;
}

void check_surface(Draft& draft) {
  const Walkway& walkway = draft.brief.walkway;
  if (draft.has("walkway.fill_density") && !draft.spots.contains("walkway.surface"))
    draft.fault("walkway.fill_density", "fill and no `surface` to fill up to",
                "a profile of the walking surface", "add surface under [walkway], or take it out");
  if (!draft.has("walkway.surface")) return;
  if (walkway.width_m == 0)
    return draft.fault("walkway.surface", "a surface of no width", "a walkway",
                       "write width = \"1.4 m\" under [walkway]");
  if (draft.brief.plan.outline.empty()) return;
  if (walkway.surface.size() != walkway.lines.size())
    return draft.fault("walkway.surface",
                       std::to_string(walkway.surface.size()) + " profiles for " +
                           std::to_string(walkway.lines.size()) + " walking lines",
                       "one for each", "give each walking line its profile, in the same order");
  for (std::size_t k = 0; k < walkway.surface.size(); ++k) {
    const std::string key = numbered("walkway.surface", k);
    const std::vector<Vec2> profile = in_plan(walkway.surface[k]);
    if (!check_steps(walkway.surface[k], key, draft) || !check_line(profile, key, draft)) continue;
    for (const Vec2& p : walkway.lines[k])
      if (const double off = distance_to_line(p, profile); off > walkway.width_m / 2) {
        draft.fault(key,
                    "a profile " + metres(off) + " beside its walking line at " + place_text(p),
                    "one along the walking line, within half its width",
                    "let it follow the line from end to end");
        break;
      }
  }
}

}  // namespace

bool check_line(const std::vector<Vec2>& line, const std::string& key, Draft& draft) {
  const std::size_t before = draft.faults.size();
  if (line.size() < 2)
    draft.fault(key, "a line of one point", "two or more points", "add the other end");
  for (std::size_t i = 1; i < line.size(); ++i)
    if (too_near(line[i], line[i - 1]))
      draft.fault(numbered(key, i), "the same point twice", "points at least 1 mm apart",
                  "take one out");
  return draft.faults.size() == before;
}

std::vector<Vec2> in_plan(const std::vector<Vec3>& line) {
  std::vector<Vec2> flat;
  for (const Vec3& p : line) flat.emplace_back(p.x(), p.y());
  return flat;
}

bool on_plan(const Plan& plan, const Vec2& p, double beside_m) {
  if (!inside(plan.outline, p) && nearest_on_outline(plan.outline, p).distance_m > beside_m)
    return false;
  return std::none_of(plan.openings.begin(), plan.openings.end(), [&](const Polygon& opening) {
    return inside(opening, p) && nearest_on_outline(opening, p).distance_m > beside_m;
  });
}

void settle_walkway(Draft& draft) {
  Brief& brief = draft.brief;
  Walkway& walkway = brief.walkway;
  brief.access.parapet_stated = draft.has("access.parapet_height");
  brief.access.handrail_stated = draft.has("access.handrail_height");
  if (walkway.weight_pa > 0 && walkway.width_m == 0)
    draft.fault(draft.has("walkway.width") ? "walkway.width" : "walkway.weight",
                "a walkway that weighs something and has no width", "its width",
                "write width = \"1.4 m\" under [walkway]");
  if (!brief.plan.outline.empty()) {
    if (walkway.lines.empty() && walkway.width_m > 0 && !draft.spots.contains("walkway.lines"))
      default_lines(draft);
    for (std::size_t k = 0; k < walkway.lines.size(); ++k)
      check_walking_line(walkway.lines[k], numbered("walkway.lines", k), draft);
  }
  check_surface(draft);
}

/// The middle of the parapet has to lie on the deck, wherever the deck is narrow.
void check_inset(Draft& draft) {
  const Plan& plan = draft.brief.plan;
  const double inset = draft.brief.parapet.inset_m;
  if (!draft.has("parapet.inset") || !(inset > 0)) return;
  double most = HUGE_VAL;
  Vec2 place = Vec2::Zero();
  for (const FreeEdge& edge : plan.free_edges)
    for (const FreeEdge& other : plan.free_edges) {
      if (&edge == &other) continue;
      for (const Vec2& p : edge.line)
        if (const double half = distance_to_line(p, other.line) / 2; half < most)
          most = half, place = p;
    }
  for (const Support& s : plan.supports)
    if (const double half = (s.b - s.a).norm() / 2; half < most) most = half, place = s.a;
  if (inset >= most)
    draft.fault("parapet.inset",
                metres(inset) + " from the edge to the parapet's middle, where half the deck is " +
                    metres(most) + " at " + place_text(place),
                "a parapet on the deck", "write less under [parapet]");
}

void settle_parapet(Draft& draft) {
  Parapet& parapet = draft.brief.parapet;
  check_inset(draft);
  std::set<std::string> named;
  for (std::size_t k = 0; k < draft.working.size(); ++k) {
    const std::string& id = draft.working[k];
    const std::string key = numbered("parapet.working", k);
    if (!draft.has("parapet.working")) break;
    draft.sound[key] = true;
    if (!named.insert(id).second)
      draft.fault(key, "\"" + id + "\" for the second time", "each support once", "take one out");
    if (!check_support_name(draft, key, id)) continue;
    const int support = support_index(draft, id);
    if (support < 0) continue;
    parapet.working.push_back(support);
    const Support& s = draft.brief.plan.supports[static_cast<std::size_t>(support)];
    if (const double width = (s.b - s.a).norm(); 2 * parapet.upstand_width_m >= width)
      draft.fault("parapet.upstand_width",
                  "two upstands of " + metres(parapet.upstand_width_m) +
                      " on a springing line of " + metres(width),
                  "room between them", "make them thinner");
  }
  std::sort(parapet.working.begin(), parapet.working.end());
  if (!parapet.working.empty() && draft.has("parapet.inset") &&
      2 * parapet.inset_m < parapet.upstand_width_m)
    draft.fault(
        "parapet.inset",
        metres(parapet.inset_m) + ", with upstands " + metres(parapet.upstand_width_m) + " wide",
        "at least half their width: they stand on the blocks",
        "make it " + metres(parapet.upstand_width_m / 2) + " or more");
  if (!parapet.working.empty() && !(draft.brief.joints.pad_thickness_m > 0) &&
      !draft.spoilt("joints.pad_thickness"))
    draft.fault(
        "parapet.working", "upstands on blocks that touch without pads",
        "joints with pads: this version cannot cut upstands dry",
        "write pad_thickness = \"6 mm\" under [joints], or leave working, upstand_height and "
        "upstand_width out: carried parapets");
  if (!parapet.working.empty() && draft.brief.plan.second_meeting)
    draft.fault("parapet.working", "working parapets on a plan with two meetings",
                "carried parapets: this version ends upstands at a single meeting only",
                "leave working, upstand_height and upstand_width out");
  for (const char* key : {"parapet.upstand_height", "parapet.upstand_width"}) {
    if (draft.spots.contains("parapet.working") && !draft.spots.contains(key))
      draft.fault("parapet.working", "working parapets without " + std::string(key).substr(8),
                  "the upstand's height and width",
                  "add upstand_height = \"250 mm\" and upstand_width = \"120 mm\" under [parapet]");
    if (!draft.spots.contains("parapet.working") && draft.spots.contains(key))
      draft.fault(key, "an upstand and no legs that have one", "the supports of these legs",
                  "add a line such as working = [\"" +
                      (draft.supports.empty() ? "yard" : draft.supports.front().id) +
                      "\"] under [parapet]");
  }
}

}  // namespace skewback
