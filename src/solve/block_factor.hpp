#pragma once
// Private to solve/: the numeric side of BlockCholesky, in the order of elimination and in the
// padded layout of the kernels.

#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <memory>
#include <new>
#include <span>
#include <vector>

#include "solve/kernels.hpp"

namespace skewback {

/// Zeros at an address for the widest vectors. What is never written takes no memory where it is
/// large.
class AlignedArray {
 public:
  AlignedArray() = default;
  explicit AlignedArray(std::size_t size)
      : size_(size), whole_(std::calloc(size + 8, sizeof(double))) {
    if (!whole_) throw std::bad_alloc();
    const auto at = reinterpret_cast<std::uintptr_t>(whole_.get());
    data_ = reinterpret_cast<double*>((at + 63) / 64 * 64);
  }
  void zero() {
    if (size_ > 0) std::memset(data_, 0, size_ * sizeof(double));
  }
  [[nodiscard]] double* data() { return data_; }
  [[nodiscard]] const double* data() const { return data_; }
  [[nodiscard]] std::size_t size() const { return size_; }
  double& operator[](std::size_t i) { return data_[i]; }
  const double& operator[](std::size_t i) const { return data_[i]; }

 private:
  struct Free {
    void operator()(void* p) const { std::free(p); }
  };
  std::size_t size_ = 0;
  std::unique_ptr<void, Free> whole_;
  double* data_ = nullptr;
};

class BlockFactor {
 public:
  /// `in_place`: the matrix is added up where its factor will be, by placed(), and block(),
  /// set_zero(), factorise() and multiply() are not to be called.
  BlockFactor(std::shared_ptr<const BlockPattern> pattern, const Kernels& kernels,
              bool in_place = false);

  [[nodiscard]] const BlockPattern& pattern() const { return *pattern_; }
  /// Block k of the matrix, as numbered by BlockPattern::row; diagonal blocks are kept whole.
  [[nodiscard]] double* block(int k) { return matrix_.data() + std::size_t(k) * kTightSize; }
  void set_zero() { matrix_.zero(); }
  /// -1, or the place whose pivot is not positive.
  /// Pivots up to skip_rel of their diagonal entry are taken as noise of a dependent row.
  [[nodiscard]] int factorise(double regularise_rel, double skip_rel = 0);
  /// The same in place: zeros, then blocks as numbered by BlockPattern::in_panel (only the lower
  /// triangle of diagonal ones counts), then the factor. To be begun again for each factor.
  void clear_placed();
  [[nodiscard]] double* placed() { return factor_.data(); }
  [[nodiscard]] int factorise_placed(double regularise_rel, double skip_rel = 0);
  void solve(double* x) const { solve_all({&x, 1}); }
  void solve_all(std::span<double* const> x) const;
  /// y = matrix x
  void multiply(const double* x, double* y) const;
  [[nodiscard]] const AlignedArray& values() const { return factor_; }  // as the kernels lay it
  [[nodiscard]] const Kernels& kernels() const { return *kernels_; }

 private:
  std::shared_ptr<const BlockPattern> pattern_;
  const Kernels* kernels_;
  AlignedArray matrix_, factor_, inverse_, least_;
  FactorView view_;
  mutable std::vector<double> scratch_;
};

}  // namespace skewback
