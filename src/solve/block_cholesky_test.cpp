#include "solve/block_cholesky.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "solve/block_factor.hpp"

namespace skewback {
namespace {

using Pairs = std::vector<std::array<int, 2>>;

struct Sample {
  int nodes = 0;
  Pairs pairs;
  std::vector<Block6> diagonal, off;
  SparseMatrix S;
};

/// A graph like that of a wall, with some far ties, and a matrix M M' + shift on it.
Sample sample(int nodes, std::mt19937& rng) {
  std::uniform_real_distribution<double> u(-1, 1);
  Sample s;
  s.nodes = nodes;
  const int side = std::max(1, static_cast<int>(std::sqrt(nodes)));
  std::vector<int> name(static_cast<std::size_t>(nodes));
  for (int i = 0; i < nodes; ++i) name[static_cast<std::size_t>(i)] = i;
  std::shuffle(name.begin(), name.end(), rng);
  const auto link = [&](int a, int b) {
    if (a != b && b < nodes)
      s.pairs.push_back({name[static_cast<std::size_t>(a)], name[static_cast<std::size_t>(b)]});
  };
  for (int i = 0; i < nodes; ++i) {
    if ((i + 1) % side != 0) link(i, i + 1);
    link(i, i + side);
    if (u(rng) > 0.5) link(i, i + side + 1);
    if (u(rng) > 0.98) link(i, static_cast<int>((u(rng) + 1) / 2 * (nodes - 1)));
  }
  if (!s.pairs.empty()) s.pairs.push_back({s.pairs[0][1], s.pairs[0][0]});  // a repeat, reversed
  s.diagonal.assign(static_cast<std::size_t>(nodes), 1e-3 * Block6::Identity());
  std::vector<Eigen::Triplet<double>> entries;
  for (const auto& [a, b] : s.pairs) {
    const Block6 A = Block6::NullaryExpr([&] { return u(rng); }),
                 B = Block6::NullaryExpr([&] { return u(rng); });
    s.diagonal[static_cast<std::size_t>(a)] += A * A.transpose();
    s.diagonal[static_cast<std::size_t>(b)] += B * B.transpose();
    s.off.emplace_back(A * B.transpose());
    for (int i = 0; i < 6; ++i) {
      for (int j = 0; j < 6; ++j) {
        entries.emplace_back(6 * a + i, 6 * b + j, s.off.back()(i, j));
        entries.emplace_back(6 * b + j, 6 * a + i, s.off.back()(i, j));
      }
    }
  }
  for (int a = 0; a < nodes; ++a) {
    for (int i = 0; i < 6; ++i) {
      for (int j = 0; j < 6; ++j) {
        entries.emplace_back(6 * a + i, 6 * a + j, s.diagonal[static_cast<std::size_t>(a)](i, j));
      }
    }
  }
  s.S.resize(6 * nodes, 6 * nodes);
  s.S.setFromTriplets(entries.begin(), entries.end());
  return s;
}

void fill(const Sample& s, BlockCholesky& to) {
  to.set_zero();
  for (int a = 0; a < s.nodes; ++a) to.add_diagonal(a, s.diagonal[static_cast<std::size_t>(a)]);
  for (std::size_t k = 0; k < s.pairs.size(); ++k) {
    to.add_pair(s.pairs[k][0], s.pairs[k][1], s.off[k]);
  }
}

// CHOLMOD (Chen, Davis, Hager, Rajamanickam 2008) on the same matrix.
TEST(BlockCholesky, AgreesWithCholmodOnRandomGraphs) {
  std::mt19937 rng(3);
  std::uniform_real_distribution<double> u(0, 1);
  double worst = 0, apart = 0;
  for (int round = 0; round < 30; ++round) {
    const int nodes = round < 2 ? round + 1 : static_cast<int>(std::exp(u(rng) * std::log(900.0)));
    const Sample s = sample(nodes, rng);
    BlockCholesky own(analyse(nodes, s.pairs));
    fill(s, own);
    ASSERT_TRUE(own.factorise()) << "round " << round << ", " << nodes << " nodes";
    EXPECT_EQ(own.failed_node(), -1);
    const VectorX b = VectorX::NullaryExpr(6 * nodes, [&] { return u(rng); });
    VectorX x = b, image;
    own.solve(x);
    worst = std::max(worst, (s.S * x - b).norm() / (s.S.norm() * x.norm()));
    SparseCholesky other;
    ASSERT_TRUE(other.factorise(s.S));
    const VectorX theirs = other.solve(b);
    apart = std::max(apart, (x - theirs).norm() / theirs.norm());
    own.multiply(x, image);
    EXPECT_LE((image - s.S * x).norm(), 1e-13 * s.S.norm() * x.norm()) << "round " << round;
  }
  std::printf("worst backward error %.1e, apart from CHOLMOD %.1e\n", worst, apart);
  EXPECT_LE(worst, 1e-15);
  EXPECT_LE(apart, 1e-9);  // conditions up to 1e5
}

TEST(BlockCholesky, SaysWhichNodeIsNotPositive) {
  BlockCholesky own(analyse(3, {{0, 1}, {1, 2}}));
  for (int a = 0; a < 3; ++a) own.add_diagonal(a, Block6::Identity());
  ASSERT_TRUE(own.factorise());
  own.add_diagonal(2, -2 * Block6::Identity());
  EXPECT_FALSE(own.factorise());
  EXPECT_EQ(own.failed_node(), 2);
}

TEST(BlockCholesky, RegularisationGrowsTheDiagonal) {
  BlockCholesky own(analyse(1, {}));
  own.add_diagonal(0, 2 * Block6::Identity());
  ASSERT_TRUE(own.factorise(0.5));
  VectorX x = VectorX::Ones(6);
  own.solve(x);
  EXPECT_NEAR(x[3], 1.0 / 3, 1e-15);
}

TEST(BlockCholesky, SameBitsForEveryVectorWidth) {
  std::mt19937 rng(8);
  for (const int nodes : {1, 7, 60, 300}) {
    const Sample s = sample(nodes, rng);
    const auto pattern = analyse(nodes, s.pairs);
    std::vector<double> first;
    int widths = 0;
    for (const char* name : {"plain", "avx2", "avx512"}) {
      const Kernels* kernels = kernels_named(name);
      if (!kernels) continue;
      ++widths;
      BlockFactor factor(pattern, *kernels);
      for (int j = 0; j < nodes; ++j) {
        for (int k = pattern->start[std::size_t(j)]; k < pattern->start[std::size_t(j) + 1]; ++k) {
          const int a = pattern->node[std::size_t(pattern->row[std::size_t(k)])],
                    b = pattern->node[std::size_t(j)];
          for (int i = 0; i < 36; ++i)
            factor.block(k)[i / 6 * kTightRows + i % 6] = s.S.coeff(6 * a + i % 6, 6 * b + i / 6);
        }
      }
      ASSERT_EQ(factor.factorise(0), -1);
      AlignedArray x(std::size_t(nodes) * kBlockRows);
      for (int i = 0; i < nodes; ++i)
        for (int r = 0; r < 6; ++r) x[std::size_t(kBlockRows * i + r)] = 1 + r + 0.1 * i;
      factor.solve(x.data());
      std::vector<double> got;
      for (int i = 0; i < nodes; ++i)
        for (int r = 0; r < 6; ++r) got.push_back(x[std::size_t(kBlockRows * i + r)]);
      if (first.empty()) first = got;
      EXPECT_EQ(0, std::memcmp(first.data(), got.data(), first.size() * sizeof(double)))
          << name << ", " << nodes << " nodes";
    }
    if (widths < 2) GTEST_SKIP() << "this machine has one width only";
  }
}

}  // namespace
}  // namespace skewback
