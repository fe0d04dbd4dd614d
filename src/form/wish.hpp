#pragma once
// What the search for force densities comes close to: residuals of a net in equilibrium and their
// derivatives.

#include <array>
#include <vector>

#include "form/force_density.hpp"
#include "solve/solve.hpp"

namespace skewback {

struct PlaceWish {  // of a point, in plan
  Vec2 drawn = Vec2::Zero();
  Eigen::Matrix2d weight = Eigen::Matrix2d::Zero();
};

// Height at a place in plan, read off the triangle that holds it; `slope` is the surface's there
// less that of what it is compared with.
struct SpotWish {
  std::array<int, 3> corner{};
  Vec3 share = Vec3::Zero();
  Vec3 target = Vec3::Zero();
  Vec2 slope = Vec2::Zero();
  double weight = 1;
  bool at_most = false;  // only what is higher counts
};

struct WithinWish {  // a point at most this far from its foot along the unit normal, in plan
  int point = 0;
  Vec2 foot = Vec2::Zero(), normal = Vec2::Zero();
  double most_m = 0, weight = 1;
};

// A point keeps its share of the way between its two neighbours, measured along `across`, in plan.
struct BetweenWish {
  int point = 0, before = 0, after = 0;
  double share = 0.5;  // of the way from `before` to `after`
  Vec2 across = Vec2::Zero();
  double weight = 1;
};

struct ThrustWish {                        // horizontal force on some fixed points at most this
  std::vector<std::pair<int, int>> edges;  // edge, its fixed end
  double most_n = 0, weight = 1;           // weight on the excess over most_n
};

struct EvenWish {  // of_a q_a = of_b q_b
  int a = 0, b = 0;
  double of_a = 0, of_b = 0;
};

struct ShapeWish {
  std::vector<PlaceWish> place;  // per point
  SparseMatrix level;            // level * z = 0 wanted; one column a point
  double level_weight = 1;
  std::vector<BetweenWish> between;
  std::vector<SpotWish> spots;
  std::vector<WithinWish> within;
  std::vector<ThrustWish> thrusts;
  std::vector<EvenWish> even;
  double keep = 0;            // weight on log((q - floor) / unit) staying by `first`
  std::vector<double> first;  // per edge
  std::vector<int> crown;     // their mean is kept at height crown_z
  double crown_z = 0;
  std::vector<double> unit_q, floor_q;  // per edge; q stays above floor_q
  double unit_m = 1;                    // size of the plan: 1 for one of 10 m by 10 m
  VectorX standing;                     // what residuals are measured from; empty: zero
};

/// Residuals of a net that is to keep its shape: those of wishes that ask for an equality. Zero for
/// limits, heights and the crown, which stay absolute.
[[nodiscard]] VectorX standing_residuals(const Net& net, const ShapeWish& wish);

/// The search moves u = log(q - floor): this is q - floor, dq/du (a net scaled to its rise may have
/// sunk below the floor by a little: then a thousandth of the floor).
[[nodiscard]] double above_floor(double q, double floor);

/// Residuals and their derivatives by the coordinates of the points (column 3 point + axis) and,
/// with the points held, by u.
struct Linear {
  VectorX r;
  SparseMatrix by_place, by_force;
};
[[nodiscard]] Linear linearise(const Net& net, const ShapeWish& wish);
[[nodiscard]] VectorX residuals(const Net& net, const ShapeWish& wish);

}  // namespace skewback
