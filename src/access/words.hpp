#pragma once
// Numbers as words, independent of the locale.

#include <array>
#include <charconv>
#include <cmath>
#include <string>

namespace skewback::access {

inline std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "n/a";
  std::array<char, 64> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value,
                                 std::chars_format::fixed, decimals);
  return end.ec == std::errc() ? std::string(text.data(), end.ptr) : "n/a";
}

/// "1:12", "1:2.5"; "level" under one in a thousand.
inline std::string one_in(double gradient) {
  if (std::abs(gradient) < 1e-3) return "level";
  const double run = 1 / std::abs(gradient);
  return "1:" + fixed(run, std::abs(run - std::round(run)) < 0.05 ? 0 : 1);
}

inline std::string percent(double share) { return fixed(100 * share, 1) + " %"; }

}  // namespace skewback::access
