#include "solve/block_lu.hpp"

#include <gtest/gtest.h>

#include <Eigen/SparseLU>
#include <random>

namespace skewback {
namespace {

struct Matrix {
  std::shared_ptr<const BlockPattern> pattern;
  SparseMatrix S;
};

/// A grid of blocks, diagonal heavy, not symmetric.
Matrix fill(int side, std::mt19937& rng, BlockLu* out) {
  std::uniform_real_distribution<double> u(-1, 1);
  const int nodes = side * side;
  std::vector<std::array<int, 2>> pairs;
  for (int i = 0; i < nodes; ++i) {
    if ((i + 1) % side != 0) pairs.push_back({i, i + 1});
    if (i + side < nodes) pairs.push_back({i + side, i});
  }
  Matrix m;
  m.pattern = analyse(nodes, pairs);
  *out = BlockLu(m.pattern);
  out->set_zero();
  std::vector<Eigen::Triplet<double>> entries;
  const auto add = [&](int a, int b, const Block6& block) {
    out->add(a, b, block);
    for (int i = 0; i < 6; ++i) {
      for (int j = 0; j < 6; ++j) entries.emplace_back(6 * a + i, 6 * b + j, block(i, j));
    }
  };
  const auto random = [&] { return Block6(Block6::NullaryExpr([&] { return u(rng); })); };
  for (const auto& [a, b] : pairs) {
    add(a, b, random());
    add(b, a, random());
  }
  for (int a = 0; a < nodes; ++a) {
    add(a, a, random());
    add(a, a, 8 * Block6::Identity());
  }
  m.S.resize(6 * nodes, 6 * nodes);
  m.S.setFromTriplets(entries.begin(), entries.end());
  return m;
}

// Eigen's SparseLU, with pivots, on the same matrix.
TEST(BlockLu, AgreesWithSparseLuOnGrids) {
  std::mt19937 rng(5);
  for (const int side : {1, 2, 5, 11, 24}) {
    BlockLu own(analyse(1, {}));
    const Matrix m = fill(side, rng, &own);
    ASSERT_TRUE(own.factorise());
    const VectorX b = VectorX::Random(m.S.rows());
    VectorX x = b;
    own.solve(x);
    Eigen::SparseLU<SparseMatrix> other(m.S);
    const VectorX reference = other.solve(b);
    EXPECT_LT((x - reference).lpNorm<Eigen::Infinity>(),
              1e-10 * reference.lpNorm<Eigen::Infinity>())
        << side;
  }
}

TEST(BlockLu, PivotsInsideABlock) {
  BlockLu own(analyse(1, {}));
  own.set_zero();
  Block6 swap = Block6::Zero();
  for (int i = 0; i < 6; ++i) swap(i, (i + 1) % 6) = i + 1;
  own.add(0, 0, swap);
  ASSERT_TRUE(own.factorise());
  VectorX x(6);
  x << 1, 2, 3, 4, 5, 6;
  own.solve(x);
  EXPECT_LT((x - VectorX::Ones(6)).norm(), 1e-15);
}

TEST(BlockLu, SaysWhereItIsSingular) {
  BlockLu own(analyse(2, {{0, 1}}));
  own.set_zero();
  own.add(0, 0, Block6::Identity());
  own.add(0, 1, Block6::Identity());
  own.add(1, 0, Block6::Identity());
  own.add(1, 1, Block6::Identity());
  EXPECT_FALSE(own.factorise());
}

}  // namespace
}  // namespace skewback
