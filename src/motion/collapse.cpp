#include "motion/collapse.hpp"

#include <cstdio>

#include "motion/walk.hpp"

namespace skewback {

std::string in_words(const Collapse& c) {
  char text[128];
  if (!c.held)
    return c.moved_off ? "moved off under its weight alone"
                       : "did not settle under its weight alone";
  if (c.at_least) {
    std::snprintf(text, sizeof text, "held at %.4g, the most that was tried", *c.held);
    return text;
  }
  std::snprintf(text, sizeof text, "held at %.4g", *c.held);
  std::string words = text;
  if (c.not_settled) {
    std::snprintf(text, sizeof text, ", did not settle at %.4g", *c.not_settled);
    words += text;
  }
  if (c.moved_off) {
    std::snprintf(text, sizeof text, ", moved off at %.4g", *c.moved_off);
    words += text;
  }
  return words;
}

Collapse collapse_load(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                       const MotionOptions& options, const CollapseOptions& wanted,
                       const Progress& progress) {
  Scene still = scene;
  still.load_factor = 0;
  MotionRun run(assembly, load, still, options);
  Collapse c;
  Motion rest = run.go(progress);
  c.tries = 1;
  if (rest.ending != Ending::kAtRest) {
    (rest.ending == Ending::kMovingOff ? c.moved_off : c.not_settled) = 0;
    c.falling = std::move(rest);
    return c;
  }
  if (!load.has_live()) {
    c.held = 0;
    c.last_held = std::move(rest);
    return c;
  }
  const motion::WalkLimits limits{wanted.most, wanted.first, 0, wanted.near,
                                  wanted.near * wanted.first};
  motion::Walk w = motion::walk(
      run, std::move(rest), limits, [](MotionRun& r, double, double to) { r.set_load_factor(to); },
      [](double, const Motion&) {}, progress);
  c.held = w.held;
  c.moved_off = w.moved_off;
  c.not_settled = w.not_settled;
  c.at_least = w.beyond;
  c.last_held = std::move(w.last_held);
  c.falling = std::move(w.falling);
  c.tries += w.tries;
  return c;
}

}  // namespace skewback
