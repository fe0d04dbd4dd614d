#pragma once
// Private to solve/: an iterate of the homogeneous embedding of a scaled cone program,
//   A x = b tau,   A'y + z - v = c tau,   x0 + w = most tau,   b'y - most'v - c'x = kappa,
// and its Newton directions under Nesterov-Todd scaling. All arrays are made once.

#include <Eigen/LU>
#include <memory>
#include <span>

#include "solve/cone_shares.hpp"

namespace skewback {

struct ConeMeasures {                      // not divided by tau
  double primal = 0, upper = 0, dual = 0;  // largest residuals: rows, bounds, reduced costs
  double cost = 0, dual_cost = 0;          // c'x, b'y - most'v
  double worth = 0;                        // of all residuals, by x, y and v: sum of sizes
  double products = 0;                     // mean of all complementary products
};

class ConeNewton {
 public:
  ConeNewton(const ConeData& data, std::shared_ptr<const BlockPattern> pattern,
             const Kernels& kernels);

  ConeMeasures residuals();
  /// Scaling, matrix, factor, and the part of the direction that goes with tau. False: the matrix
  /// could not be factorised, or the embedding lost its sign.
  [[nodiscard]] bool prepare();
  /// Directions; both return the longest step, at most 1. centre() needs the last affine().
  double affine();
  double centre(double target, double keep);
  /// The last of these once more, products that would be outside low .. high at `step` brought back
  /// (multiple centrality correctors, Gondzio 1996).
  double correct(double step, double target, double keep, double low, double high);
  /// The direction before the last correct() once more.
  double without_correction(double target, double keep);
  /// Without second-order terms.
  double centre_plainly(double target, double keep);
  void advance(double step);

  [[nodiscard]] const AlignedArray& x() const { return x_; }
  [[nodiscard]] const AlignedArray& y() const { return y_; }
  [[nodiscard]] const Eigen::ArrayXd& scalars() const { return s_.x; }
  double tau = 1, kappa = 1;
  double enough =
      1e-16;  // of entries of A dx - b dtau not as wished, over tau: no refinement below
  double primal_left = 0;  // of the last direction: largest entry of A dx - b dtau not as wished

 private:
  using Array = Eigen::ArrayXd;
  struct Part {  // of a direction
    std::span<double> x;
    AlignedArray y;
    Array scalars;
  };
  using Map = Eigen::Map<Array>;
  using ConstMap = Eigen::Map<const Array>;
  static Map all(AlignedArray& a) { return {a.data(), static_cast<Eigen::Index>(a.size())}; }
  static Map all(std::span<double> a) { return {a.data(), static_cast<Eigen::Index>(a.size())}; }
  static ConstMap all(const AlignedArray& a) {
    return {a.data(), static_cast<Eigen::Index>(a.size())};
  }
  static double largest(const AlignedArray& a) {
    return a.size() > 0 ? all(a).abs().maxCoeff() : 0.0;
  }
  void assemble();
  void load(const AlignedArray& rows, const AlignedArray& h, const Array& hs, Part& out);
  void finish(const AlignedArray& rows, const AlignedArray& h, const Array& hs, int rounds,
              Part& out);
  void put_dense(AlignedArray& rows, const Array& hs, Array& scalars);
  double aim_tau();
  void aim_affine();
  void pull_in(double keep, ConeAims& aims);
  double towards(double target, double keep, double share);
  double direction(double keep, double target_tau, const ConeAims& aims);
  [[nodiscard]] double dot_residuals(const Part& part) const;
  [[nodiscard]] double dot_costs(const Part& part) const;
  [[nodiscard]] double dot_column(std::size_t s, const double* y) const;
  void add_column(std::size_t s, double value, double* rows) const;
  void images(std::span<const double> x, const Array& scalars, double sign, AlignedArray& rows);

  const ConeData& data_;
  const Kernels& kernels_;
  BlockFactor factor_;
  AlignedArray directions_;  // dx, dz and both scaled; before there is one, room for assembly
  ConeShares k_;
  ConeState state_;

  // contacts
  AlignedArray x_, z_, w_, v_, point_, beta_, lambda_, D_, dual_, upper_, shift_, lean_, wv_, more_,
      more_wv_, dw_, dv_, fixed_x_;
  AlignedArray more_before_, more_wv_before_;  // the last correction
  // rows
  AlignedArray y_, primal_, left_;
  Part fixed_, moving_, correction_;  // with tau; without; of refinement
  AlignedArray aim_;

  struct Scalars {
    Array x, z, w, v, cost, most, bounded, free;
    Array weight, dual, upper, lean, shift, aim, wv, more, more_wv, more_before, more_wv_before, dx,
        dz, dw, dv;  // weight: z/x + v/w
  } s_;
  std::vector<std::size_t> dense_;
  std::vector<AlignedArray> solved_;  // S^-1 of each dense column
  Eigen::MatrixXd small_;
  Eigen::PartialPivLU<Eigen::MatrixXd> small_factor_;

  double products_ = 0, degree_ = 1;  // mean of all products; how many
  double gap_ = 0;                    // residual of the gap equation
  double slope_ = 0;                  // of the gap equation in tau
  ConeAims affine_aims_;
  double primal_most_ = 0;  // largest entry of the residual of the rows
  bool near_ = true;        // an optimum, rather than a certificate or a ray
  double dtau_ = 0, dkappa_ = 0;
  double more_tau_ = 0, more_tau_before_ = 0;
};

}  // namespace skewback
