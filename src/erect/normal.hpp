#pragma once
// The normal distribution. Private to erect/.

namespace skewback {

/// Phi(x), by the complementary error function.
[[nodiscard]] double normal_chance(double x);
/// x with Phi(x) = chance, to rounding; -inf at 0, inf at 1. Start: Hastings' rational form
/// (Abramowitz and Stegun 1964, 26.2.23), then Halley's steps.
[[nodiscard]] double normal_point(double chance);

}  // namespace skewback
