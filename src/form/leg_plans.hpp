#pragma once
// Plans with an opening in a leg, built by hand.

#include <cmath>

#include "form/spine_plans.hpp"

namespace skewback::sample {

// Two arcs from tip to tip, which lie along `bearing_deg`; clockwise.
inline Polygon almond(const Vec2& centre, double bearing_deg, double length, double width,
                      int per_side = 20) {
  const double angle = bearing_deg * 3.14159265358979323846 / 180, half = width / 2;
  const Vec2 along(std::cos(angle), std::sin(angle)), left(-along.y(), along.x());
  const double radius = (length * length / 4 + half * half) / width;
  const double most = std::asin(length / 2 / radius);
  Polygon out;
  for (const double side : {1.0, -1.0})
    for (int i = 0; i < per_side; ++i) {
      const double t = -most + 2 * most * i / per_side;
      out.push_back(centre + side * (radius * std::sin(t) * along +
                                     (radius * std::cos(t) - (radius - half)) * left));
    }
  return out;
}

// Legs at these bearings from 1.15 m either side of their axis at the springing to about 0.95 m,
// then round into each other: nearly straight sides, little that presses inward.
inline Plan straight_legs(const std::vector<double>& bearings_deg, double radius = 7.5) {
  std::vector<Support> supports;
  std::vector<std::vector<Vec2>> lines;
  const auto way = [&](std::size_t k) {
    const double angle = bearings_deg[k % bearings_deg.size()] * 3.14159265358979323846 / 180;
    return Vec2(std::cos(angle), std::sin(angle));
  };
  for (std::size_t k = 0; k < bearings_deg.size(); ++k) {
    const Vec2 out = way(k), left(-out.y(), out.x()), next = way(k + 1), right(next.y(), -next.x());
    supports.push_back(
        {"s" + std::to_string(k + 1), radius * out - 1.15 * left, radius * out + 1.15 * left, 0});
    const Vec2 from = radius * out + 1.15 * left, to = radius * next + 1.15 * right;
    const Vec2 a = 2.5 * out + 0.95 * left - from, b = 2.5 * next + 0.95 * right - to;
    const double t =
        ((to - from).x() * b.y() - (to - from).y() * b.x()) / (a.x() * b.y() - a.y() * b.x());
    lines.push_back(rounded({from, from + t * a, to}, 2.6));
  }
  return plan_of(supports, lines);
}

inline Brief leg_brief() {
  Brief brief;
  brief.name = "in-leg";
  brief.plan = straight_legs({90, 210, 330});
  brief.plan.meeting = Vec2(0, 0);
  brief.form.rise_m = 2;
  brief.form.mesh_size_m = 0.25;
  brief.section = {0.3, 0.4, false};
  brief.material = {2300, 40e6};
  return brief;
}

// An almond in the leg of s1, along it.
inline Brief almond_in_leg() {
  Brief brief = leg_brief();
  brief.plan.openings = {almond({0, 4.6}, 90, 1.9, 0.5)};
  return brief;
}

// A round one in the same place.
inline Brief round_in_leg() {
  Brief brief = leg_brief();
  brief.plan.openings = {round_opening({0, 4.6}, 0.6)};
  return brief;
}

// Off the middle of the leg of s2.
inline Brief almond_off_axis() {
  Brief brief = leg_brief();
  const Vec2 way(std::cos(210 * 3.14159265358979323846 / 180),
                 std::sin(210 * 3.14159265358979323846 / 180));
  brief.plan.openings = {almond(4.6 * way + 0.2 * Vec2(-way.y(), way.x()), 210, 1.6, 0.4)};
  return brief;
}

// Four legs, an eye, and an almond in two of them.
inline Brief eye_and_legs() {
  Brief brief = leg_brief();
  brief.name = "eye-and-legs";
  brief.plan = star_plan({80, 170, 260, 350}, 7.5, 2.4, 3.23);
  brief.plan.meeting = Vec2(0, 0);
  const auto in_leg = [](double bearing) {
    const double angle = bearing * 3.14159265358979323846 / 180;
    return almond(4.6 * Vec2(std::cos(angle), std::sin(angle)), bearing, 1.6, 0.5);
  };
  brief.plan.openings = {in_leg(80), round_opening({0, 0}, 1.6), in_leg(260)};
  return brief;
}

// Two legs in line, an opening in one of them.
inline Brief two_legs() {
  Brief brief = drovers_hop();
  brief.walkway = {};
  std::vector<std::vector<Vec2>> lines(2);
  for (int i = 0; i <= 60; ++i) {
    const double t = i / 60.0, bow = 0.35 * 4 * t * (1 - t);
    lines[0].emplace_back(-4.5 + 9 * t, -1.3 + bow);
    lines[1].emplace_back(4.5 - 9 * t, 1.3 - bow);
  }
  brief.plan = plan_of(
      {{"west", {-4.5, 1.3}, {-4.5, -1.3}, 0}, {"east", {4.5, -1.3}, {4.5, 1.3}, 0}}, lines);
  brief.plan.openings = {almond({-2.4, 0}, 0, 1.4, 0.4)};
  return brief;
}

}  // namespace skewback::sample
