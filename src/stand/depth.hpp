#pragma once
// Private to stand/: joints drawn together in depth.

#include "stand/program.hpp"

namespace skewback {

/// What one case says about all joints drawn together to one share of their depth.
struct DepthTrial {
  bool holds = false;
  double lacking = 0;  // least added support, mean block weights
  double slope = 0;    // d lacking / d share, < 0 where more depth helps; 0: not known
  int joint = -1;      // the one whose depth would help most
};

/// Weight and live_factor times the live load, on joints of `share` of their depth about its
/// middle.
[[nodiscard]] DepthTrial try_share(const Assembly& assembly, const LoadCase& load,
                                   double live_factor, const StandOptions& options, double share,
                                   const Graph& graph);

/// Extent of the contact along the frame's y, m.
struct Extent {
  double low = 0, high = 0;
  [[nodiscard]] double middle() const { return (low + high) / 2; }
  [[nodiscard]] double depth() const { return high - low; }
};
[[nodiscard]] Extent depth_of(const Joint& joint);

}  // namespace skewback
