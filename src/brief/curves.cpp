#include "brief/curves.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr int kMostSteps = 5000;

int steps_within(double exact) {  // a hair of slack, so that rounding adds no step
  if (!(exact < kMostSteps)) return kMostSteps;
  return std::max(1, static_cast<int>(std::ceil(exact - 1e-9)));
}

}  // namespace

int arc_steps(double radius, double sweep, double chord) {
  const double flat = std::clamp(1 - chord / radius, -1.0, 1.0);
  const double widest = std::min(2 * std::acos(flat), kPi / 4);
  return steps_within(std::abs(sweep) / widest);
}

void append_arc(std::vector<Vec2>& line, const Vec2& centre, double radius, double from,
                double sweep, double chord) {
  const int n = arc_steps(radius, sweep, chord);
  for (int k = 1; k <= n; ++k) {
    const double t = from + sweep * k / n;
    line.push_back(centre + radius * Vec2(std::cos(t), std::sin(t)));
  }
}

std::vector<Vec2> circle_corners(const Vec2& centre, double radius, double chord) {
  std::vector<Vec2> corners;
  append_arc(corners, centre, radius, 0, 2 * kPi, chord);
  return corners;
}

void append_cubic(std::vector<Vec2>& line, const Vec2& b, const Vec2& c, const Vec2& d,
                  double chord) {
  const Vec2 a = line.back();
  const double bend = 6 * std::max((a - 2 * b + c).norm(), (b - 2 * c + d).norm());
  const int n = steps_within(std::sqrt(bend / (8 * chord)));
  for (int k = 1; k <= n; ++k) {
    const double t = double(k) / n, s = 1 - t;
    line.push_back(s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d);
  }
}

}  // namespace skewback
