#pragma once
// For tests only: the brief of a barrel arch from x = -radius to x = radius, tied between its two
// feet.

#include "brief/brief.hpp"

namespace skewback::sample {

inline Brief barrel_brief(double radius, double width) {
  Brief brief;
  const double R = radius, w = width / 2;
  brief.plan.outline = {{-R, -w}, {R, -w}, {R, w}, {-R, w}};
  brief.plan.supports = {{"west", {-R, w}, {-R, -w}, 0}, {"east", {R, -w}, {R, w}, 0}};
  brief.plan.free_edges = {{0, 1, {{-R, -w}, {R, -w}}}, {1, 0, {{R, w}, {-R, w}}}};
  brief.ground.ties = {{"west-east", 0, 1, 2, 0.8, -0.3}};
  return brief;
}

}  // namespace skewback::sample
