#pragma once
// A weighted rigid fit and the statistics of its residuals. Private to survey/.

#include <optional>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct PointPairs {
  std::vector<Vec3> designed, measured;
  std::vector<double> accuracy_m;
  [[nodiscard]] std::size_t size() const { return designed.size(); }
};

enum class Hand { kProper, kMirror };

/// Points with `used` only. Undetermined: as fit_rigid says.
struct WeightedFit {
  Rigid X;  // det R = -1 for kMirror
  bool determined = false;
  double off_line = 0;        // sqrt(sum (d / accuracy)^2), d from the best line of the designed
  double off_plane = 0;       // the same from their best plane
  Vec3 along = Vec3::Zero();  // of that line
  double squares = 0;         // sum (residual / accuracy)^2
  double scale = 1;           // that a similarity would have (Umeyama 1991 eq. 42)
  int used = 0;
  [[nodiscard]] int redundancy() const { return 3 * used - 6; }
};
/// Points that spread by no more than this many accuracies off a line are taken to lie on it (the
/// turn about it would be out by a third of a radian), off a plane likewise.
inline constexpr double kSpread = 3;

[[nodiscard]] WeightedFit weighted_fit(const PointPairs& pairs, const std::vector<char>& used,
                                       Hand hand = Hand::kProper);

/// Test of one point (Baarda 1968, for the three coordinates together): r' Q^-1 r with Q the
/// covariance of its residual, and the rank of Q. What the sum of squares would fall by without it.
struct PointTest {
  double squares = 0;
  int rank = 0;
};
[[nodiscard]] std::vector<PointTest> point_tests(const PointPairs& pairs,
                                                 const std::vector<char>& used, const Rigid& X);

/// Standard deviation of the turn about its weakest axis.
[[nodiscard]] double turn_deviation(const PointPairs& pairs, const std::vector<char>& used,
                                    const Rigid& X);

/// How many standard deviations of a normal variable are as rare, two-sided, as a chi-square this
/// great. Exact for 1 to 3 degrees of freedom; Wilson and Hilferty (1931), one-sided, beyond.
[[nodiscard]] double as_deviations(double squares, int freedom);

}  // namespace skewback
