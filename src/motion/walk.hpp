#pragma once
// Private to motion/: something raised as far as the blocks still come to rest. By steps that grow
// and are halved when they fail, each from a copy of the last rest.

#include <algorithm>

#include "motion/motion.hpp"

namespace skewback::motion {

struct WalkLimits {
  double most = 1;                // no further
  double first = 0.1;             // first step
  double step_most = 0;           // longest step; 0: any
  double near = 0.01, least = 0;  // ends with a bracket of max(near held, least)
};

struct Walk {
  double held = 0;                    // furthest at rest
  std::optional<double> moved_off;    // least that moved off
  std::optional<double> not_settled;  // least under that which did neither
  bool beyond = false;                // `most` was held
  Motion last_held, falling;
  int tries = 0;
};

/// `run` is at rest at 0 with `rest`; raise(run, from, to) tells it to go on;
/// note(at, motion) hears of each rest, the first too. `run` is left at rest
/// at `held`.
template <class Raise, class Note>
Walk walk(MotionRun& run, Motion rest, const WalkLimits& limits, Raise raise, Note note,
          const Progress& progress) {
  Walk w;
  note(0.0, rest);
  w.last_held = std::move(rest);
  double step = limits.first, closed = limits.most;  // nothing beyond `closed` is tried again
  bool failed = false;
  const auto done = [&] { return closed - w.held <= std::max(limits.near * w.held, limits.least); };
  while (failed ? !done() : w.held < limits.most) {
    const double to = failed ? (w.held + closed) / 2 : std::min(limits.most, w.held + step);
    MotionRun tried = run;
    raise(tried, w.held, to);
    Motion m = tried.go(progress);
    ++w.tries;
    if (m.ending == Ending::kAtRest) {
      w.held = to;
      note(to, m);
      w.last_held = std::move(m);
      run = std::move(tried);
      step = limits.step_most > 0 ? std::min(2 * step, limits.step_most) : 2 * step;
      continue;
    }
    failed = true;
    closed = to;
    if (m.ending == Ending::kMovingOff) {
      w.moved_off = to;
      w.not_settled.reset();  // those above it say no more
      w.falling = std::move(m);
    } else {
      w.not_settled = to;
    }
  }
  w.beyond = !failed;
  return w;
}

}  // namespace skewback::motion
