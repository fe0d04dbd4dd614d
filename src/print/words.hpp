#pragma once
// Private to print/: figures in places, changes and remarks.

#include <cmath>
#include <cstdio>
#include <string>

#include "base/constants.hpp"

namespace skewback {

[[nodiscard]] inline std::string figure(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}
/// Three figures, the last rounded up or down, so that what is read is still enough.
[[nodiscard]] inline std::string rounded(double value, bool up) {
  char text[64];
  const double unit = std::pow(10, std::floor(std::log10(value)) - 2);
  const double whole = value / unit;
  std::snprintf(text, sizeof text, "%.3g",
                unit * (up ? std::ceil(whole - 1e-9) : std::floor(whole + 1e-9)));
  return text;
}
[[nodiscard]] inline std::string millimetres(double m, int decimals = 0) {
  return figure(m * 1e3, decimals) + " mm";
}
[[nodiscard]] inline std::string in_degrees(double rad) {
  return figure(rad * 180 / kPi, 1) + " degrees";
}
/// `layer` from 0.
[[nodiscard]] inline std::string layer_words(std::size_t layer, std::size_t of) {
  return "layer " + std::to_string(layer + 1) + " of " + std::to_string(of);
}
[[nodiscard]] inline std::string duration(double s) {
  if (s < 119.5) return figure(s, 0) + " s";
  if (s < 119.5 * 60) return figure(s / 60, 0) + " min";
  return figure(s / 3600, 1) + " h";
}

}  // namespace skewback
