#pragma once
// The live load at which blocks let go in time move off: raised step by step, each step from where
// the last came to rest, and halved back when it does not hold. The history of loading is thus one
// of slow raising. Dynamic, so no proof: evidence (docs/theory/motion-asked.md).

#include "motion/motion.hpp"

namespace skewback {

struct CollapseOptions {
  double most = 10;    // factor: no greater one is tried
  double first = 0.5;  // first raise; twice as much after each that held
  double near = 0.01;  // width of the bracket over its lower end, or over `first` if that is more
};

struct Collapse {
  std::optional<double> held;         // greatest factor at which it came to rest; none: not even 0
  std::optional<double> moved_off;    // least factor above at which it moved off
  std::optional<double> not_settled;  // least factor above that did neither in the time given
  bool at_least = false;              // `held` is the most that was tried
  Motion last_held;                   // at `held`
  Motion falling;                     // the motion that moved off, from the last rest below it
  int tries = 0;
  [[nodiscard]] bool found() const { return at_least || (held && moved_off && !not_settled); }
};
/// "held at 2.31, moved off at 2.33".
[[nodiscard]] std::string in_words(const Collapse& collapse);

/// `scene.load_factor` is not used: it begins with 0. `held` and `moved_off` close on one another
/// unless factors between neither settle nor move off (`not_settled`): then the answer is `held`
/// and the doubt above it is told. A case with nothing to multiply is let go once, at 0.
[[nodiscard]] Collapse collapse_load(const Assembly& assembly, const LoadCase& load,
                                     const Scene& scene = {}, const MotionOptions& options = {},
                                     const CollapseOptions& wanted = {},
                                     const Progress& progress = {});

}  // namespace skewback
