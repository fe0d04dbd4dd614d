#pragma once
// Rigid best fit of points, and what to think of its residuals. Theory:
// docs/theory/survey-points.md.

#include <optional>
#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct RigidFit {
  Rigid X;                        // measured ~ X(designed); no reflection
  double rms_m = 0, worst_m = 0;  // of the points X is fitted to
  int worst = -1;
  bool determined = false;       // false: fewer than 3 points or all on a line
  std::string reason;            // what is not determined, in words
  std::vector<Vec3> residual_m;  // per point: measured - X(designed)
  std::vector<int> outliers;     // worst first; X is fitted without them
  std::string suspicion;  // "the points look mirrored: ...", "... measured in feet", "marks A
                          // and B look swapped"; empty: none
  // weighted sum of squares over redundancy: near 1 where the accuracies are true
  std::optional<double> variance_factor;
  std::optional<double> turn_sd_rad;  // standard deviation of the turn about its weakest axis
  bool mistake = false;  // `suspicion` is of a simple mistake that would explain all points
};

/// Least squares (Kabsch 1976; Umeyama 1991): det R = +1 always.
[[nodiscard]] RigidFit fit_rigid(const std::vector<Vec3>& designed,
                                 const std::vector<Vec3>& measured);

/// Each point weighs 1 / accuracy^2. Points whose residual is over `gate` standard deviations of
/// that residual (Baarda 1968; of its chi-square, the same probability) are taken out one by one,
/// worst first, while three that are not on a line are left; where another point would explain it
/// as well, neither is, and `suspicion` names both. `names` go into `suspicion`, which is looked
/// for only where the fit is worse than the accuracies allow, or where points of one plane fit
/// upside down. Undetermined: X is the shift, and the least turn that brings line onto line. All
/// the same size.
[[nodiscard]] RigidFit fit_rigid(const std::vector<Vec3>& designed,
                                 const std::vector<Vec3>& measured,
                                 const std::vector<double>& accuracy_m, double gate,
                                 const std::vector<std::string>& names);

}  // namespace skewback
