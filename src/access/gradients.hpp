#pragma once
// A walk as heights over its length in plan, and what is measured on it.

#include <optional>
#include <vector>

#include "brief/brief.hpp"

namespace skewback::access {

struct Profile {                 // s ascends; z linear between
  std::vector<double> s_m, z_m;  // of equal length, two or more
  [[nodiscard]] double at(double s) const;
  [[nodiscard]] double length_m() const { return s_m.back() - s_m.front(); }
};

struct Stretch {
  double from_m = 0, to_m = 0;
  [[nodiscard]] double length_m() const { return to_m - from_m; }
};

inline constexpr double kGradientOver = 0.6;       // m: a bump at a joint is no gradient
inline constexpr double kRestOver = 0.3;           // m: no chord of a landing that long is steeper
inline constexpr double kLandingSlope = 1.0 / 48;  // ADA 2010, 405.7.1
inline constexpr double kRiserSlope = 2;           // steeper is a riser, no slope
inline constexpr double kStepMost = 6.4e-3;        // m; ADA 2010, 303.2: 1/4 inch, vertical

struct Steepest {
  double gradient = 0;  // signed, up along s
  double at_m = 0;      // where the stretch begins
};
/// Over any kGradientOver (all of a shorter walk), stretches over a step left out.
[[nodiscard]] Steepest steepest(const Profile& walk);

/// Stretches of at least `length_m` in which no chord of kRestOver is steeper than `slope`, in
/// order.
[[nodiscard]] std::vector<Stretch> rests(const Profile& walk, double slope, double length_m);

struct Step {
  double at_m = 0, height_m = 0;  // its middle; up along s: > 0
  double run_m = 0;               // in plan
};
/// Pieces steeper than kRiserSlope that rise more than kStepMost.
[[nodiscard]] std::vector<Step> steps(const Profile& walk);

struct RampRun {
  Stretch where;
  double rise_m = 0;  // highest less lowest
};
/// What lies between rests of access.landing_m no steeper than access.ramp_from, where it is
/// steeper than access.ramp_from over kGradientOver.
[[nodiscard]] std::vector<RampRun> ramp_runs(const Profile& walk, const AccessRequest& access);

/// A ramp as it would have to be: runs of at most access.run_rise_m, a landing at the top, at the
/// bottom and between runs (ADA 2010, 405.6 and 405.7).
struct RampPlan {
  int runs = 0, landings = 0;
  double run_m = 0;    // of all runs, in plan
  double total_m = 0;  // with landings
};
[[nodiscard]] RampPlan plan_ramp(double rise_m, const AccessRequest& access);

/// Equal risers over a rise in a given run (ADA 2010, 504.2: riser 100 to 180 mm, going at least
/// 280 mm); of those allowed the one whose 2R + G is nearest to 0.63 m.
struct Stair {
  int risers = 0;
  double riser_m = 0, going_m = 0;
  double stride_m = 0;       // 2R + G; comfortable from 0.60 to 0.66 m (Blondel 1675, from memory)
  bool comfortable = false;  // and within the limits
};
/// None: no number of risers is within the limits.
[[nodiscard]] std::optional<Stair> stair_over(double rise_m, double run_m);

/// The lowest walk over this one that is nowhere steeper than `gradient`.
[[nodiscard]] Profile no_steeper(const Profile& walk, double gradient);

}  // namespace skewback::access
