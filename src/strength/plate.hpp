#pragma once
// Private to strength/: a thin plate between two webs, its other two edges free: the skin of a
// hollow block from bed to bed. Kirchhoff plate by Ritz's method in Legendre polynomials
// (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959, articles 22 and 80).

#include <optional>

#include "geometry/geometry.hpp"

namespace skewback {

struct PlateShape {
  double span_m = 0;     // x from -span/2 to span/2, between the faces of the webs
  double length_m = 0;   // y from 0 to length, free at both ends
  double poisson = 0.2;  // EN 1992-1-1 3.1.3, uncracked
  /// Polynomials along y. With 12 the bending under a patch of a quarter of the length is right to
  /// 1 % across and 3 % along; with 16, one of a sixth to 1 % and 2 %.
  int along = 12;
  /// Turning stiffness of the edges, times span / D: 0 rests, none clamps.
  std::optional<double> left = {}, right = {};
};

struct PlatePatch {  // pressure q over a rectangle, cut off at the plate's edges
  Vec2 low = Vec2::Zero(), high = Vec2::Zero();
  double q_pa = 0;
};

struct PlateBending {  // N m per m
  double xx = 0;       // stress along x: sagging positive
  double yy = 0;
};

class Plate {
 public:
  explicit Plate(const PlateShape& shape);

  void load(const PlatePatch& patch);  // replaces the load before
  [[nodiscard]] PlateBending bending(const Vec2& at) const;
  /// Deflection times D, N m2.
  [[nodiscard]] double deflection(const Vec2& at) const;

 private:
  struct Values {  // of one family of functions at a point
    Eigen::VectorXd f, d1, d2;
  };
  [[nodiscard]] Values across(double x) const;
  [[nodiscard]] Values along(double y) const;

  PlateShape shape_;
  bool clamped_;
  Eigen::MatrixXd factor_;  // Cholesky factor of the stiffness, D = 1
  Eigen::VectorXd shares_;  // of the functions, under the load
};

}  // namespace skewback
