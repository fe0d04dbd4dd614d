#include "survey/finding.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/constants.hpp"

namespace skewback {
namespace {

std::string figure(double value, int decimals, const char* unit) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f%s", decimals, value, unit);
  return text;
}
std::string millimetres(double m) { return figure(m * 1e3, 0, " mm"); }
std::string degrees(double radians) { return figure(std::abs(radians) * 180 / kPi, 2, " degrees"); }

std::string listed(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    text += (i == 0 ? "" : (i + 1 == parts.size() ? " and " : ", ")) + parts[i];
  }
  return text;
}

std::vector<std::string> motion_in_words(const Support& support, const Rigid& motion) {
  const Vec2 middle = (support.a + support.b) / 2, along = (support.b - support.a).normalized();
  const Vec2 out(along.y(), -along.x());
  const Vec3 at(middle.x(), middle.y(), support.level_m), shift = motion(at) - at;
  const double outward = shift.head<2>().dot(out), sideways = shift.head<2>().dot(along);
  const double turn = std::atan2(motion.R(1, 0) - motion.R(0, 1), motion.R(0, 0) + motion.R(1, 1));
  const double tilt = std::acos(std::clamp(motion.R(2, 2), -1.0, 1.0));
  constexpr double kLength = 0.5e-3, kAngle = 0.05 * kPi / 180;
  std::vector<std::string> parts;
  const auto add = [&](double length, const char* positive, const char* negative) {
    if (std::abs(length) < kLength) return;
    parts.push_back(millimetres(std::abs(length)) + (length > 0 ? positive : negative));
  };
  add(shift.z(), " high", " low");
  add(outward, " out", " in");
  add(sideways, " to the left", " to the right");
  if (std::abs(turn) >= kAngle) {
    parts.push_back("turned " + degrees(turn) + (turn > 0 ? " anticlockwise" : " clockwise"));
  }
  if (tilt >= kAngle) parts.push_back("tilted " + degrees(tilt));
  return parts;
}

}  // namespace

std::string footings_in_words(const Brief& brief, const std::vector<Rigid>& motion) {
  std::string text;
  for (std::size_t s = 0; s < motion.size(); ++s) {
    const auto parts = motion_in_words(brief.plan.supports[s], motion[s]);
    if (parts.empty()) continue;
    text += (text.empty() ? "" : "; ") + ("footing " + brief.plan.supports[s].id + " is ") +
            listed(parts);
  }
  return text.empty() ? "every footing is within 0.5 mm of the plan" : text;
}

std::string closing_in_words(const Refit& found, double packer_max_m) {
  if (found.misfits.empty()) return "all joints close as designed";
  double tight = std::numeric_limits<double>::infinity(), thin = tight, thick = 0, step = 0;
  bool apart = false;
  for (const JointMisfit& m : found.misfits) {
    tight = std::min(tight, m.gap_min_m);
    step = std::max(step, m.step_m);
    apart = apart || found.as_built.joints[m.joint].contact.empty();
    for (const auto& [corner, thickness] : m.packers) {
      thin = std::min(thin, thickness);
      thick = std::max(thick, thickness);
    }
  }
  std::string text = found.key_goes_in
                         ? "the key goes in"
                         : "the key does not go in: a joint is " + millimetres(-tight) +
                               " tighter than designed, trim it or move a footing";
  if (found.packers > 0) {
    text += "; " + std::to_string(found.packers) + " packers of " + millimetres(thin) + " to " +
            millimetres(thick);
  }
  if (thick > packer_max_m) text += ", over the " + millimetres(packer_max_m) + " allowed";
  if (step >= 1e-3) text += "; its faces are out of line by up to " + millimetres(step);
  if (apart) text += "; at one joint at least the faces no longer meet";
  return text;
}

}  // namespace skewback
