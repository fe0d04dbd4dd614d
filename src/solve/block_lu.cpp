#include "solve/block_lu.hpp"

#include <cassert>
#include <utility>

#include "solve/block_factor.hpp"

namespace skewback {

struct BlockLu::State {
  explicit State(std::shared_ptr<const BlockPattern> p)
      : pattern(std::move(p)),
        kernels(best_kernels()),
        lower(pattern->blocks * kBlockSize),
        upper(pattern->blocks * kBlockSize),
        inverse(static_cast<std::size_t>(pattern->nodes) * kBlockSize),
        work(static_cast<std::size_t>(pattern->nodes) * kBlockRows),
        view{pattern->panels.data(), static_cast<int>(pattern->panels.size()),
             pattern->rows.data(),   pattern->targets.data(),
             lower.data(),           upper.data(),
             inverse.data()} {}

  std::shared_ptr<const BlockPattern> pattern;
  const Kernels& kernels;
  AlignedArray lower, upper, inverse;
  mutable AlignedArray work;  // scratch
  LuView view;
};

BlockLu::BlockLu(std::shared_ptr<const BlockPattern> pattern)
    : state_(std::make_unique<State>(std::move(pattern))) {}
BlockLu::~BlockLu() = default;
BlockLu::BlockLu(BlockLu&&) noexcept = default;
BlockLu& BlockLu::operator=(BlockLu&&) noexcept = default;

void BlockLu::set_zero() {
  state_->lower.zero();
  state_->upper.zero();
}

void BlockLu::add(int a, int b, const Block6& block) {
  const BlockPattern& pattern = *state_->pattern;
  const int i = pattern.place[static_cast<std::size_t>(a)];
  const int j = pattern.place[static_cast<std::size_t>(b)];
  const int k = i >= j ? pattern.find(i, j) : pattern.find(j, i);
  assert(k >= 0);
  const auto at = static_cast<std::size_t>(pattern.in_panel[static_cast<std::size_t>(k)]);
  AlignedArray& half = i >= j ? state_->lower : state_->upper;
  Eigen::Map<Block6, Eigen::Unaligned, Eigen::OuterStride<kBlockRows>> to(half.data() +
                                                                          at * kBlockSize);
  if (i >= j) {
    to += block;
  } else {
    to += block.transpose();
  }
}

bool BlockLu::factorise() { return state_->kernels.factorise_lu(state_->view) < 0; }

void BlockLu::solve(VectorX& x) const {
  const BlockPattern& pattern = *state_->pattern;
  AlignedArray& work = state_->work;
  for (std::size_t j = 0; j < pattern.node.size(); ++j) {
    for (int r = 0; r < 6; ++r) {
      work[j * kBlockRows + static_cast<std::size_t>(r)] = x[6 * pattern.node[j] + r];
    }
  }
  state_->kernels.solve_lu(state_->view, work.data());
  for (std::size_t j = 0; j < pattern.node.size(); ++j) {
    for (int r = 0; r < 6; ++r) {
      x[6 * pattern.node[j] + r] = work[j * kBlockRows + static_cast<std::size_t>(r)];
    }
  }
}

}  // namespace skewback
