#pragma once
// Figures in reasons and remarks. Private to ground/.

#include <cstdio>
#include <string>

namespace skewback {

[[nodiscard]] inline std::string figure(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}
[[nodiscard]] inline std::string kilonewtons(double n) { return figure(n / 1e3, 2) + " kN"; }
[[nodiscard]] inline std::string kilonewton_metres(double nm) {
  return figure(nm / 1e3, 2) + " kN m";
}
[[nodiscard]] inline std::string metres(double m) { return figure(m, 2) + " m"; }
[[nodiscard]] inline std::string millimetres(double m) { return figure(m * 1e3, 0) + " mm"; }

}  // namespace skewback
