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

namespace {

constexpr double kFinestStep = 0.1e-3;  // m: no tap on a wedge, or turn of a jack, is finer

/// A row that goes down by a step leaves its load to the others, the more the larger the step.
std::string smaller_step(const CentringRequest& ask, const CentringCheck& check) {
  if (!check.stage.starts_with("lower") || ask.strike_step_m < 1.5 * kFinestStep) return "";
  return "first of all a smaller step of lowering (centring.strike_step, now " +
         fixed(1e3 * ask.strike_step_m, 1) + " mm); if that is not enough, ";
}

std::string stronger(const CentringRequest& ask, const CentringCheck& check) {
  const double used = check.utilisation;
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
  if (name == "end of a brace" || name == "bolt in a post")
    return posts(name == "bolt in a post" ? used : std::sqrt(used)) +
           ", which have room for a thicker bolt; or ribs nearer together (centring.rib_spacing): "
           "more braces share the force";
  return "";
}

}  // namespace

std::string centring_remedy(const CentringRequest& ask, const CentringCheck& check) {
  if (check.utilisation <= 1 || !std::isfinite(check.utilisation)) return "";
  if (check.name == "travel down")
    return "feet with more travel (centring.travel), or a smaller step (centring.strike_step)";
  const std::string more = stronger(ask, check);
  return more.empty() ? "" : smaller_step(ask, check) + more;
}

}  // namespace skewback::deliver
