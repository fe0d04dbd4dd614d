#pragma once
// Private to solve/: the loops that take the time, compiled for several vector widths from the same
// source. Every entry is the result of the same operations in the same order whatever the width, so
// the answers agree bit by bit.

#include <string_view>

#include "solve/block_pattern.hpp"
#include "solve/cone_view.hpp"

namespace skewback {

/// Plain pointers into a BlockPattern and the values of its factor.
struct FactorView {
  const BlockPanel* panels = nullptr;
  int panel_count = 0;
  const int* rows = nullptr;
  const int* targets = nullptr;
  double* blocks = nullptr;  // kBlockSize each; the upper triangle of diagonal blocks is not read
  const double* least = nullptr;  // kBlockRows per place: pivots up to it are skipped
  double* inverse = nullptr;  // per place: inverse of the diagonal block of the factor, transposed
};

struct Kernels {
  const char* name;
  /// Factorises in place. -1, or the place of the first pivot that is not positive.
  int (*factorise)(const FactorView&);
  /// x: kBlockRows per place, padding zero.
  void (*solve)(const FactorView&, double* x);
  /// y += block x, and y_transposed += block' x_transposed
  void (*multiply)(const double* block, const double* x, double* y);
  void (*multiply_transposed)(const double* block, const double* x, double* y);
  ConeKernels cone;
};

/// The widest this machine has.
[[nodiscard]] const Kernels& best_kernels();
/// "plain", "avx2", "avx512"; null where the machine or the build has none of that name.
[[nodiscard]] const Kernels* kernels_named(std::string_view name);

}  // namespace skewback
