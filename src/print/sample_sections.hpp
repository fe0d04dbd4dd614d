#pragma once
// For tests only: sections of blocks, by hand.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geometry/geometry.hpp"

namespace skewback::sample {

inline Polygon box(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}
inline Polygon hole(Polygon p) {
  std::reverse(p.begin(), p.end());
  return p;
}

struct Ladder {
  int tubes = 9;
  double width = 0.24, height = 0.33, leaf = 0.045, web = 0.045;
  [[nodiscard]] double length() const { return tubes * width + (tubes - 1) * web + 2 * leaf; }
  [[nodiscard]] double depth() const { return height + 2 * leaf; }
};

inline Region region(const Ladder& l) {
  Region r{box(0, 0, l.length(), l.depth()), {}};
  for (int i = 0; i < l.tubes; ++i) {
    const double x = l.leaf + i * (l.width + l.web);
    r.holes.push_back(hole(box(x, l.leaf, x + l.width, l.leaf + l.height)));
  }
  return r;
}

inline Region with_upstands(const Ladder& l) {
  Region r = region(l);
  const double w = 0.12, h = l.depth(), top = h + 0.35, right = l.length();
  r.outer = {{0, 0},         {right, 0}, {right, top}, {right - w, top},
             {right - w, h}, {w, h},     {w, top},     {0, top}};
  return r;
}

/// Tubes of equilateral triangles on their base and on their tip by turns, webs leaning to and fro.
/// Ends slope with the last web, a leaf from it, or stand square.
inline Region warren(bool square_ends) {
  const double leaf = 0.045, web = 0.045, h = 0.33, s = std::numbers::sqrt3, b = 2 * h / s;
  const double step = b / 2 + 2 * web / s, depth = h + 2 * leaf;
  Region r;
  double x = 0;
  for (int i = 0; i < 7; ++i, x += step) {
    r.holes.push_back(i % 2 == 0 ? hole({{x, leaf}, {x + b, leaf}, {x + b / 2, leaf + h}})
                                 : hole({{x + b / 2, leaf}, {x + b, leaf + h}, {x, leaf + h}}));
  }
  const double right = x - step + b, foot = 2 * leaf / s + leaf / s, lean = depth / s;
  r.outer =
      square_ends
          ? box(-0.06, 0, right + 0.06, depth)
          : Polygon{
                {-foot, 0}, {right + foot, 0}, {right + foot - lean, depth}, {lean - foot, depth}};
  return r;
}

inline Region turned(const Region& r, double angle, const Vec2& by) {
  const Eigen::Rotation2Dd R(angle);
  Region out = r;
  for (Vec2& p : out.outer) p = R * p + by;
  for (Polygon& h : out.holes) {
    for (Vec2& p : h) p = R * p + by;
  }
  return out;
}

}  // namespace skewback::sample
