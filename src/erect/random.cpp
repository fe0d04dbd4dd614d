#include "erect/random.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

/// The fraction of DLMF 8.17.22 by Lentz's method; x under (a + 1)/(a + b + 2).
double beta_fraction(double x, double a, double b) {
  constexpr double kTiny = 1e-300;
  double c = 1, d = 1 - (a + b) * x / (a + 1);
  d = 1 / (std::abs(d) < kTiny ? kTiny : d);
  double f = d;
  for (int m = 1; m < 500; ++m) {
    for (const double term : {m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
                              -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))}) {
      d = 1 + term * d;
      d = 1 / (std::abs(d) < kTiny ? kTiny : d);
      c = 1 + term / c;
      if (std::abs(c) < kTiny) c = kTiny;
      f *= c * d;
    }
    if (std::abs(c * d - 1) < 1e-15) break;
  }
  return f;
}

double log_beta(double a, double b) { return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b); }

/// x in [low, 1] with I_x(a, b) = chance: Newton's steps kept within a shrinking bracket.
double beta_point(double chance, double a, double b, double low) {
  double high = 1, x = 0.5 * (low + high);
  const double scale = log_beta(a, b);
  for (int step = 0; step < 100 && high - low > 1e-15; ++step) {
    const double over = beta_chance(x, a, b) - chance;
    (over > 0 ? high : low) = x;
    const double density = std::exp((a - 1) * std::log(x) + (b - 1) * std::log1p(-x) - scale);
    const double next = x - over / density;
    const double before = x;
    x = next > low && next < high ? next : 0.5 * (low + high);
    if (std::abs(x - before) < 1e-15) break;
  }
  return x;
}

}  // namespace

double beta_chance(double x, double a, double b) {
  if (!(x > 0)) return 0;
  if (!(x < 1)) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - beta_chance(1 - x, b, a);
  const double front = std::exp(a * std::log(x) + b * std::log1p(-x) - log_beta(a, b)) / a;
  return front * beta_fraction(x, a, b);
}

BetaTable::BetaTable(double a, double b) : a_(a), b_(b), points_(kSteps + 1) {
  points_[kSteps] = 1;
  for (std::size_t i = 1; i < kSteps; ++i)
    points_[i] = beta_point(static_cast<double>(i) / kSteps, a, b, points_[i - 1]);
}

double BetaTable::end(double place) const {
  if (place < 1) return points_[1] * std::pow(place, 1 / a_);
  return 1 - (1 - points_[kSteps - 1]) * std::pow(kSteps - place, 1 / b_);
}

}  // namespace skewback
