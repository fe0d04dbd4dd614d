#include <algorithm>
#include <cmath>

#include "solve/block_lu.hpp"
#include "stand/pad_state.hpp"

namespace skewback {
namespace {

constexpr double kShortest = 1.0 / 1024;  // of a Newton step
constexpr double kDecrease = 1e-4;        // of what is left of balance, for the whole step
constexpr double kRegularise = 1e-9;      // of the mean stiffness

/// Responses with bounds from the pressures, and what is left of balance, at work.u. `rounding`:
/// as respond_coulomb.
void evaluate_coupled(const PadSystem& system, double rounding, PadWork& work) {
  static const std::vector<Vec2> kNoDrift;
  work.gradient = -work.loads;
  for_each_place(system, [&](std::size_t i) {
    const PadPlace& place = system.places[i];
    respond_coulomb(place.law, movement_of(place, work.u, work.given[i]),
                    work.drift.empty() ? kNoDrift : work.drift[i], place.friction, rounding,
                    work.response[i]);
  });
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const PadResponse& r = work.response[i];
    for (const auto& [slot, lever] :
         {std::pair{place.slot_a, &place.from_a}, {place.slot_b, &place.from_b}}) {
      if (slot >= 0) work.gradient.segment<6>(6 * slot) -= lever->transpose() * r.wrench;
    }
  }
}

void form(const PadSystem& system, const PadWork& work, BlockLu& J) {
  J.set_zero();
  double trace = 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const Mat6& S = work.response[i].stiffness;
    const std::pair<int, const Mat6*> ends[] = {{place.slot_a, &place.from_a},
                                                {place.slot_b, &place.from_b}};
    for (const auto& [column, from] : ends) {
      if (column < 0) continue;
      const Mat6 moved = S * *from;
      for (const auto& [row, to] : ends) {
        if (row < 0) continue;
        const Mat6 block = to->transpose() * moved;
        if (row == column) trace += block.trace();
        J.add(row, column, block);
      }
    }
  }
  const int n = static_cast<int>(system.blocks.size());
  const double shift = std::max(kRegularise * trace / (6.0 * n), 1e-300);
  for (int s = 0; s < n; ++s) J.add(s, s, shift * Mat6::Identity());
}

void put_bounds(const PadSystem& system, PadWork& work) {
  work.bound.resize(system.places.size());
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    work.bound[i] = work.response[i].normal;
    for (double& bound : work.bound[i]) bound *= system.places[i].friction;
  }
}

}  // namespace

bool settle_coupled(const PadSystem& system, double tolerance, int steps_most, int& steps,
                    PadWork& work, double rounding) {
  if (system.blocks.empty()) return false;
  BlockLu J(system.pattern);
  evaluate_coupled(system, rounding, work);
  PadWork trial = work;
  for (int step = 0;; ++step) {
    const double off = work.gradient.lpNorm<Eigen::Infinity>() / system.force_unit;
    if (off <= tolerance) {
      put_bounds(system, work);
      return work.u.lpNorm<Eigen::Infinity>() <= system.length_unit;
    }
    if (step == steps_most) return false;
    ++steps;
    form(system, work, J);
    if (!J.factorise()) return false;
    VectorX du = -work.gradient;
    J.solve(du);
    if (!du.allFinite()) return false;
    double s = 1;
    for (;; s /= 2) {
      if (s < kShortest) return false;
      trial.u = work.u + s * du;
      evaluate_coupled(system, rounding, trial);
      if (trial.gradient.norm() < (1 - kDecrease * s) * work.gradient.norm()) break;
    }
    std::swap(work, trial);
  }
}

bool settle_by_rounding(const PadSystem& system, double tolerance, int& steps, PadWork& work) {
  constexpr double kFirst = 0.5, kShare = 0.5, kSharpest = 1.0 / 256, kSmallest = 0.8,
                   kLoose = 1e-6;
  constexpr int kStepsEach = 30, kTries = 20;
  double rounding = kFirst, share = kShare;
  if (!settle_coupled(system, kLoose, kStepsEach, steps, work, rounding)) return false;
  for (int tried = 0; tried < kTries && share < kSmallest; ++tried) {
    const double next = rounding <= kSharpest ? 0 : rounding * share;
    PadWork trial = work;
    if (!settle_coupled(system, next == 0 ? tolerance : kLoose, kStepsEach, steps, trial, next)) {
      if (next == 0) return false;
      share = std::sqrt(share);
      continue;
    }
    work = std::move(trial);
    if (next == 0) return true;
    rounding = next;
    share = std::max(kShare, share * share);
  }
  return false;
}

}  // namespace skewback
