#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <iterator>
#include <utility>

#include "stand/pad_state.hpp"

namespace skewback {
namespace {

// rounds after which, and before the last, Newton's steps on balance and friction are tried
constexpr int kTryCoupled[] = {2, 8, 25, 60, 120, 240};
constexpr int kTryRounding = 8;      // round before which friction is rounded from sticking
constexpr int kCoupledMost = 60;     // of those steps
constexpr double kRough = 1e-3;      // of the largest block weight
constexpr double kClearly = 1e-2;    // the same
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

/// mu n at every point, place after place; at first no less than the force that is there.
VectorX allowed(const PadSystem& system, const PadWork& work) {
  std::vector<double> all;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double most = system.places[i].friction * r.normal[k];
      all.push_back(work.bound.empty() ? std::max(most, r.tangential[k].norm()) : most);
    }
  }
  return Eigen::Map<VectorX>(all.data(), static_cast<Eigen::Index>(all.size()));
}

void put_bounds(const VectorX& bounds, PadWork& work) {
  work.bound.resize(work.response.size());
  Eigen::Index at = 0;
  for (std::size_t i = 0; i < work.bound.size(); ++i) {
    work.bound[i].resize(work.response[i].normal.size());
    for (double& bound : work.bound[i]) bound = std::max(0.0, bounds[at++]);
  }
}

/// The next guess of a fixed point of bounds -> allowed(bounds), from the last few: the mix of them
/// whose misfit is least (Anderson 1965).
class Mixing {
 public:
  [[nodiscard]] VectorX next(const VectorX& bounds, const VectorX& reached) {
    const VectorX misfit = reached - bounds;
    if (bounds_.size() > 0) {
      steps_.push_back(bounds - bounds_);
      changes_.push_back(misfit - misfit_);
      if (steps_.size() > kMemory) {
        steps_.erase(steps_.begin());
        changes_.erase(changes_.begin());
      }
    }
    bounds_ = bounds;
    misfit_ = misfit;
    if (steps_.empty()) return reached;
    const auto columns = static_cast<Eigen::Index>(steps_.size());
    Eigen::MatrixXd change(misfit.size(), columns);
    for (Eigen::Index i = 0; i < columns; ++i) {
      change.col(i) = changes_[static_cast<std::size_t>(i)];
    }
    const VectorX share = change.colPivHouseholderQr().solve(misfit);
    VectorX mixed = reached;
    if (!share.allFinite()) return mixed;
    for (Eigen::Index i = 0; i < columns; ++i) {
      mixed -= share[i] * (steps_[static_cast<std::size_t>(i)] + change.col(i));
    }
    return mixed;
  }
  void forget() {
    steps_.clear();
    changes_.clear();
    bounds_.resize(0);
  }

 private:
  static constexpr std::size_t kMemory = 8;
  VectorX bounds_, misfit_;
  std::vector<VectorX> steps_, changes_;
};

enum class Settled { kYes, kSlides, kWanders };

bool take_coupled(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  PadWork trial = work;
  if (!settle_coupled(system, 0.3 * tolerance, kCoupledMost, state.steps, trial)) return false;
  work = std::move(trial);
  return true;
}

/// Rounds on the bounds of friction, from a state that sticks everywhere. Mixed steps while they
/// help; where one finds no balance, or many have gained nothing, plain ones, shorter and shorter.
Settled settle_friction(const PadSystem& system, double tolerance, int rounds_most, PadState& state,
                        PadWork& work) {
  double share = 1, least = 1e300, off = 1;
  int stalled = 0;
  Mixing mixing;
  VectorX bounds = allowed(system, work);
  bool sticking = true, mixed = true, rounded = false;
  const PadWork stuck = work;
  const auto round_off = [&] {
    if (std::exchange(rounded, true)) return false;
    PadWork trial = stuck;
    if (!settle_by_rounding(system, 0.3 * tolerance, state.steps, trial)) return false;
    work = std::move(trial);
    return true;
  };
  while (state.rounds < rounds_most) {
    const double over = beyond_friction(system, work) / system.force_unit,
                 under = short_of_friction(system, work) / system.force_unit;
    if (over <= tolerance && under <= kShortMost) {
      if (off <= 0.3 * tolerance || sticking) return Settled::kYes;
      off = 0.3 * tolerance;  // balanced loosely so far; here to the end, and looked at again
      if (balance(system, off, state.steps, work) != PadOutcome::kBalanced) {
        return Settled::kWanders;
      }
      continue;
    }
    const double beyond = std::max(over, under);
    stalled = beyond < 0.9 * least ? 0 : stalled + 1;
    least = std::min(least, beyond);
    if (stalled > 12) {
      mixing.forget();
      mixed = !mixed;
      share = std::max(share / 2, 2 * kShareLeast);
      stalled = 0;
    }
    const bool due = state.rounds == rounds_most - 1 ||
                     std::ranges::find(kTryCoupled, state.rounds) != std::end(kTryCoupled);
    if (due && take_coupled(system, tolerance, state, work)) return Settled::kYes;
    if (state.rounds >= kTryRounding && round_off()) return Settled::kYes;
    ++state.rounds;
    const VectorX reached = sticking ? bounds : allowed(system, work);
    VectorX next = mixed && !sticking ? mixing.next(bounds, reached)
                                      : VectorX(bounds + share * (reached - bounds));
    PadWork trial = work;
    put_bounds(next, trial);
    off = std::clamp(0.01 * beyond, 0.3 * tolerance, 1e-4);
    if (balance(system, off, state.steps, trial) == PadOutcome::kBalanced) {
      work = std::move(trial);
      bounds = next.cwiseMax(0.0);
      sticking = false;
      continue;
    }
    if (mixed && !sticking) {
      mixing.forget();
      mixed = false;
      continue;
    }
    share /= 2;
    if (share < kShareLeast) {
      return take_coupled(system, tolerance, state, work) || round_off() ? Settled::kYes
                                                                         : Settled::kSlides;
    }
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

namespace {

bool uses_friction_up(const PadWork& work) {
  for (std::size_t i = 0; i < work.response.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      if (!work.bound.empty() && r.tangential[k].norm() > work.bound[i][k] * (1 - 1e-9))
        return true;
    }
  }
  return false;
}

}  // namespace

bool find_state_beside(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  if (!settle_coupled(system, 0.3 * tolerance, kCoupledMost, state.steps, work)) return false;
  state.sticks = !uses_friction_up(work);
  state.found = true;
  return true;
}

void find_state(const PadSystem& system, double tolerance, PadState& state, PadWork& work,
                int rounds_most) {
  work.bound.clear();
  // first roughly: where friction is clearly used up, the last digits of sticking are of no use
  PadOutcome stuck = balance(system, kRough, state.steps, work);
  if (stuck == PadOutcome::kBalanced &&
      beyond_friction(system, work) > kClearly * system.force_unit &&
      take_coupled(system, tolerance, state, work)) {
    state.sticks = !uses_friction_up(work);
    state.found = true;
    return;
  }
  if (stuck == PadOutcome::kBalanced) stuck = balance(system, 0.3 * tolerance, state.steps, work);
  if (stuck != PadOutcome::kBalanced) {
    state.reason = stuck == PadOutcome::kRunsAway
                       ? "blocks move away without end even where friction never gives"
                   : stuck == PadOutcome::kTooFar
                       ? "the pads would have to give by more than the size of a block"
                       : "the solver of the pads stopped short";
    return;
  }
  state.sticks = beyond_friction(system, work) <= tolerance * system.force_unit;
  switch (settle_friction(system, tolerance, rounds_most, state, work)) {
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
  state.found = true;
}

}  // namespace skewback
