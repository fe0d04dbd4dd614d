#pragma once
// Between drawing errors, trying them and judging trades. Private to survey/.

#include <algorithm>
#include <array>
#include <cmath>

#include "base/parallel.hpp"
#include "survey/tolerances.hpp"

namespace skewback {

/// Of one draw, per error and place, before its figure: kept where one draw is scaled many times.
using DrawNumbers = std::array<std::vector<double>, 9>;

/// draw_errors() for an assembly; see docs/theory/tolerances.md for what each number moves.
[[nodiscard]] AsMade errors_of(const Brief& brief, const Assembly& assembly, std::uint64_t draw,
                               const std::vector<double>& scale = {}, DrawNumbers* kept = nullptr);
/// Figures of the brief, in the order of error_names().
[[nodiscard]] std::vector<double> error_figures(const TolerancesRequest& tolerances);

/// How a block's bed at a joint takes up the errors of its making. Near: what it is measured from.
/// Far: the other end, with the whole error of its length. Own: of a block without near or far (a
/// key, a head joint): off the middle by 1 / sqrt(2) of the length's, so that between any two of
/// them the length is off by its figure.
enum class BedRole { kNear, kFar, kOwn, kGround };
[[nodiscard]] BedRole bed_role(const Assembly& assembly, int joint, int block);

/// Joints of the keys and of the ring round them, which are laid last: where what is left shows.
/// Without any: where two arms meet; else of the block laid last.
[[nodiscard]] std::vector<int> key_joints(const Assembly& assembly, const std::vector<int>& order);

[[nodiscard]] Chance chance_of(int hits, int draws);

constexpr int kAtOnce = 256;  // draws between two looks at a request to stop

/// body(i) for i in [0, n), side by side, with progress from `from` to `to`.
template <class Body>
void for_each_draw(int n, const Progress& progress, double from, double to, Body body) {
  for (int first = 0; first < n; first += kAtOnce) {
    progress.checkpoint("tolerances", from + (to - from) * first / n);
    const int count = std::min(kAtOnce, n - first);
    for_each_index(static_cast<std::size_t>(count),
                   [&](std::size_t i) { body(static_cast<std::size_t>(first) + i); });
  }
}

/// Worst at the given joints.
struct KeyLie {
  double gap_min_m = 0, gap_max_m = 0, step_m = 0;
  [[nodiscard]] double worst_gap_m() const {
    return std::max(std::abs(gap_min_m), std::abs(gap_max_m));
  }
};
[[nodiscard]] KeyLie key_lie(const std::vector<JointLie>& lies, const std::vector<int>& joints);

/// Trades, budgets and what belongs to them, from the first `draws` draws; progress runs from
/// `from` to `to`.
void judge_trades(const Brief& brief, const StackModel& model, int draws, const Progress& progress,
                  double from, double to, ToleranceReport& report);

/// The first `proof_draws` draws as packed; those that do not go in are not proved.
void prove_draws(const Brief& brief, const StackModel& model, const StandOptions& options,
                 const std::vector<CaseProof>& drawn, const Progress& progress, double from,
                 double to, ToleranceReport& report);

}  // namespace skewback
