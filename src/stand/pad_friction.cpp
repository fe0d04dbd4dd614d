#include <algorithm>
#include <cmath>
#include <cstdio>

#include "stand/pad_state.hpp"

namespace skewback {
namespace {

constexpr int kRoundsMost = 400;
constexpr double kShortMost = 1e-6;  // of the largest block weight: friction left unused by slip
constexpr double kShareLeast = 1.0 / 256;  // of the way to the bound that the pressure gives

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

/// Greatest mu n - bound where a point slips under a bound that its pressure has outgrown, N.
double short_of_friction(const PadSystem& system, const PadWork& work) {
  double worst = 0;
  if (work.bound.empty()) return worst;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double bound = work.bound[i][k];
      if (r.tangential[k].norm() < bound * (1 - 1e-9)) continue;
      worst = std::max(worst, system.places[i].friction * r.normal[k] - bound);
    }
  }
  return worst;
}

using Bounds = std::vector<std::vector<double>>;

/// What the pressure allows, mixed with the bounds there were.
Bounds next_bounds(const PadSystem& system, const PadWork& work, const Bounds& now, double share) {
  Bounds next(system.places.size());
  for (std::size_t i = 0; i < next.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double allowed = system.places[i].friction * r.normal[k];
      next[i].push_back(now.empty() ? std::max(allowed, r.tangential[k].norm())
                                    : now[i][k] + share * (allowed - now[i][k]));
    }
  }
  return next;
}

enum class Settled { kYes, kSlides, kWanders };

/// Rounds on the bounds of friction, from a state that sticks everywhere.
Settled settle_friction(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  double share = 1, least = 1e300;
  int stalled = 0;
  while (state.rounds < kRoundsMost) {
    const double over = beyond_friction(system, work) / system.force_unit,
                 under = short_of_friction(system, work) / system.force_unit;
    if (over <= tolerance && under <= kShortMost) return Settled::kYes;
    const double beyond = std::max(over, under);
    stalled = beyond < 0.9 * least ? 0 : stalled + 1;
    least = std::min(least, beyond);
    if (stalled > 12) {
      share = std::max(share / 2, 2 * kShareLeast);
      stalled = 0;
    }
    ++state.rounds;
    PadWork trial = work;
    trial.bound = next_bounds(system, work, work.bound, share);
    const double aim = std::clamp(0.01 * beyond, 0.3 * tolerance, 1e-4);
    if (balance(system, aim, state.steps, trial) == PadOutcome::kBalanced) {
      work = std::move(trial);
      continue;
    }
    share /= 2;
    if (share < kShareLeast) return Settled::kSlides;
  }
  return Settled::kWanders;
}

}  // namespace

double beyond_friction(const PadSystem& system, const PadWork& work) {
  double worst = 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      worst = std::max(worst, r.tangential[k].norm() - system.places[i].friction * r.normal[k]);
    }
  }
  return worst;
}

void find_state(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  work.bound.clear();
  const PadOutcome stuck = balance(system, 0.3 * tolerance, state.steps, work);
  if (stuck != PadOutcome::kBalanced) {
    state.reason = stuck == PadOutcome::kRunsAway
                       ? "blocks move away without end even where friction never gives"
                   : stuck == PadOutcome::kTooFar
                       ? "the pads would have to give by more than the size of a block"
                       : "the solver of the pads stopped short";
    return;
  }
  state.sticks = beyond_friction(system, work) <= tolerance * system.force_unit;
  switch (settle_friction(system, tolerance, state, work)) {
    case Settled::kSlides:
      state.reason = "no state found in which friction stays within its bound: blocks slide";
      return;
    case Settled::kWanders:
      state.reason = "the bound of friction did not settle in " + std::to_string(state.rounds) +
                     " rounds; |t| over its bound by " +
                     number(beyond_friction(system, work) / system.force_unit) +
                     " of the largest block weight";
      return;
    case Settled::kYes:
      break;
  }
  // the last rounds were balanced loosely; here to the end, bounds as they are
  if (balance(system, 0.3 * tolerance, state.steps, work) != PadOutcome::kBalanced) {
    state.reason = "the solver of the pads stopped short";
    return;
  }
  state.found = true;
}

}  // namespace skewback
