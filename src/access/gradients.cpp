#include "access/gradients.hpp"

#include <algorithm>
#include <cmath>

namespace skewback::access {
namespace {

constexpr double kRound = 1e-9;  // m, and rise over run: rounding

double slope_of(const Profile& walk, std::size_t i) {  // of the piece after i
  return (walk.z_m[i + 1] - walk.z_m[i]) / (walk.s_m[i + 1] - walk.s_m[i]);
}

/// A rest found by chords reaches a little over its ends: taken back to pieces that are level too.
Stretch trimmed(const Profile& walk, Stretch rest, double slope) {
  const std::size_t n = walk.s_m.size();
  for (std::size_t i = 0; i + 1 < n && rest.length_m() > 0; ++i) {
    if (walk.s_m[i + 1] <= rest.from_m + kRound) continue;
    if (std::abs(slope_of(walk, i)) <= slope + kRound) break;
    rest.from_m = walk.s_m[i + 1];
  }
  for (std::size_t i = n - 1; i-- > 0 && rest.length_m() > 0;) {
    if (walk.s_m[i] >= rest.to_m - kRound) continue;
    if (std::abs(slope_of(walk, i)) <= slope + kRound) break;
    rest.to_m = walk.s_m[i];
  }
  return rest;
}

}  // namespace

double Profile::at(double s) const {
  const auto next = std::upper_bound(s_m.begin() + 1, s_m.end() - 1, s);
  const auto i = static_cast<std::size_t>(next - s_m.begin());
  const double t = std::clamp((s - s_m[i - 1]) / (s_m[i] - s_m[i - 1]), 0.0, 1.0);
  return z_m[i - 1] + t * (z_m[i] - z_m[i - 1]);
}

Steepest steepest(const Profile& walk) {
  Steepest most;
  const double over = std::min(kGradientOver, walk.length_m());
  const std::vector<Step> jumps = steps(walk);
  const auto consider = [&](double from) {
    const bool jumped = std::ranges::any_of(jumps, [&](const Step& step) {
      return step.at_m + step.run_m / 2 > from + kRound &&
             step.at_m - step.run_m / 2 < from + over - kRound;
    });
    if (jumped) return;
    const double g = (walk.at(from + over) - walk.at(from)) / over;
    if (std::abs(g) > std::abs(most.gradient) + kRound) most = {g, from};
  };
  for (const double s : walk.s_m) {
    if (s + over <= walk.s_m.back() + kRound) consider(s);
    if (s - over >= walk.s_m.front() - kRound) consider(s - over);
  }
  return most;
}

std::vector<Stretch> rests(const Profile& walk, double slope, double length_m) {
  std::vector<Stretch> out;
  const double over = std::min(kRestOver, walk.length_m());
  std::optional<Stretch> open;
  const auto close = [&] {
    if (!open) return;
    const Stretch rest = trimmed(walk, *open, slope);
    if (rest.length_m() >= length_m - 1e-6) out.push_back(rest);
    open.reset();
  };
  for (const double s : walk.s_m) {
    if (s + over > walk.s_m.back() + kRound) break;
    if (std::abs(walk.at(s + over) - walk.at(s)) > (slope + kRound) * over) {
      close();
    } else if (open) {
      open->to_m = s + over;
    } else {
      open = Stretch{s, s + over};
    }
  }
  if (open && open->to_m > walk.s_m.back() - over) {  // the last chord ends at the end
    const double last = walk.s_m.back() - over;
    if (std::abs(walk.at(last + over) - walk.at(last)) <= (slope + kRound) * over)
      open->to_m = walk.s_m.back();
  }
  close();
  return out;
}

std::vector<Step> steps(const Profile& walk) {
  std::vector<Step> out;
  for (std::size_t i = 0; i + 1 < walk.s_m.size(); ++i) {
    const double rise = walk.z_m[i + 1] - walk.z_m[i];
    if (std::abs(slope_of(walk, i)) > kRiserSlope && std::abs(rise) > kStepMost)
      out.push_back({(walk.s_m[i] + walk.s_m[i + 1]) / 2, rise, walk.s_m[i + 1] - walk.s_m[i]});
  }
  return out;
}

std::vector<RampRun> ramp_runs(const Profile& walk, const AccessRequest& access) {
  std::vector<RampRun> out;
  const auto add = [&](double from, double to) {
    if (to - from < kRound) return;
    Profile part{{from}, {walk.at(from)}};
    for (std::size_t i = 0; i < walk.s_m.size(); ++i) {
      if (walk.s_m[i] <= from + kRound || walk.s_m[i] >= to - kRound) continue;
      part.s_m.push_back(walk.s_m[i]);
      part.z_m.push_back(walk.z_m[i]);
    }
    part.s_m.push_back(to);
    part.z_m.push_back(walk.at(to));
    if (std::abs(steepest(part).gradient) <= access.ramp_from + kRound) return;
    const auto [low, high] = std::ranges::minmax(part.z_m);
    out.push_back({{from, to}, high - low});
  };
  double from = walk.s_m.front();
  for (const Stretch& rest : rests(walk, access.ramp_from, access.landing_m)) {
    add(from, rest.from_m);
    from = rest.to_m;
  }
  add(from, walk.s_m.back());
  return out;
}

RampPlan plan_ramp(double rise_m, const AccessRequest& access) {
  RampPlan plan;
  if (rise_m <= kRound) return plan;
  plan.runs = static_cast<int>(std::ceil(rise_m / access.run_rise_m - kRound));
  plan.landings = plan.runs + 1;
  plan.run_m = rise_m / access.gradient_max;
  plan.total_m = plan.run_m + plan.landings * access.landing_m;
  return plan;
}

std::optional<Stair> stair_over(double rise_m, double run_m) {
  constexpr double kRiserLeast = 0.1, kRiserMost = 0.18, kGoingLeast = 0.28, kStride = 0.63;
  std::optional<Stair> best;
  const int most = static_cast<int>(rise_m / kRiserLeast + kRound);
  for (int n = std::max(1, static_cast<int>(std::ceil(rise_m / kRiserMost - kRound))); n <= most;
       ++n) {
    Stair stair{n, rise_m / n, run_m / n, 0, false};
    stair.stride_m = 2 * stair.riser_m + stair.going_m;
    stair.comfortable = stair.stride_m >= 0.60 - kRound && stair.stride_m <= 0.66 + kRound;
    if (stair.going_m < kGoingLeast - kRound) continue;
    if (!best || std::abs(stair.stride_m - kStride) < std::abs(best->stride_m - kStride))
      best = stair;
  }
  return best;
}

Profile no_steeper(const Profile& walk, double gradient) {
  Profile out = walk;
  for (std::size_t i = 1; i < out.s_m.size(); ++i)
    out.z_m[i] = std::max(out.z_m[i], out.z_m[i - 1] - gradient * (out.s_m[i] - out.s_m[i - 1]));
  for (std::size_t i = out.s_m.size() - 1; i-- > 0;)
    out.z_m[i] = std::max(out.z_m[i], out.z_m[i + 1] - gradient * (out.s_m[i + 1] - out.s_m[i]));
  return out;
}

}  // namespace skewback::access
