#include <algorithm>
#include <cmath>
#include <set>

#include "brief/checks.hpp"
#include "brief/fill.hpp"
#include "brief/meetings.hpp"
#include "brief/outline.hpp"
#include "brief/spline.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

constexpr double kStep = 0.05;       // m: sampling of smooth edges
constexpr double kMostSteps = 2000;  // per free edge

double modulo(double a, double period) { return a - period * std::floor(a / period); }

struct Seat {             // a support placed on the counter-clockwise outline
  std::size_t index = 0;  // as written
  Vec2 a = Vec2::Zero(), b = Vec2::Zero();
  double from_m = 0, length_m = 0;  // of the outline, counter-clockwise from a to b
};

class PlanBuilder {
 public:
  explicit PlanBuilder(Draft& draft) : draft_(draft), outline_(draft.outline) {
    reversed_ = area(outline_) < 0;
    if (reversed_) std::reverse(outline_.begin(), outline_.end());
    along_ = distances_along(outline_);
  }

  void build() {
    if (!seat_all() || !check_seats()) return;
    const std::vector<std::vector<Vec2>> lines = chains_drawn();
    if (!check_reach()) return;
    Plan& plan = draft_.brief.plan;
    for (std::size_t k = 0; k < seats_.size(); ++k) {
      const SupportDraft& written = draft_.supports[seats_[k].index];
      plan.supports.push_back(
          {written.id, seats_[k].a, seats_[k].b, written.level_m, written.bow_m});
      FreeEdge edge{static_cast<int>(k), static_cast<int>((k + 1) % seats_.size()),
                    curved(lines[k])};
      plan.outline.push_back(seats_[k].a);
      plan.outline.insert(plan.outline.end(), edge.line.begin(), edge.line.end() - 1);
      plan.free_edges.push_back(std::move(edge));
    }
    draw_out(plan, plan.fill);
    check_curve();
  }

 private:
  [[nodiscard]] double whole() const { return along_.back(); }
  [[nodiscard]] std::string corner_key(std::size_t i) const {
    const std::size_t drawn = reversed_ ? outline_.size() - 1 - i : i;
    return numbered("plan.outline", draft_.outline_numbers[drawn]);
  }

  // The corners strictly between two places on the outline, walking counter-clockwise.
  [[nodiscard]] std::vector<std::size_t> corners_between(double from, double length) const {
    std::vector<std::pair<double, std::size_t>> found;
    for (std::size_t i = 0; i < outline_.size(); ++i) {
      const double s = modulo(along_[i] - from, whole());
      if (s > kOn && s < length - kOn) found.emplace_back(s, i);
    }
    std::sort(found.begin(), found.end());
    std::vector<std::size_t> corners;
    for (const auto& [s, i] : found) corners.push_back(i);
    return corners;
  }

  [[nodiscard]] bool straight(const Vec2& a, const Vec2& b, double from, double length) const {
    for (const std::size_t i : corners_between(from, length))
      if (distance_to_segment(outline_[i], a, b) > kOn) return false;
    return std::abs(length - (b - a).norm()) < 4 * kOn;
  }

  std::optional<Seat> seat(std::size_t index) {
    const std::string key = numbered("plan.support", index) + ".ends";
    const std::vector<Vec2>& ends = draft_.supports[index].ends;
    std::array<NearestOnOutline, 2> on;
    bool good = true;
    for (std::size_t e = 0; e < 2; ++e) {
      on[e] = nearest_on_outline(outline_, ends[e]);
      if (on[e].distance_m <= kOn) continue;
      good = false;
      draft_.fault(numbered(key, e),
                   place_text(ends[e]) + ", " + metres(on[e].distance_m) + " off the outline",
                   "a point on the outline", "the nearest is " + place_text(on[e].point));
    }
    if (!good) return std::nullopt;
    const double forth = modulo(on[1].along_m - on[0].along_m, whole());
    if (straight(on[0].point, on[1].point, on[0].along_m, forth))
      return Seat{index, on[0].point, on[1].point, on[0].along_m, forth};
    if (straight(on[1].point, on[0].point, on[1].along_m, whole() - forth))
      return Seat{index, on[1].point, on[0].point, on[1].along_m, whole() - forth};
    draft_.fault(key, "ends between which the outline is not straight",
                 "a springing line along one straight side",
                 "draw the outline from end to end, or split the support");
    return std::nullopt;
  }

  bool seat_all() {
    for (std::size_t i = 0; i < draft_.supports.size(); ++i)
      if (const auto s = seat(i)) seats_.push_back(*s);
    if (seats_.size() != draft_.supports.size()) return false;
    const double first = seats_.front().from_m;  // the first one written stays the first
    std::stable_sort(seats_.begin(), seats_.end(), [&](const Seat& a, const Seat& b) {
      return modulo(a.from_m - first, whole()) < modulo(b.from_m - first, whole());
    });
    return true;
  }

  bool check_seats() {
    bool good = true;
    for (std::size_t k = 0; k < seats_.size(); ++k) {
      const Seat &here = seats_[k], &next = seats_[(k + 1) % seats_.size()];
      const double gap = modulo(next.from_m - here.from_m, whole()) - here.length_m;
      if (gap > kOn) continue;
      good = false;
      draft_.fault(numbered("plan.support", next.index) + ".ends",
                   "support \"" + draft_.supports[next.index].id + "\" touching or overlapping \"" +
                       draft_.supports[here.index].id + "\"",
                   "a free edge between any two supports", "shorten one of them, or make them one");
    }
    return good;
  }

  [[nodiscard]] std::vector<std::vector<Vec2>> chains_drawn() {
    std::vector<std::vector<Vec2>> chains;
    chain_corners_.clear();
    for (std::size_t k = 0; k < seats_.size(); ++k) {
      const Seat &here = seats_[k], &next = seats_[(k + 1) % seats_.size()];
      const double from = modulo(here.from_m + here.length_m, whole());
      chain_corners_.push_back(corners_between(from, modulo(next.from_m - from, whole())));
      std::vector<Vec2> chain{here.b};
      for (const std::size_t i : chain_corners_.back()) chain.push_back(outline_[i]);
      chain.push_back(next.a);
      chains.push_back(std::move(chain));
    }
    return chains;
  }

  [[nodiscard]] std::vector<Vec2> curved(const std::vector<Vec2>& chain) const {
    if (draft_.free_edges == "straight") return chain;
    double length = 0;
    for (std::size_t i = 1; i < chain.size(); ++i) length += (chain[i] - chain[i - 1]).norm();
    return natural_spline(chain, std::max(kStep, length / kMostSteps));
  }

  // Each free point of a surface that only pushes, under vertical load, lies within the hull of its
  // neighbours in plan; so all of it lies within the hull of the supports.
  bool check_reach() {
    std::vector<Vec2> ends;
    for (const Seat& s : seats_) ends.insert(ends.end(), {s.a, s.b});
    const Polygon hull = convex_hull(ends);
    const auto outside = [&](const Vec2& p) {
      return hull.size() >= 3 && inside(hull, p) ? 0.0 : nearest_on_outline(hull, p).distance_m;
    };
    double most = kOn;
    std::size_t worst = 0, chain = 0;
    for (std::size_t k = 0; k < seats_.size(); ++k)
      for (const std::size_t i : chain_corners_[k])
        if (const double d = outside(outline_[i]); d > most) most = d, worst = i, chain = k;
    if (most <= kOn) return true;
    const auto id = [&](std::size_t s) {
      return "\"" + draft_.supports[seats_[s % seats_.size()].index].id + "\"";
    };
    draft_.fault(corner_key(worst),
                 place_text(outline_[worst]) + ", " + metres(most) +
                     " outside the lines that join the supports: the outline between " + id(chain) +
                     " and " + id(chain + 1) + " reaches where nothing holds it up",
                 "free edges inside the lines that join the supports",
                 "put a support at the end of that arm, or draw the edge further in");
    return false;
  }

  void check_curve() {
    const Polygon& outline = draft_.brief.plan.outline;
    if (const auto pair = crossing_sides(outline))
      draft_.fault(
          "plan.outline",
          "a smooth edge that crosses the outline near " + place_text(outline[pair->first]),
          "curves that do not cross",
          "add points to guide the curve there, or set free_edges = \"straight\"");
  }

  Draft& draft_;
  Polygon outline_;  // as drawn, counter-clockwise
  bool reversed_ = false;
  std::vector<double> along_;
  std::vector<Seat> seats_;
  std::vector<std::vector<std::size_t>> chain_corners_;
};

bool check_supports(Draft& draft) {
  const std::size_t before = draft.faults.size();
  if (draft.supports.size() == 1 || (draft.supports.empty() && draft.has("plan.file")))
    draft.fault("plan.support", draft.supports.empty() ? "no support" : "one support",
                "two or more", "add another [[plan.support]]");
  std::set<std::string> ids;
  for (std::size_t i = 0; i < draft.supports.size(); ++i) {
    const SupportDraft& s = draft.supports[i];
    const std::string key = numbered("plan.support", i);
    if (!s.id.empty() && !ids.insert(s.id).second)
      draft.fault(key + ".id", "\"" + s.id + "\" for the second time",
                  "an id of its own for each support", "rename one");
    if (!draft.has(key + ".ends")) continue;
    if (s.ends.size() != 2)
      draft.fault(key + ".ends", std::to_string(s.ends.size()) + " points",
                  "the two ends of the springing line", "give two points");
    else if ((s.ends[1] - s.ends[0]).norm() < 10 * kOn)
      draft.fault(key + ".ends", "a springing line of " + metres((s.ends[1] - s.ends[0]).norm()),
                  "two ends at least 1 cm apart", "move one of them");
  }
  return draft.faults.size() == before;
}

void check_given(Draft& draft) {
  if (!draft.spots.contains("plan.outline"))
    draft.fault("plan.outline", "nothing", "the corners of the plan, or a drawing of it in `file`",
                "add a line such as outline = [[\"-4.5 m\", \"-0.95 m\"], ...] under [plan]");
  if (!draft.spots.contains("plan.support"))
    draft.fault("plan.support", "no [[plan.support]]", "one for each springing line",
                "add [[plan.support]] and its keys");
  if (draft.has("plan.file_unit"))
    draft.fault("plan.file_unit", "a unit and no `file`", "the drawing it belongs to",
                "name it, or take the unit out");
}

void check_meeting(Draft& draft, const std::string& key, const std::optional<Vec2>& meeting) {
  if (!meeting || inside(draft.brief.plan.outline, *meeting)) return;
  const NearestOnOutline near = nearest_on_outline(draft.brief.plan.outline, *meeting);
  draft.fault(key, place_text(*meeting) + ", " + metres(near.distance_m) + " outside the outline",
              "a point inside the outline", "move it in");
}

}  // namespace

// Simple, with some area. Corner and side numbers in messages count from 1.
bool check_polygon(const Polygon& polygon, const std::string& key, Draft& draft) {
  const std::size_t n = polygon.size(), before = draft.faults.size();
  if (n < 3) {
    draft.fault(key, std::to_string(n) + " points", "three or more", "add the missing corners");
    return false;
  }
  for (std::size_t i = 0; i < n; ++i)
    if (too_near(polygon[(i + 1) % n], polygon[i]))
      draft.fault(numbered(key, (i + 1) % n), "the same point as " + numbered(key, i),
                  "points at least 1 mm apart",
                  "take one of them out" +
                      std::string(i + 1 == n ? " (the first is not repeated at the end)" : ""));
  if (draft.faults.size() != before) return false;
  const auto side = [&](std::size_t i) {
    return "the side from " + place_text(polygon[i]) + " to " + place_text(polygon[(i + 1) % n]);
  };
  if (const auto pair = crossing_sides(polygon)) {
    draft.fault(numbered(key, pair->first),
                side(pair->first) + " crosses or touches " + side(pair->second),
                "an outline that does not meet itself", "put the corners in order round the edge");
    return false;
  }
  if (std::abs(area(polygon)) < 1e-6) {
    draft.fault(key, "an outline without area", "corners that are not all in line",
                "move a corner");
    return false;
  }
  return true;
}

void settle_plan(Draft& draft) {
  if (!draft.spots.contains("plan")) return;
  if (draft.has("plan.meeting")) {
    draft.brief.plan.meeting = draft.meetings.front();
    if (draft.meetings.size() > 1) draft.brief.plan.second_meeting = draft.meetings.back();
  }
  if (draft.spots.contains("plan.file")) {
    if (!draft.has("plan.file") || !take_plan_file(draft)) return;
  } else {
    check_given(draft);
  }
  const bool outline_good =
      draft.has("plan.outline") && check_polygon(draft.outline, "plan.outline", draft);
  const bool ends_good = settle_ends(draft, outline_good);
  const bool supports_good = check_supports(draft);
  if (!outline_good || !ends_good || !supports_good || draft.supports.empty()) return;
  const std::size_t before = draft.faults.size();
  PlanBuilder(draft).build();
  if (draft.faults.size() != before) return;
  settle_openings(draft);
  const bool two = draft.brief.plan.second_meeting.has_value();
  const std::size_t sound = draft.faults.size();
  check_meeting(draft, two ? "plan.meeting[1]" : "plan.meeting", draft.brief.plan.meeting);
  check_meeting(draft, "plan.meeting[2]", draft.brief.plan.second_meeting);
  if (draft.faults.size() != sound) return;
  if (const auto fault = spine_fault(draft.brief.plan))
    draft.fault(fault->key, fault->found, fault->expected, fault->change);
}

}  // namespace skewback
