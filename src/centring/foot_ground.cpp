#include "centring/foot_ground.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {
constexpr double kGrid = 0.01;  // m; feet stand on a grid of this along their rib
constexpr double kNear = 0.2;   // m; feet are no nearer to each other along a rib
}  // namespace

double foot_room_m(const CentringRequest& request) {
  return request.feet == "jacks" ? std::max(0.2, 0.14 + request.travel_m)
                                 : std::max(0.15, 0.09 + request.travel_m);
}
double foot_to_end_m(const CentringRequest& request) { return request.post_m / 2 + 0.05; }

FootGround::FootGround(const CentringRequest& request) : apart_(1.5 * request.post_m) {
  Regions drawn;
  for (const auto& polygon : request.no_feet) drawn.push_back({polygon, {}});
  if (!drawn.empty()) barred_ = offset(unite(drawn), request.post_m / 2 * std::sqrt(2.0));
}

bool FootGround::barred(const Vec2& p) const {
  return std::ranges::any_of(barred_, [&](const Region& r) { return contains(r, p); });
}

bool FootGround::allowed(const Vec2& p) const {
  return !barred(p) &&
         std::ranges::none_of(taken_, [&](const Vec2& t) { return (t - p).norm() < apart_; });
}

std::optional<double> FootGround::next(const PlanLine& line, double x, double step,
                                       double reach) const {
  const int steps = static_cast<int>(reach / std::abs(step));
  for (int i = 0; i <= steps; ++i) {
    if (allowed(line.point(x + i * step))) return x + i * step;
  }
  return std::nullopt;
}

std::vector<double> feet_under(const CentringRequest& request, const FootGround& ground,
                               const PlanLine& line, double from_end, double to_end,
                               const std::vector<double>& crossings) {
  if (!(to_end >= from_end)) return {};
  const auto first = ground.next(line, from_end, kGrid, to_end - from_end);
  const auto last = ground.next(line, to_end, -kGrid, to_end - from_end);
  if (!first || !last) return {};
  std::vector<double> places;
  for (const double x : crossings) places.push_back(x);
  for (double x = *first; x < *last; x += kGrid) places.push_back(x);
  std::erase_if(places, [&](double x) {
    return x < *first || x > *last - kNear || !ground.allowed(line.point(x));
  });
  std::ranges::sort(places);

  std::vector<double> feet{*first};
  while (*last - feet.back() > request.foot_spacing_m + 1e-9) {
    const double from = feet.back(), left = *last - from;
    const double even = from + left / std::ceil(left / request.foot_spacing_m - 1e-9);
    const double near = std::min(kNear, request.foot_spacing_m / 2);
    std::optional<double> best, bank, beyond;
    double worst = 0;
    for (const double x : places) {
      if (x < from + near) continue;
      if (x > from + request.foot_spacing_m + 1e-9) {
        if (!beyond) beyond = x;
        continue;
      }
      const bool crossed =
          std::ranges::any_of(crossings, [&](double c) { return std::abs(c - x) < 1e-9; });
      const double away = std::abs(x - even) - (crossed ? 0.15 : 0.0);
      if (!best || away < worst) {
        best = x;
        worst = away;
      }
      bank = x;
    }
    if (!best) {  // over what bars it
      feet.push_back(beyond.value_or(*last));
      continue;
    }
    // where the next foot could only stand further than the spacing, this one goes to the edge
    const bool reaches = std::ranges::any_of(
        places, [&](double x) { return x >= *best + near && x <= *best + request.foot_spacing_m; });
    feet.push_back(reaches || *last - *best <= request.foot_spacing_m ? *best : *bank);
  }
  if (*last - feet.back() > 1e-9) feet.push_back(*last);
  return feet;
}

double longest_stretch(const std::vector<double>& feet, double length) {
  if (feet.empty()) return 4 * length;
  double longest = 2 * std::max(feet.front(), length - feet.back());
  for (std::size_t i = 1; i < feet.size(); ++i) {
    longest = std::max(longest, feet[i] - feet[i - 1]);
  }
  return longest;
}

}  // namespace skewback
