#pragma once
// A rib as a beam in its own plane, of any depth, on feet that push, and pull only where they are
// held down. Private to
// centring/ and its tests.

#include <array>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct BeamShape {
  std::vector<Vec2> axis;       // x ascending, y up, m
  std::vector<double> depth_m;  // square to the axis, per point; linear between
  double thickness_m = 0, stiffness_pa = 0;
  std::optional<double> shear_modulus_pa;  // none: shear does not bend it
};
struct BeamSupport {
  std::size_t at = 0;       // point of the axis
  double below_m = 0;       // of the axis: where a sideways force acts
  double sideways_n_m = 0;  // stiffness against sideways movement; 0: free to move
  bool held_down = false;   // it pulls as well
};
struct BeamLoad {
  std::size_t at = 0;
  Vec2 force = Vec2::Zero();  // N
  double above_m = 0;         // of the axis
};
struct BeamCut {                                   // what one end of a piece of the beam feels
  double moment_nm = 0, shear_n = 0, axial_n = 0;  // sagging, -, tension: positive
};
struct BeamState {
  bool balances = false;                     // false: it tips; the rest is empty
  std::vector<Vec2> reaction;                // per support, on the beam, N; y 0: lifted, < 0: held
  std::vector<Vec2> move;                    // per point, m
  std::vector<std::array<BeamCut, 2>> cuts;  // per piece, between neighbouring points
};

/// Plane frame of straight pieces with linear depth, each exact to three Gauss points of its
/// flexibility (Euler and Bernoulli; shear by Timoshenko with 5/6). Loads and supports at its
/// points. Supports stand fast upwards and give way when pulled, unless held down. Sideways those
/// with a stiffness hold; where none has any, all share what the loads leave over in equal parts. A
/// support that has lifted still holds sideways: post and braces hang on the rib. Keeps its
/// factorisations.
class Beam {
 public:
  Beam(BeamShape shape, std::vector<BeamSupport> supports);
  ~Beam();
  Beam(Beam&&) noexcept;
  Beam& operator=(Beam&&) noexcept;
  [[nodiscard]] BeamState solve(const std::vector<BeamLoad>& loads);

  [[nodiscard]] const BeamShape& shape() const { return shape_; }
  [[nodiscard]] const std::vector<BeamSupport>& supports() const { return supports_; }

 private:
  struct Factor;
  using Active = std::vector<char>;  // per support
  [[nodiscard]] bool held_sideways() const;
  Factor& factor(const Active& active);
  [[nodiscard]] BeamState state(const Eigen::VectorXd& loads, const Active& active);

  BeamShape shape_;
  std::vector<BeamSupport> supports_;
  std::vector<Eigen::Matrix<double, 6, 6>> stiffness_;
  std::vector<Eigen::Matrix<double, 3, 6>> natural_;  // from movements to {axial, M at both ends}
  std::map<Active, std::unique_ptr<Factor>> factors_;
};

}  // namespace skewback
