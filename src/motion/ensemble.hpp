#pragma once
// Many drawn bridges, let go at one load: how many move off. Friction, stiffness and gaps of the
// joints are never known to a figure, and where contacts slip the end depends on them: so a
// probability with its interval, not one motion (docs/theory/motion-asked.md).

#include <cstdint>

#include "motion/motion.hpp"

namespace skewback {

struct Between {  // evenly between
  double low = 1, high = 1;
  bool together = false;  // one draw for all joints; else one for each
};

struct EnsembleOptions {
  int draws = 100;
  std::uint64_t seed = 1;
  Between friction = {0.8, 1.2, false};   // times the joint's own
  Between stiffness = {0.5, 2.0, false};  // times the joint's own, pad or dry
  Between gap_m = {0, 0, false};          // that a joint begins open by
  double confidence = 0.95;
};

struct OneDraw {
  Ending ending = Ending::kNotSettled;
  double time_s = 0, moved_max_m = 0;
  int moved_block = -1;
  double friction_mean = 0, friction_least = 0;  // coefficient, over the joints
  double gap_max_m = 0;
};

struct Ensemble {
  std::vector<OneDraw> draws;
  int at_rest = 0, moving_off = 0, not_settled = 0;
  double probability = 0;  // moving off over those that did one or the other; 0 if none did
  // of moving off; those not settled count for the lower end as at rest, for the upper as moving
  double low = 0, high = 1;
  int worst = -1;  // first to move off; else most moved
};

/// The same for any number of threads: what is drawn is a function of seed, draw and joint.
[[nodiscard]] Ensemble let_go_many(const Assembly& assembly, const LoadCase& load,
                                   const Scene& scene = {}, const MotionOptions& options = {},
                                   const EnsembleOptions& wanted = {},
                                   const Progress& progress = {});

/// The assembly and scene of a draw, to let go of it again: joints get their drawn friction, those
/// without a pad one of the drawn dry stiffness.
struct DrawnScene {
  Assembly assembly;
  Scene scene;
};
[[nodiscard]] DrawnScene drawn_scene(const Assembly& assembly, const Scene& scene,
                                     const MotionOptions& options, const EnsembleOptions& wanted,
                                     int draw);

/// Exact interval of a probability from k of n (Clopper and Pearson 1934): each end leaves half of
/// 1 - confidence on its own side.
struct Interval {
  double low = 0, high = 1;
};
[[nodiscard]] Interval share_interval(int k, int n, double confidence = 0.95);

}  // namespace skewback
