// Braces: what they touch, what they carry, which feet they hold along a rib.

#include <algorithm>
#include <cmath>

#include "centring/judge_parts.hpp"

namespace skewback {
namespace {

// m, from a packing's middle to the axes of the pair it packs; from a brace's end to its post's
constexpr double kOnAxis = 0.02;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

double off_stick_m(const Stick& stick, const Vec3& p) {
  const Vec3 axis = stick.to - stick.from;
  const double t = std::clamp((p - stick.from).dot(axis) / axis.squaredNorm(), 0.0, 1.0);
  return (p - stick.from - t * axis).norm();
}

double brace_lever_m(const Centring& centring, const Stick& post, const Vec3& way) {
  const Vec3 axis = post.to - post.from;
  const double length = axis.norm();
  double lower = 0, upper = 0;
  for (const Stick& brace : centring.sticks) {
    const Vec3 along = brace.to - brace.from;
    if (brace.kind != "brace" || along.norm() <= 0) continue;
    const double share = std::abs(along.dot(way)) / along.norm();
    if (share <= kBraceAligned * along.head<2>().norm() / along.norm()) continue;
    for (const Vec3& end : {brace.from, brace.to}) {
      if (off_stick_m(post, end) > kOnAxis) continue;
      const double up = (end - post.from).dot(axis) / length;
      if (2 * up < length)
        lower += share * up;
      else
        upper += share * (length - up);
    }
  }
  return std::max(lower, upper);
}

double brace_n(const Brief& brief, const Centring& centring, const Stick& brace) {
  const Vec3 axis = brace.to - brace.from;
  double longest = axis.norm();
  for (const Stick& packing : centring.sticks) {
    const Vec3 middle = (packing.from + packing.to) / 2;
    if (packing.kind != "packing" || off_stick_m(brace, middle) > kOnAxis) continue;
    const double part = (middle - brace.from).dot(axis) / axis.squaredNorm();
    longest = std::max(part, 1 - part) * axis.norm();
  }
  return strut_n(brief, brace, longest);
}

FootHold braces_along(const Brief& brief, const Centring& centring, int foot) {
  FootHold out;
  const CentringFoot& on = centring.feet[at(foot)];
  const auto rib = std::ranges::find(centring.ribs, on.rib, &Rib::id);
  if (on.post < 0 || rib == centring.ribs.end()) return out;
  const Stick& post = centring.sticks[at(on.post)];
  for (const Stick& brace : centring.sticks) {
    const double length = (brace.to - brace.from).norm();
    if (brace.kind != "brace" || length <= 0) continue;
    const Vec3& upper = brace.to.z() > brace.from.z() ? brace.to : brace.from;
    const double flat = std::abs((brace.to - brace.from).dot(rib->place.x)) / length;
    const double plan = (brace.to - brace.from).head<2>().norm() / length;
    if (off_stick_m(post, upper) > kBraceTouches || flat <= kBraceAligned * plan) continue;
    const double holds = brace_n(brief, centring, brace);
    out.strut_n = out.flat > 0 ? std::min(out.strut_n, holds) : holds;
    out.flat += flat;
    out.rise = std::max(out.rise, std::abs(brace.to.z() - brace.from.z()) / length);
    out.stiffness_n_m +=
        brief.centring.stiffness_pa * brace.width_m * brace.depth_m / length * flat * flat;
  }
  return out;
}

}  // namespace skewback
