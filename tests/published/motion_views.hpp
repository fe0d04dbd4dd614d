#pragma once
// How far apart the settled motion and the state of the pads are.

#include <algorithm>
#include <cmath>

#include "motion/motion.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct ViewsApart {
  bool found = false;  // by the pads
  Ending ending = Ending::kNotSettled;
  bool slips = false;   // friction is used up somewhere, in either
  double greatest = 0;  // of all forces across joints: motion's over pads', less 1
  double worst = 0;     // of any joint: difference of its force, over the greatest
};

inline ViewsApart views_apart(const Assembly& assembly, const LoadCase& load) {
  MotionOptions options;
  options.frames = 0;
  const PadState pads = pad_state(assembly, load);
  const Motion motion = let_go(assembly, load, {}, options);
  ViewsApart apart{pads.found, motion.ending, !pads.sticks || motion.slips};
  double of_pads = 0, of_motion = 0;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const JointPad& p = pads.joints[j];
    const JointMotion& m = motion.joints[j];
    of_pads = std::max(of_pads, std::hypot(p.normal_n, p.shear_n));
    of_motion = std::max(of_motion, std::hypot(m.normal_n, m.shear_n));
    apart.worst = std::max(apart.worst, std::hypot(p.normal_n - m.normal_n, p.shear_n - m.shear_n));
  }
  apart.greatest = of_motion / of_pads - 1;
  apart.worst /= of_pads;
  return apart;
}

}  // namespace skewback
