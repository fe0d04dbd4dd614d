#pragma once
// For tests only: briefs of a barrel arch and of a three-legged one, with ties between their feet.

#include <cmath>

#include "base/constants.hpp"
#include "brief/brief.hpp"

namespace skewback::sample {

/// From x = -radius to x = radius.
inline Brief barrel_brief(double radius, double width) {
  Brief brief;
  const double R = radius, w = width / 2;
  brief.plan.outline = {{-R, -w}, {R, -w}, {R, w}, {-R, w}};
  brief.plan.supports = {{"west", {-R, w}, {-R, -w}, 0}, {"east", {R, -w}, {R, w}, 0}};
  brief.plan.free_edges = {{0, 1, {{-R, -w}, {R, -w}}}, {1, 0, {{R, w}, {-R, w}}}};
  brief.ground.ties = {{"west-east", 0, 1, 2, 0.8, -0.3}};
  return brief;
}

/// Supports a, b, c at 0, 120 and 240 degrees, `reach` from the middle; no free edges.
inline Brief tripod_brief(double reach, double width) {
  Brief brief;
  for (int arm = 0; arm < 3; ++arm) {
    const double t = 2 * kPi * arm / 3;
    const Vec2 out(std::cos(t), std::sin(t)), across(-out.y(), out.x());
    brief.plan.supports.push_back({std::string(1, static_cast<char>('a' + arm)),
                                   reach * out - width / 2 * across,
                                   reach * out + width / 2 * across, 0});
  }
  brief.ground.ties = {
      {"a-b", 0, 1, 2, 1.2, -0.3}, {"b-c", 1, 2, 2, 1.2, -0.3}, {"c-a", 2, 0, 2, 1.2, -0.3}};
  return brief;
}

}  // namespace skewback::sample
