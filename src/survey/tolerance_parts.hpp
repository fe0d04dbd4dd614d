#pragma once
// Between drawing errors, trying them and judging trades. Private to survey/.

#include "survey/tolerances.hpp"

namespace skewback {

/// draw_errors() for an assembly; see docs/theory/tolerances.md for what each number moves.
[[nodiscard]] AsMade errors_of(const Brief& brief, const Assembly& assembly, std::uint64_t draw,
                               const std::vector<double>& scale = {});
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

/// Draws [0, draws) with one scale of all errors: how many keys go in by themselves, and the root
/// mean square of the worst misfit at their joints.
struct BareDraws {
  int draws = 0, hits = 0;
  double misfit_rms_m = 0;
};
[[nodiscard]] BareDraws bare_draws(const Brief& brief, const StackModel& model, int draws,
                                   const std::vector<double>& scale, const Progress& progress,
                                   double from, double to);

/// Trades, budget_scale and what belongs to them, from the first `draws` draws; progress runs from
/// `from` to `to`.
void judge_trades(const Brief& brief, const StackModel& model, int draws, const Progress& progress,
                  double from, double to, ToleranceReport& report);

}  // namespace skewback
