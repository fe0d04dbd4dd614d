#pragma once
// Plan equilibrium of the footings as rigid bodies held by rods that pull and never push, and,
// where those are not enough, by shear on the ground. Private to ground/.

#include <string>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct Rod {
  int tie = 0;
  int from = 0, to = 0;  // footings
  Vec2 at_from = Vec2::Zero(), at_to = Vec2::Zero();
  [[nodiscard]] double length() const { return (at_to - at_from).norm(); }
};

struct Footing {
  std::string id;
  Vec2 point = Vec2::Zero();  // yaw moments are about it
  Vec2 force = Vec2::Zero();  // N, that it must give to the bridge
  double yaw = 0;             // N m, likewise, about point
};

struct FootingBalance {
  std::vector<double> rod_force;  // N, >= 0
  std::vector<Vec2> shear;        // N, of the ground on each footing, at its point: no yaw
  double residual_rel = 0;        // over the largest footing force; yaw over that times 1 m
  std::vector<Vec3> missing;      // N, N, N m: x, y and yaw that each footing lacks
  int worst = -1;                 // footing with the largest residual or shear
  bool balanced = false;
  bool shear_enough = true;  // no footing needs more of the ground than it may count on
  std::string reason;
};

/// Rows x, y, yaw of each footing; one column a rod of unit tension: what it gives to them.
[[nodiscard]] Eigen::MatrixXd rod_columns(const std::vector<Footing>& footings,
                                          const std::vector<Rod>& rods);

/// Least sum F^2 L (rods of one area, no pre-tension) that is in equilibrium, F >= 0. Shear up to
/// `shear_max` (N, per footing, any direction) only where the rods alone do not balance; the least
/// squares share of it is tried, so a refusal on shear is on the safe side. Where both shear and
/// balance are wanting, the reason has the shear first.
[[nodiscard]] FootingBalance balance(const std::vector<Footing>& footings,
                                     const std::vector<Rod>& rods, double shear_max);

}  // namespace skewback
