#pragma once
// Private to solve/: the kernels of a cone program over all its contacts; large ones shared out to
// threads by stretches of pairs. Stretches hang on the program alone and sums are added in their
// order, so the answer is the same, bit by bit, for any number of threads.

#include <vector>

#include "solve/cone_data.hpp"

namespace skewback {

/// The functions of ConeKernels under the same names.
class ConeShares {
 public:
  /// `room`: kTightSize per pair, written by assemble().
  ConeShares(const ConeData& data, const BlockPattern& pattern, const ConeKernels& kernels,
             double* room);

  void gather(const double* f, double sign, double* rows);
  void spread(const double* D, const double* y, const double* h, double* out);
  void gather_scaled(const double* D, const double* h, double sign, double* rows);
  void assemble(const double* D, double* blocks);
  void weigh(const ConeState& s);
  ConeSums residuals(const ConeState& s, const double* y, double tau);
  double aim_tau(const ConeState& s, double tau, bool near);
  ConeAims aim_affine(const ConeState& s);
  void second_order(const ConeState& s);
  void correct(const ConeState& s, double step, double low, double high);
  ConeAims aim_centre(const ConeState& s, double target, double keep, double share);
  double dot_residuals(const ConeState& s, const double* x) const;
  double dot_costs(const ConeState& s, const double* x) const;
  double direct(const ConeState& s, const double* dy, double growth, double rest, double dtau,
                double keep);
  void advance(const ConeState& s, double step);

 private:
  template <class Body>
  void each(const Body& body) const;
  template <class Sum, class Body>
  Sum sum(const Body& body) const;
  void add_rows_of_a(double* rows) const;

  const ConeKernels& k_;
  std::vector<ConeView> views_;
  std::vector<int> start_, pairs_;  // per place: pairs whose a it is, ascending
  std::vector<int> block_;          // per place: its diagonal block
  AlignedArray rows_of_a_;
  double* blocks_of_a_ = nullptr;
};

}  // namespace skewback
