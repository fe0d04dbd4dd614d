#include "centring/bolt.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

struct Thread {
  double bolt_mm, pitch_mm, nut_mm;
};
constexpr Thread kThreads[] = {{10, 1.5, 8.4}, {12, 1.75, 10.8}, {16, 2, 14.8}, {20, 2.5, 18}};
constexpr double kLengths_mm[] = {40,  45,  50,  55,  60,  65,  70,  80,  90,  100, 110, 120,
                                  130, 140, 150, 160, 180, 200, 220, 240, 260, 280, 300};
constexpr double kTurns = 2, kLongStep_mm = 20;

}  // namespace

std::string BoltSet::name() const {
  return "M" + std::to_string(std::lround(1e3 * bolt_m)) + " x " +
         std::to_string(std::lround(1e3 * length_m));
}

BoltSet bolt_through(double bolt_m, double through_m) {
  const double d = 1e3 * bolt_m;
  Thread thread{d, 0.125 * d, 0.9 * d};
  for (const Thread& known : kThreads)
    if (std::abs(known.bolt_mm - d) < 0.5) thread = known;
  const double washer = std::ceil(0.3 * d - 1e-9);
  const double asks = 1e3 * through_m + 2 * washer + thread.nut_mm + kTurns * thread.pitch_mm;
  const auto* const sold =
      std::ranges::find_if(kLengths_mm, [&](double l) { return l >= asks - 1e-6; });
  const double length =
      sold != std::end(kLengths_mm) ? *sold : kLongStep_mm * std::ceil(asks / kLongStep_mm - 1e-9);
  return {bolt_m, length / 1e3, std::ceil(3 * d - 1e-9) / 1e3, washer / 1e3};
}

}  // namespace skewback
