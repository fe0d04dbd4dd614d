#pragma once
// Plans whose arms meet at the two ends of a spine, built by hand.

#include "form/sample_plans.hpp"

namespace skewback::sample {

// Polyline with its corners rounded: a quadratic curve that leaves the sides `cut` from a corner.
inline std::vector<Vec2> rounded(const std::vector<Vec2>& p, double cut, int per_corner = 24) {
  std::vector<Vec2> out{p.front()};
  for (std::size_t i = 1; i + 1 < p.size(); ++i) {
    const Vec2 from = p[i] + cut * (p[i - 1] - p[i]).normalized(),
               to = p[i] + cut * (p[i + 1] - p[i]).normalized();
    for (int k = 0; k <= per_corner; ++k) {
      const double t = double(k) / per_corner, u = 1 - t;
      out.push_back(u * u * from + 2 * u * t * p[i] + t * t * to);
    }
  }
  out.push_back(p.back());
  return out;
}

struct DoubleY {
  double spine_m = 6;      // from meeting to meeting, along x about the origin
  double leg_m = 3.5;      // from a meeting to the middle of a springing
  double spread_deg = 50;  // of a leg from the spine's line
  double width_m = 1.6;    // of legs and spine
  double cut_m = 1.2;      // corners are rounded from here on
};

// Supports "nw", "sw", "se", "ne"; meetings at the ends of the spine.
inline Plan double_y(const DoubleY& d = {}) {
  const double angle = d.spread_deg * 3.14159265358979323846 / 180, half = d.width_m / 2;
  const Vec2 meeting(d.spine_m / 2, 0), out(std::cos(angle), std::sin(angle)),
      left(-out.y(), out.x());
  const Vec2 foot = meeting + d.leg_m * out;  // of the leg in the north-east
  const Vec2 inner = foot + half * left, outer = foot - half * left;
  // where the leg's sides meet the spine's side and the other leg's side
  const Vec2 elbow(meeting.x() + half * (std::cos(angle) - 1) / std::sin(angle), half),
      crotch(meeting.x() + half / std::sin(angle), 0);
  const auto at = [](const Vec2& p, double x, double y) { return Vec2(x * p.x(), y * p.y()); };
  const std::vector<Vec2> top =
      rounded({inner, elbow, at(elbow, -1, 1), at(inner, -1, 1)}, d.cut_m);
  const std::vector<Vec2> west =
      rounded({at(outer, -1, 1), at(crotch, -1, 1), at(outer, -1, -1)}, d.cut_m);
  std::vector<Vec2> bottom, east;
  for (const Vec2& p : top) bottom.push_back(-p);
  for (const Vec2& p : west) east.push_back(-p);
  Plan plan = plan_of({{"nw", at(inner, -1, 1), at(outer, -1, 1), 0},
                       {"sw", at(outer, -1, -1), at(inner, -1, -1), 0},
                       {"se", at(inner, 1, -1), at(outer, 1, -1), 0},
                       {"ne", outer, inner, 0}},
                      {west, bottom, east, top});
  plan.meeting = Vec2(-meeting.x(), 0);
  plan.second_meeting = meeting;
  return plan;
}

inline Brief double_y_brief(const DoubleY& d = {}) {
  Brief brief;
  brief.name = "double-y";
  brief.plan = double_y(d);
  brief.form.rise_m = 1.8;
  brief.form.mesh_size_m = 0.25;
  brief.section = {0.3, 0.36, false};
  brief.material = {2400, 40e6};
  return brief;
}

}  // namespace skewback::sample
