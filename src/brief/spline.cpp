#include "brief/spline.hpp"

#include <cmath>

namespace skewback {
namespace {

// Second derivatives at the knots: tridiagonal system, zero at both ends (Thomas's elimination).
std::vector<Vec2> knot_curvatures(const std::vector<Vec2>& p, const std::vector<double>& h) {
  const std::size_t n = p.size();
  std::vector<Vec2> m(n, Vec2::Zero()), rhs(n, Vec2::Zero());
  std::vector<double> diagonal(n, 1.0), upper(n, 0.0);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double lower = h[i - 1];
    const double w = i == 1 ? 0.0 : lower / diagonal[i - 1];
    diagonal[i] = 2 * (h[i - 1] + h[i]) - w * upper[i - 1];
    upper[i] = h[i];
    rhs[i] = 6 * ((p[i + 1] - p[i]) / h[i] - (p[i] - p[i - 1]) / h[i - 1]) - w * rhs[i - 1];
  }
  for (std::size_t i = n - 1; i-- > 1;) m[i] = (rhs[i] - upper[i] * m[i + 1]) / diagonal[i];
  return m;
}

}  // namespace

std::vector<Vec2> natural_spline(const std::vector<Vec2>& p, double step_m) {
  if (p.size() < 3) return p;
  std::vector<double> h(p.size() - 1);
  for (std::size_t i = 0; i < h.size(); ++i) h[i] = (p[i + 1] - p[i]).norm();
  const std::vector<Vec2> m = knot_curvatures(p, h);
  std::vector<Vec2> curve{p.front()};
  for (std::size_t i = 0; i < h.size(); ++i) {
    const int steps = std::max(1, static_cast<int>(std::ceil(h[i] / step_m - 1e-9)));
    for (int k = 1; k < steps; ++k) {
      const double b = static_cast<double>(k) / steps, a = 1 - b;
      curve.push_back(a * p[i] + b * p[i + 1] +
                      h[i] * h[i] / 6 * ((a * a * a - a) * m[i] + (b * b * b - b) * m[i + 1]));
    }
    curve.push_back(p[i + 1]);
  }
  return curve;
}

}  // namespace skewback
