#include "cut/spacing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

/// Courses per metre so that each weighs `mass` at most and is `length` long at most.
std::vector<double> density(const std::vector<double>& mass_per_metre, double mass, double length) {
  std::vector<double> out;
  for (double m : mass_per_metre)
    out.push_back(std::max(mass > 0 ? m / mass : 0.0, length > 0 ? 1 / length : 0.0));
  return out;
}

std::vector<double> sums(const std::vector<double>& along, const std::vector<double>& per_metre) {
  std::vector<double> sum{0};
  for (std::size_t i = 1; i < along.size(); ++i)
    sum.push_back(sum.back() + (along[i] - along[i - 1]) * (per_metre[i] + per_metre[i - 1]) / 2);
  return sum;
}

/// Where the running sum, linear between samples, reaches `value`.
double reach(const std::vector<double>& along, const std::vector<double>& sum, double value) {
  const auto it = std::lower_bound(sum.begin() + 1, sum.end() - 1, value);
  const auto i = static_cast<std::size_t>(it - sum.begin());
  return along[i - 1] + (along[i] - along[i - 1]) * (value - sum[i - 1]) / (sum[i] - sum[i - 1]);
}

}  // namespace

std::vector<double> even_courses(const std::vector<double>& along,
                                 const std::vector<double>& mass_per_metre,
                                 const Spacing& spacing) {
  const double whole = along.back();
  std::vector<double> joints{0};
  if (spacing.count > 0) {
    for (int i = 1; i <= spacing.count; ++i) joints.push_back(whole * i / spacing.count);
    return joints;
  }
  const auto courses = [&](double mass) {
    return sums(along, density(mass_per_metre, mass, spacing.length_most_m));
  };
  std::vector<double> sum = courses(spacing.mass_most_kg);
  const int n = std::max(1, static_cast<int>(std::ceil(sum.back() - 1e-9)));
  // the same count with the least mass: what the limit on length leaves free is evened out
  double low = 0, high = spacing.mass_most_kg > 0 ? spacing.mass_most_kg
                                                  : sums(along, mass_per_metre).back();
  for (int i = 0; i < 60; ++i) {
    const double mid = (low + high) / 2;
    (courses(mid).back() > n ? low : high) = mid;
  }
  sum = courses(high);
  for (int i = 1; i < n; ++i) joints.push_back(reach(along, sum, sum.back() * i / n));
  joints.push_back(whole);
  return joints;
}

Stretch stretch_of(const std::vector<double>& along, const std::vector<double>& mass_per_metre,
                   double from, double to) {
  const auto mass_at = [&](double s) {
    const auto i = std::clamp<std::ptrdiff_t>(
        std::lower_bound(along.begin(), along.end(), s) - along.begin(), 1, std::ssize(along) - 1);
    const auto k = static_cast<std::size_t>(i);
    const double share = (s - along[k - 1]) / (along[k] - along[k - 1]);
    return mass_per_metre[k - 1] + share * (mass_per_metre[k] - mass_per_metre[k - 1]);
  };
  Stretch out{{0}, {mass_at(from)}};
  for (std::size_t i = 0; i < along.size(); ++i) {
    if (along[i] <= from + 1e-9 || along[i] >= to - 1e-9) continue;
    out.along.push_back(along[i] - from);
    out.mass_per_metre.push_back(mass_per_metre[i]);
  }
  out.along.push_back(to - from);
  out.mass_per_metre.push_back(mass_at(to));
  return out;
}

std::vector<double> even_courses_with(const std::vector<double>& along,
                                      const std::vector<double>& mass_per_metre,
                                      const Spacing& spacing, const std::vector<double>& stops) {
  if (stops.empty()) return even_courses(along, mass_per_metre, spacing);
  std::vector<double> ends = stops, joints{0};
  if (ends.back() < along.back()) ends.push_back(along.back());
  Spacing each = spacing;
  each.count = 0;
  for (const double end : ends) {
    const double from = joints.back();
    const Stretch part = stretch_of(along, mass_per_metre, from, end);
    const std::vector<double> inside = even_courses(part.along, part.mass_per_metre, each);
    for (std::size_t i = 1; i < inside.size(); ++i) joints.push_back(from + inside[i]);
  }
  return joints;
}

}  // namespace skewback
