#include "print/fresh_buckling.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kGreenhill = 7.83735;  // 9/4 of the square of the first zero of J(-1/3)
constexpr int kSteps = 4;               // a piece

struct Slope {
  double t = 1, m = 0;  // slope, and E I times its change downwards
};

/// From the top of a piece to its foot, Runge-Kutta of order 4.
Slope down(const ColumnPiece& piece, Slope at, double above_n, double x) {
  const double h = piece.height_m / kSteps;
  const auto rate = [&](const Slope& s, double depth) {
    return Slope{s.m / piece.stiffness_nm2,
                 -x * (above_n + piece.weight_n * depth / piece.height_m) * s.t};
  };
  const auto step = [](const Slope& s, const Slope& r, double d) {
    return Slope{s.t + d * r.t, s.m + d * r.m};
  };
  for (int k = 0; k < kSteps; ++k) {
    const double z = k * h;
    const Slope a = rate(at, z), b = rate(step(at, a, h / 2), z + h / 2);
    const Slope c = rate(step(at, b, h / 2), z + h / 2), d = rate(step(at, c, h), z + h);
    at.t += h / 6 * (a.t + 2 * b.t + 2 * c.t + d.t);
    at.m += h / 6 * (a.m + 2 * b.m + 2 * c.m + d.m);
  }
  return at;
}

/// The slope keeps its sign from the free top to the foot as long as x is under the least root.
bool stands(const std::vector<ColumnPiece>& pieces, double x) {
  Slope at;
  double above = 0;
  for (auto piece = pieces.rbegin(); piece != pieces.rend(); ++piece) {
    at = down(*piece, at, above, x);
    if (!(at.t > 0)) return false;
    above += piece->weight_n;
  }
  return true;
}

}  // namespace

double column_reserve(const std::vector<ColumnPiece>& pieces) {
  double weight = 0, height = 0, soft = std::numeric_limits<double>::infinity();
  for (const ColumnPiece& piece : pieces) {
    weight += piece.weight_n;
    height += piece.height_m;
    soft = std::min(soft, piece.stiffness_nm2);
  }
  if (!(weight > 0)) return std::numeric_limits<double>::infinity();
  // Euler's column, all of it as soft as its softest piece and all weight on top, is under the root
  double low = kPi * kPi / 4 * soft / (height * height * weight), high = 2 * low;
  while (stands(pieces, high)) {
    low = high;
    high *= 2;
  }
  for (int k = 0; k < 60 && high - low > 1e-9 * high; ++k) {
    const double middle = (low + high) / 2;
    (stands(pieces, middle) ? low : high) = middle;
  }
  return low;
}

double column_height_m(double stiffness_pa, double second_moment_m4, double area_m2,
                       double density) {
  return std::cbrt(kGreenhill * stiffness_pa * second_moment_m4 / (density * kGravity * area_m2));
}

}  // namespace skewback
