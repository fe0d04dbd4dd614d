#pragma once
// Where a foot may stand. Private to the folder.

#include <vector>

#include "brief/brief.hpp"
#include "centring/soffits.hpp"

namespace skewback {

/// Height that a foot takes up between the ground and the post, or the rib: wedges and packs, or a
/// jack at mid-travel. Common practice.
[[nodiscard]] double foot_room_m(const CentringRequest& request);
/// From the end of a rib to its last foot.
[[nodiscard]] double foot_to_end_m(const CentringRequest& request);

class FootGround {
 public:
  explicit FootGround(const CentringRequest& request);
  [[nodiscard]] bool barred(const Vec2& p) const;   // a foot there would reach into a barred area
  [[nodiscard]] bool allowed(const Vec2& p) const;  // nor into a foot that stands already
  void take(const Vec2& p) { taken_.push_back(p); }
  /// Nearest x to `x`, going by `step` at a time up to `reach` away, where a foot may stand.
  [[nodiscard]] std::optional<double> next(const PlanLine& line, double x, double step,
                                           double reach) const;

 private:
  Regions barred_;
  std::vector<Vec2> taken_;
  double apart_ = 0;
};

/// x of the feet of a rib: one near each end of the stretch given, between them at no more than the
/// spacing where the ground allows, preferably where the rib is crossed. Empty if there is no place
/// at all.
[[nodiscard]] std::vector<double> feet_under(const CentringRequest& request,
                                             const FootGround& ground, const PlanLine& line,
                                             double from, double to,
                                             const std::vector<double>& crossings);

/// Longest stretch without a foot; what sticks out at the ends counts twice.
[[nodiscard]] double longest_stretch(const std::vector<double>& feet, double length);

}  // namespace skewback
