#include "deliver/centring_remedy.hpp"

#include <cmath>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

/// Up to the next whole step.
std::string mm_up(double metre, double step_mm) {
  return fixed(step_mm * std::ceil(1e3 * metre / step_mm - 1e-9), 0) + " mm";
}

std::string nearer_feet(const CentringRequest& ask, double power, double used) {
  return "feet no more than " +
         fixed(0.05 * std::floor(ask.foot_spacing_m / std::pow(used, 1 / power) / 0.05 + 1e-9), 2) +
         " m apart (centring.foot_spacing)";
}

}  // namespace

std::string centring_remedy(const CentringRequest& ask, const CentringCheck& check) {
  const double used = check.utilisation;
  if (used <= 1 || !std::isfinite(used)) return "";
  const auto sheets = [&](double times) {
    return "sheets of " + mm_up(times * ask.sheet_thickness_m, 1) + " (centring.sheet_thickness)";
  };
  const auto deeper = [&](double times) {
    return "ribs " + mm_up(times * ask.rib_depth_m, 10) + " deep (centring.rib_depth)";
  };
  const auto posts = [&](double times) {
    return "posts of " + mm_up(times * ask.post_m, 10) + " (centring.post)";
  };
  const std::string& name = check.name;
  if (name == "bending")
    return deeper(std::sqrt(used)) + ", or " + sheets(used) + ", or " + nearer_feet(ask, 2, used);
  if (name == "shear")
    return deeper(used) + ", or " + sheets(used) + ", or " + nearer_feet(ask, 1, used);
  if (name == "deflection") return deeper(std::cbrt(used)) + ", or " + nearer_feet(ask, 4, used);
  if (name == "bearing under a seat") return sheets(used);
  if (name == "stability sideways" || name == "bending sideways")
    return sheets(used) + ", or ribs across nearer together (centring.cross_spacing)";
  if (name == "post" || name == "wedge under a post" || name == "post on its jack")
    return posts(std::sqrt(used)) + ", or " + nearer_feet(ask, 1, used);
  if (name == "rib on a post's head") return posts(used) + ", or " + sheets(used);
  if (name == "jack")
    return "jacks for " + fixed(ask.jack_capacity_n * used / 1e3, 0) +
           " kN (centring.jack_capacity), or " + nearer_feet(ask, 1, used);
  if (name == "foot pulled up")
    return "feet held down by " + fixed(std::ceil(used * ask.foot_hold_up_n / 100) / 10, 1) +
           " kN each (centring.foot_hold_up)";
  if (name == "feet slide")
    return "feet held sideways by " +
           fixed(ask.foot_hold_factor * (check.demand - check.resistance) / 1e3, 1) +
           " kN more in all (centring.foot_hold)";
  return "";
}

}  // namespace skewback::deliver
