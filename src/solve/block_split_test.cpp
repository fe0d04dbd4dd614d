#include "solve/block_split.hpp"

#include <gtest/gtest.h>

#include <cstring>
#include <random>

#include "base/parallel.hpp"
#include "solve/block_cholesky.hpp"
#include "solve/block_factor.hpp"
#include "solve/cone_program.hpp"
#include "solve/sample_cones.hpp"

namespace skewback {
namespace {

constexpr int kSide = 56;

/// A square grid of blocks with diagonals: wide enough for a factorisation to be shared out.
std::shared_ptr<const BlockPattern> grid() {
  std::vector<std::array<int, 2>> pairs;
  for (int i = 0; i < kSide * kSide; ++i) {
    if ((i + 1) % kSide != 0) pairs.push_back({i, i + 1});
    if (i + kSide < kSide * kSide) pairs.push_back({i, i + kSide});
    if ((i + 1) % kSide != 0 && i + kSide < kSide * kSide) pairs.push_back({i, i + kSide + 1});
  }
  return analyse(kSide * kSide, pairs);
}

void fill(const BlockPattern& pattern, BlockFactor& factor) {
  std::mt19937 rng(11);
  std::uniform_real_distribution<double> u(-1, 1);
  factor.set_zero();
  for (int j = 0; j < pattern.nodes; ++j) {
    for (int k = pattern.start[static_cast<std::size_t>(j)];
         k < pattern.start[static_cast<std::size_t>(j) + 1]; ++k) {
      const bool diagonal = pattern.row[static_cast<std::size_t>(k)] == j;
      for (int c = 0; c < 6; ++c) {
        for (int r = c; r < 6; ++r) {
          const double v = u(rng) + (diagonal && r == c ? 50 : 0);
          factor.block(k)[c * kTightRows + r] = v;
          if (diagonal) factor.block(k)[r * kTightRows + c] = v;
        }
      }
    }
  }
}

bool same(const AlignedArray& a, const AlignedArray& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

AlignedArray ones(const BlockPattern& pattern) {
  AlignedArray x(static_cast<std::size_t>(pattern.nodes) * kBlockRows);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] = i % kBlockRows < 6 ? 1.0 + double(i % 7) : 0;
  return x;
}

TEST(BlockSplit, SharesOutOnlyWhatIsWorthIt) {
  EXPECT_TRUE(analyse(2, {{0, 1}})->split->empty());
  const auto pattern = grid();
  const BlockSplit& split = *pattern->split;
  ASSERT_GT(split.subtrees.size(), 4u);
  ASSERT_GT(split.above.size(), 0u);
  std::vector<int> seen(pattern->panels.size(), 0);
  for (const BlockSubtree& tree : split.subtrees) {
    for (int p = tree.begin; p < tree.end; ++p) ++seen[static_cast<std::size_t>(p)];
  }
  for (const int p : split.above) ++seen[static_cast<std::size_t>(p)];
  for (const int times : seen) EXPECT_EQ(times, 1);
}

// The factor is that of the plain run over all panels, and threads change nothing.
TEST(BlockSplit, SameFactorAndAnswerForAnyNumberOfThreads) {
  const auto pattern = grid();
  const auto whole = std::make_shared<BlockPattern>(*pattern);
  whole->split = std::make_shared<BlockSplit>();
  BlockFactor reference(whole, best_kernels());
  fill(*whole, reference);
  ASSERT_EQ(reference.factorise(0), -1);
  AlignedArray expected = ones(*whole), first;
  reference.solve(expected.data());
  for (const int jobs : {1, 2, 5}) {
    const JobLimit limit(jobs);
    BlockFactor shared(pattern, best_kernels());
    fill(*pattern, shared);
    ASSERT_EQ(shared.factorise(0), -1);
    EXPECT_TRUE(same(shared.values(), reference.values())) << jobs;
    AlignedArray x = ones(*pattern);
    shared.solve(x.data());
    for (std::size_t i = 0; i < x.size(); ++i) ASSERT_NEAR(x[i], expected[i], 1e-13) << i;
    if (first.size() == 0) {
      first = std::move(x);
    } else {
      EXPECT_TRUE(same(x, first)) << jobs;
    }
  }
}

// Right-hand sides solved in one pass come out as each by itself; a matrix added up where its
// factor will be has the same factor.
TEST(BlockSplit, SameAnswerInCompanyAndInPlace) {
  const auto shared = grid();
  const auto whole = std::make_shared<BlockPattern>(*shared);
  whole->split = std::make_shared<BlockSplit>();
  for (const bool split : {true, false}) {
    const std::shared_ptr<const BlockPattern> pattern = split ? shared : whole;
    BlockFactor factor(pattern, best_kernels()), placed(pattern, best_kernels(), true);
    fill(*pattern, factor);
    placed.clear_placed();
    for (std::size_t k = 0; k < pattern->row.size(); ++k) {
      std::memcpy(placed.placed() + static_cast<std::size_t>(pattern->in_panel[k]) * kTightSize,
                  factor.block(static_cast<int>(k)), kTightSize * sizeof(double));
    }
    ASSERT_EQ(factor.factorise(1e-13), -1);
    ASSERT_EQ(placed.factorise_placed(1e-13), -1);
    EXPECT_TRUE(same(placed.values(), factor.values()));
    for (const std::size_t count : {1, 2, 3, 5}) {
      std::vector<AlignedArray> alone, together;
      std::vector<double*> sides;
      for (std::size_t i = 0; i < count; ++i) {
        for (auto* list : {&alone, &together}) {
          list->push_back(ones(*pattern));
          list->back()[8 * i] += double(i);
        }
        factor.solve(alone[i].data());
      }
      for (AlignedArray& x : together) sides.push_back(x.data());
      placed.solve_all(sides);
      for (std::size_t i = 0; i < count; ++i) EXPECT_TRUE(same(together[i], alone[i])) << i;
    }
  }
}

TEST(BlockSplit, SaysWhichPivotIsNotPositive) {
  const auto pattern = grid();
  for (const std::size_t place : {std::size_t{3}, static_cast<std::size_t>(pattern->nodes - 2)}) {
    BlockFactor factor(pattern, best_kernels());
    fill(*pattern, factor);
    factor.block(pattern->start[place])[0] = -1e6;
    EXPECT_EQ(factor.factorise(0), static_cast<int>(place));
  }
}

TEST(BlockSplit, ConeProgramSameForAnyNumberOfThreads) {
  const sample::Shell shell{.courses = 50, .units = 40};
  const ConeProgram program = sample::limit_program(shell, 0.3, 0.4);
  const ConeSolver solver(program);
  ConeSummary first;
  for (const int jobs : {1, 2, 5}) {
    const JobLimit limit(jobs);
    const ConeSummary s = solver.solve(program);
    ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
    if (first.f.size() == 0) {
      first = s;
      continue;
    }
    EXPECT_EQ(s.iterations, first.iterations);
    EXPECT_TRUE((s.f.array() == first.f.array()).all());
    EXPECT_TRUE((s.y.array() == first.y.array()).all());
    EXPECT_EQ(s.objective, first.objective);
  }
}

}  // namespace
}  // namespace skewback
