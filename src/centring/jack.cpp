#include "centring/jack.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "base/constants.hpp"
#include "centring/judge_parts.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

// from memory: EN 10025-2 (S235), EN 1993-1-1 (E; 5.3.2, sway 1/200), EN 12811-1 (gamma_M 1.1; a
// screw stays in by a quarter of its length and 150 mm), machine design texts (friction, pressure
// on flanks of steel on steel that is seldom turned)
constexpr double kYield_pa = 235e6, kGamma = 1.1, kStiffness_pa = 210e9, kSway = 1.0 / 200;
constexpr double kOverlap_m = 0.15, kOverlapShare = 0.25;
constexpr double kThreadFriction = 0.15, kFlank_rad = 15 * kPi / 180, kFlankPressure_pa = 10e6;
constexpr double kBoreClear_m = 0.002, kBoreShare = 0.5;  // of a post's side, ours

std::size_t at(int i) { return static_cast<std::size_t>(i); }

struct FootLoad {
  std::string foot;
  double design_n = 0, weight_n = 0, sideways_n = 0, post_m = 0;
};

/// As much sideways as the check of sliding lets a foot pass on.
std::vector<FootLoad> loads_of(const Brief& brief, const Centring& centring) {
  constexpr double kFriction = 2;  // as in judge_sway.cpp
  std::vector<FootLoad> out;
  for (std::size_t f = 0; f < centring.feet.size(); ++f) {
    const CentringFoot& foot = centring.feet[f];
    if (foot.post < 0) continue;
    const Stick& post = centring.sticks[at(foot.post)];
    FootLoad load{foot.id, 0, 0, 0, (post.to - post.from).norm()};
    if (f < centring.foot_findings.size()) {
      load.design_n = centring.foot_findings[f].design_n;
      load.weight_n = centring.foot_findings[f].load_max_n;
    }
    load.sideways_n =
        std::max(brief.centring.friction / kFriction, brief.centring.horizontal_share) *
            load.design_n +
        (foot.held ? hold_n(brief, brief.centring.foot_hold_n) : 0);
    out.push_back(load);
  }
  return out;
}

/// The bore's side carries the moment as a straight-line pressure over the overlap, both ways.
double overlap_for(const Brief& brief, const TrapezoidalThread& thread, double extension_m,
                   double moment_nm) {
  const double across = design_pa(brief, brief.centring.bearing_strength_pa);
  return std::max({kOverlap_m, extension_m * kOverlapShare / (1 - kOverlapShare),
                   std::sqrt(6 * moment_nm / (thread.outer_m * across))});
}

Jack tried(const Brief& brief, const std::vector<FootLoad>& loads, const TrapezoidalThread& thread,
           double extension_m) {
  const CentringRequest& ask = brief.centring;
  Jack jack;
  jack.thread = thread;
  jack.extension_m = extension_m;
  double moment_max = 0, weight = 0;
  for (const FootLoad& load : loads) {
    double moment = 0;
    const double used = screw_used(thread, extension_m, load.design_n, load.sideways_n, &moment);
    weight = std::max(weight, load.weight_n);
    moment_max = std::max(moment_max, moment);
    if (used <= jack.used) continue;
    jack.used = used;
    jack.foot = load.foot;
    jack.load_n = load.design_n;
    jack.sideways_n = load.sideways_n;
    jack.moment_nm = moment;
  }
  jack.overlap_m = std::isfinite(moment_max) ? overlap_for(brief, thread, extension_m, moment_max)
                                             : std::numeric_limits<double>::infinity();
  jack.length_m = extension_m + jack.overlap_m;
  jack.bore_m = jack.overlap_m + ask.travel_m;
  jack.nut_m = std::max(thread.outer_m, 2 * weight / (kPi * thread.mean_m() * kFlankPressure_pa));
  jack.turning_nm = turning_nm(thread, weight);
  for (const FootLoad& load : loads) jack.posts_too_short += load.post_m < jack.bore_m ? 1 : 0;
  jack.found = jack.used <= 1 && thread.outer_m + kBoreClear_m <= kBoreShare * ask.post_m;
  return jack;
}

}  // namespace

double TrapezoidalThread::root_m() const {
  return outer_m - pitch_m - 2 * (pitch_m <= 0.005 ? 0.25e-3 : 0.5e-3);
}

std::string TrapezoidalThread::name() const {
  char text[32];
  std::snprintf(text, sizeof text, "Tr %.0f x %.0f", 1e3 * outer_m, 1e3 * pitch_m);
  return text;
}

const std::vector<TrapezoidalThread>& trapezoidal_threads() {
  static const std::vector<TrapezoidalThread> table = {
      {0.024, 0.005}, {0.028, 0.005}, {0.032, 0.006}, {0.036, 0.006}, {0.040, 0.007},
      {0.044, 0.007}, {0.048, 0.008}, {0.052, 0.008}, {0.060, 0.009}};
  return table;
}

double screw_used(const TrapezoidalThread& thread, double extension_m, double load_n,
                  double sideways_n, double* moment_nm) {
  const double d = thread.root_m(), f = kYield_pa / kGamma;
  const double section = kPi / 4 * d * d, modulus = kPi / 32 * d * d * d;
  const double inertia = kPi / 64 * d * d * d * d;
  const double critical = kPi * kPi * kStiffness_pa * inertia / (4 * extension_m * extension_m);
  const double infinite = std::numeric_limits<double>::infinity();
  if (load_n >= critical) {
    if (moment_nm != nullptr) *moment_nm = infinite;
    return infinite;
  }
  const double moment = (sideways_n + kSway * load_n) * extension_m / (1 - load_n / critical);
  if (moment_nm != nullptr) *moment_nm = moment;
  return load_n / (section * f) + moment / (modulus * f);
}

double turning_nm(const TrapezoidalThread& thread, double load_n) {
  const double climb = std::atan(thread.pitch_m / (kPi * thread.mean_m()));
  const double rub = std::atan(kThreadFriction / std::cos(kFlank_rad));
  return load_n * thread.mean_m() / 2 * std::tan(climb + rub);
}

Jack jack_for(const Brief& brief, const Centring& centring) {
  const std::vector<FootLoad> loads = loads_of(brief, centring);
  double up = 0;
  for (const CentringFoot& foot : centring.feet) up = std::max(up, foot.up_m);
  const double extension = foot_room_m(brief.centring) + up;
  Jack jack;
  for (const TrapezoidalThread& thread : trapezoidal_threads()) {
    jack = tried(brief, loads, thread, extension);
    if (jack.found) break;
  }
  jack.without_post = static_cast<int>(
      std::ranges::count_if(centring.feet, [](const CentringFoot& foot) { return foot.post < 0; }));
  return jack;
}

}  // namespace skewback
