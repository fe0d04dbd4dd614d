#include "solve/block_cholesky.hpp"

#include <algorithm>
#include <cassert>
#include <cstring>
#include <utility>

#include "base/parallel.hpp"
#include "solve/block_factor.hpp"
#include "solve/block_split.hpp"

namespace skewback {

BlockFactor::BlockFactor(std::shared_ptr<const BlockPattern> pattern, const Kernels& kernels,
                         bool in_place)
    : pattern_(std::move(pattern)),
      kernels_(&kernels),
      matrix_(in_place ? 0 : pattern_->row.size() * kTightSize),
      factor_(pattern_->blocks * kTightSize),
      inverse_(static_cast<std::size_t>(pattern_->nodes) * kBlockSize),
      least_(static_cast<std::size_t>(pattern_->nodes) * kBlockRows),
      view_{pattern_->panels.data(), static_cast<int>(pattern_->panels.size()),
            pattern_->rows.data(),   pattern_->targets.data(),
            factor_.data(),          least_.data(),
            inverse_.data()} {}

void BlockFactor::clear_placed() {
  if (pattern_->split->empty()) {
    factor_.zero();
  } else {
    constexpr std::size_t kShares = 32;
    for_each_index(kShares, [&](std::size_t i) {
      const std::size_t from = factor_.size() * i / kShares,
                        to = factor_.size() * (i + 1) / kShares;
      std::memset(factor_.data() + from, 0, (to - from) * sizeof(double));
    });
  }
}

int BlockFactor::factorise(double regularise_rel, double skip_rel) {
  clear_placed();
  for (std::size_t k = 0; k < pattern_->in_panel.size(); ++k) {
    std::memcpy(factor_.data() + static_cast<std::size_t>(pattern_->in_panel[k]) * kTightSize,
                matrix_.data() + k * kTightSize, kTightSize * sizeof(double));
  }
  return factorise_placed(regularise_rel, skip_rel);
}

int BlockFactor::factorise_placed(double regularise_rel, double skip_rel) {
  const double grow = 1 + regularise_rel;
  for (int j = 0; j < pattern_->nodes; ++j) {
    const auto k = static_cast<std::size_t>(pattern_->start[static_cast<std::size_t>(j)]);
    double* block = factor_.data() + static_cast<std::size_t>(pattern_->in_panel[k]) * kTightSize;
    for (int c = 0; c < 6; ++c) {
      double& entry = block[c * kTightRows + c];
      least_[static_cast<std::size_t>(j * kBlockRows + c)] = skip_rel * entry;
      entry *= grow;
    }
  }
  const BlockSplit& split = *pattern_->split;
  return split.empty() ? kernels_->factorise(view_) : skewback::factorise(split, *kernels_, view_);
}

void BlockFactor::solve_all(std::span<double* const> x) const {
  const BlockSplit& split = *pattern_->split;
  for (std::size_t i = 0; i < x.size(); i += kSolvedAtOnce) {
    const int count = static_cast<int>(std::min<std::size_t>(kSolvedAtOnce, x.size() - i));
    if (split.empty()) {
      kernels_->solve(view_, x.data() + i, count);
    } else {
      skewback::solve(split, *kernels_, view_, scratch_, x.data() + i, count);
    }
  }
}

void BlockFactor::multiply(const double* x, double* y) const {
  std::memset(y, 0, static_cast<std::size_t>(pattern_->nodes) * kBlockRows * sizeof(double));
  for (std::size_t j = 0; j + 1 < pattern_->start.size(); ++j) {
    for (int k = pattern_->start[j]; k < pattern_->start[j + 1]; ++k) {
      const auto i = static_cast<std::size_t>(pattern_->row[static_cast<std::size_t>(k)]);
      const double* block = matrix_.data() + static_cast<std::size_t>(k) * kTightSize;
      kernels_->multiply(block, x + j * kBlockRows, y + i * kBlockRows);
      if (i != j) kernels_->multiply_transposed(block, x + i * kBlockRows, y + j * kBlockRows);
    }
  }
}

struct BlockCholesky::State {
  explicit State(std::shared_ptr<const BlockPattern> pattern)
      : factor(std::move(pattern), best_kernels()),
        work(static_cast<std::size_t>(factor.pattern().nodes) * kBlockRows),
        image(work.size()) {}

  void pack(const VectorX& x) const {
    const BlockPattern& pattern = factor.pattern();
    for (std::size_t j = 0; j < pattern.node.size(); ++j) {
      for (int r = 0; r < 6; ++r) {
        work[j * kBlockRows + static_cast<std::size_t>(r)] = x[6 * pattern.node[j] + r];
      }
    }
  }
  void unpack(const AlignedArray& from, VectorX& x) const {
    const BlockPattern& pattern = factor.pattern();
    for (std::size_t j = 0; j < pattern.node.size(); ++j) {
      for (int r = 0; r < 6; ++r) {
        x[6 * pattern.node[j] + r] = from[j * kBlockRows + static_cast<std::size_t>(r)];
      }
    }
  }

  BlockFactor factor;
  mutable AlignedArray work, image;  // scratch
  int failed = -1;
};

BlockCholesky::BlockCholesky(std::shared_ptr<const BlockPattern> pattern)
    : state_(std::make_unique<State>(std::move(pattern))) {}
BlockCholesky::~BlockCholesky() = default;
BlockCholesky::BlockCholesky(BlockCholesky&&) noexcept = default;
BlockCholesky& BlockCholesky::operator=(BlockCholesky&&) noexcept = default;

void BlockCholesky::set_zero() { state_->factor.set_zero(); }

void BlockCholesky::add_diagonal(int node, const Block6& block) {
  const BlockPattern& pattern = state_->factor.pattern();
  const int j = pattern.place[static_cast<std::size_t>(node)];
  double* to = state_->factor.block(pattern.start[static_cast<std::size_t>(j)]);
  Eigen::Map<Block6, Eigen::Unaligned, Eigen::OuterStride<kTightRows>>(to) += block;
}

void BlockCholesky::add_pair(int a, int b, const Block6& rows_a_columns_b) {
  const BlockPattern& pattern = state_->factor.pattern();
  const int i = pattern.place[static_cast<std::size_t>(a)];
  const int j = pattern.place[static_cast<std::size_t>(b)];
  const int k = i > j ? pattern.find(i, j) : pattern.find(j, i);
  assert(k >= 0 && i != j);
  Eigen::Map<Block6, Eigen::Unaligned, Eigen::OuterStride<kTightRows>> to(state_->factor.block(k));
  if (i > j) {
    to += rows_a_columns_b;
  } else {
    to += rows_a_columns_b.transpose();
  }
}

bool BlockCholesky::factorise(double regularise_rel) {
  const int place = state_->factor.factorise(regularise_rel);
  state_->failed = place < 0 ? -1 : state_->factor.pattern().node[static_cast<std::size_t>(place)];
  return place < 0;
}

int BlockCholesky::failed_node() const { return state_->failed; }

void BlockCholesky::solve(VectorX& x) const {
  state_->pack(x);
  state_->factor.solve(state_->work.data());
  state_->unpack(state_->work, x);
}

void BlockCholesky::multiply(const VectorX& x, VectorX& y) const {
  state_->pack(x);
  state_->factor.multiply(state_->work.data(), state_->image.data());
  y.resize(x.size());
  state_->unpack(state_->image, y);
}

std::size_t BlockCholesky::factor_blocks() const { return state_->factor.pattern().blocks; }
double BlockCholesky::flops() const { return state_->factor.pattern().flops; }

}  // namespace skewback
