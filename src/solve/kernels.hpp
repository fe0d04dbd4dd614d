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
  double* blocks = nullptr;  // kTightSize each; the upper triangle of diagonal blocks is not read
  const double* least = nullptr;  // kBlockRows per place: pivots up to it are skipped
  double* inverse = nullptr;  // per place: inverse of the diagonal block of the factor, transposed
};

inline constexpr int kSolvedAtOnce = 3;  // the factor is then read once for all

struct SplitKernels {
  int (*factorise_range)(const FactorView&, int begin, int end, int limit);
  void (*pull)(const FactorView&, const BlockPanel&, long q0, long q1, int from, int to);
  void (*subtract_columns)(const FactorView&, const BlockPanel&, long s0, long s1, long line0,
                           long line1);
  int (*eliminate_columns)(const FactorView&, const BlockPanel&, long s0, long s1);
  void (*divide_columns)(const FactorView&, const BlockPanel&, long s0, long s1, long line0,
                         long line1);
  void (*solve_down)(const FactorView&, int begin, int end, int limit, const int* number,
                     double* const* x, double* const* above, int count);
  void (*solve_up)(const FactorView&, int begin, int end, double* const* x, int count);
};

/// The same for block Gauss elimination.
struct LuView {
  const BlockPanel* panels = nullptr;
  int panel_count = 0;
  const int* rows = nullptr;
  const int* targets = nullptr;
  double *lower = nullptr, *upper = nullptr;  // diagonal blocks in `lower`; `upper` transposed
  double* inverse = nullptr;                  // per place: inverse of the diagonal block
};

/// A factor L D L' by columns, the ones of L left out, rows ascending.
struct LaneView {
  int size = 0;
  const int *start = nullptr, *row = nullptr;
  const double* value = nullptr;
  const double *pivot = nullptr, *inverse = nullptr;
  const int* upward = nullptr;  // all columns, each after those that stand in its rows
};

struct Kernels {
  const char* name;
  /// Factorises in place. -1, or the place of the first pivot that is not positive.
  int (*factorise)(const FactorView&);
  /// `count` right-hand sides x, at most kSolvedAtOnce; kBlockRows per place, padding zero. What
  /// comes out does not hang on the others.
  void (*solve)(const FactorView&, double* const* x, int count);
  /// The steps of both, for parts of the elimination tree on threads of their own
  /// (block_split.hpp).
  SplitKernels split;
  /// y += block x, and y_transposed += block' x_transposed
  void (*multiply)(const double* block, const double* x, double* y);
  void (*multiply_transposed)(const double* block, const double* x, double* y);
  /// Block Gauss elimination in place. -1, or the place of the first singular diagonal block.
  int (*factorise_lu)(const LuView&);
  void (*solve_lu)(const LuView&, double* x);
  /// L D L' y = y for one right-hand side, and for four: row i of all of them at y + 4 i, on 32
  /// bytes. `divides`: by the pivots, else times their inverses.
  void (*solve_lane)(const LaneView&, double* y, bool divides);
  void (*solve_lanes)(const LaneView&, double* y, bool divides);
  ConeKernels cone;
};

/// The widest this machine has.
[[nodiscard]] const Kernels& best_kernels();
/// "plain", "avx2", "avx512"; null where the machine or the build has none of that name.
[[nodiscard]] const Kernels* kernels_named(std::string_view name);

}  // namespace skewback
