#include "stand/pad_path.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace skewback {
namespace {

constexpr double kLongest = 1.0 / 4, kShortest = 1.0 / 64;  // of the way; powers of two
constexpr int kRoundsMost = 60;                             // then a shorter step is tried

PadOptions with_moves(PadOptions pads, double share) {
  for (BlockMove& move : pads.moves) {
    move.shift *= share;
    move.turn *= share;
  }
  return pads;
}

PadOptions with_live(PadOptions pads, double share) {
  pads.load_factor *= share;
  return pads;
}

/// `part(pads, share)`: what is put on at a share of the way.
template <class Part>
PadPath in_steps(const PadModel& model, const LoadCase& load, PadOptions pads, const Part& part,
                 const PadHistory* before) {
  pads.rounds_most = std::min(pads.rounds_most, kRoundsMost);
  PadPath path{.state = model.solve(load, part(pads, 0), before)};
  int steps = 0;
  double step = kLongest;
  while (path.state.found && path.reached < 1) {
    const double share = path.reached + step;
    PadState next = model.solve(load, part(pads, share), &path.state.after);
    if (next.found) {
      path.reached = share;
      path.state = std::move(next);
      path.state.in_steps = ++steps;
      if (step < kLongest && std::fmod(share, 2 * step) == 0) step *= 2;  // stays on its grid
      continue;
    }
    step /= 2;
    if (step >= kShortest) continue;
    path.state.found = false;
    path.state.reason = next.reason;
  }
  return path;
}

}  // namespace

PadPath move_in_steps(const PadModel& model, const LoadCase& load, const PadOptions& pads) {
  return in_steps(model, load, pads, with_moves, nullptr);
}

PadPath load_in_steps(const PadModel& model, const LoadCase& load, const PadOptions& pads,
                      const PadHistory* before) {
  return in_steps(model, load, pads, with_live, before);
}

PadState state_at_once_or_in_steps(const PadModel& model, const LoadCase& load,
                                   const PadOptions& pads, const PadHistory* before) {
  PadState at_once = model.solve(load, pads, before);
  const bool moved = !pads.moves.empty();
  if (at_once.found || pads.moved_shape || (!moved && !load.has_live())) return at_once;
  PadPath path = moved ? in_steps(model, load, pads, with_moves, before)
                       : load_in_steps(model, load, pads, before);
  if (path.state.found) return std::move(path.state);
  at_once.reason += "; in steps there is none beyond " +
                    std::to_string(std::lround(100 * path.reached)) + " % of " +
                    (moved ? "the movement" : "the live load");
  return at_once;
}

}  // namespace skewback
