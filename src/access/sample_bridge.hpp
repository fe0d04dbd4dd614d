#pragma once
// For tests only: a straight bridge of upright slices whose tops follow given heights.

#include "access/access.hpp"
#include "assembly/assembly.hpp"

namespace skewback::sample {

struct Heights {
  std::vector<double> x_m, left_m, right_m;  // tops at the left (y = +half) and right edge
};

inline Heights level_across(const std::vector<double>& x, const std::vector<double>& z) {
  return {x, z, z};
}

/// One slice between neighbouring x; where two x are equal the tops jump.
inline Assembly slices(const Heights& h, double half_width) {
  Assembly assembly;
  for (std::size_t i = 0; i + 1 < h.x_m.size(); ++i) {
    if (h.x_m[i + 1] - h.x_m[i] < 1e-9) continue;
    Block block;
    block.id = "s" + std::to_string(assembly.blocks.size() + 1);
    block.density = 2400;
    const double a = h.x_m[i], b = h.x_m[i + 1], w = half_width, low = -1;
    block.solid.vertices = {{a, -w, low},
                            {b, -w, low},
                            {b, w, low},
                            {a, w, low},
                            {a, -w, h.right_m[i]},
                            {b, -w, h.right_m[i + 1]},
                            {b, w, h.left_m[i + 1]},
                            {a, w, h.left_m[i]}};
    block.solid.faces = {{0, 3, 2, 1}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6},
                         {3, 0, 4, 7}, {4, 5, 6},    {4, 6, 7}};
    assembly.blocks.push_back(block);
  }
  measure(assembly);
  return assembly;
}

/// Supports "west" and "east" at the ends, meeting at `meeting_x`; people walk on the blocks.
inline Brief straight_brief(double from_x, double to_x, double meeting_x, double half_width) {
  Brief brief;
  brief.plan.outline = {
      {from_x, -half_width}, {to_x, -half_width}, {to_x, half_width}, {from_x, half_width}};
  brief.plan.supports = {{"west", {from_x, half_width}, {from_x, -half_width}, 0},
                         {"east", {to_x, -half_width}, {to_x, half_width}, 0}};
  brief.plan.meeting = Vec2(meeting_x, 0);
  brief.walkway.lines = {{{from_x, 0}, {to_x, 0}}};
  brief.access.parapet_stated = brief.access.handrail_stated = true;
  return brief;
}

/// Tops on the parabola of that span and rise, x from 0 to span, one slice per `step`.
inline Heights parabola(double span, double rise, double step) {
  std::vector<double> x, z;
  const int n = static_cast<int>(span / step + 0.5);
  for (int i = 0; i <= n; ++i) {
    x.push_back(span * i / n);
    z.push_back(4 * rise * x.back() * (span - x.back()) / (span * span));
  }
  return level_across(x, z);
}

}  // namespace skewback::sample
