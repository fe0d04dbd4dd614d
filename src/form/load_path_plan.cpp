#include <algorithm>
#include <limits>

#include "form/load_path_program.hpp"

namespace skewback {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kRange = 1e5;  // greatest force tried, where every edge that can is to carry one
constexpr double kCarries = 1e-4;  // below this an edge is taken to carry nothing
constexpr double kStraight = 1e-9;

struct Rows {
  std::vector<int> free;  // per point: its number among the free, -1 if fixed
  int count = 0;
};

Rows rows_of(const Net& net) {
  Rows rows;
  for (char fixed : net.fixed) rows.free.push_back(fixed ? -1 : rows.count++);
  return rows;
}

// Unit push of each edge on its free ends; rows in which nothing pushes are left out.
SparseMatrix pushes(const Net& net, const Rows& rows, std::vector<int>& row_of) {
  std::vector<Eigen::Triplet<double>> entries;
  row_of.assign(std::size_t(2 * rows.count), -1);
  int used = 0;
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const NetEdge& e = net.edges[k];
    const Vec2 push = (net.points[e.a] - net.points[e.b]).head<2>().normalized();
    for (const auto& [end, sign] : {std::pair{e.a, 1.0}, {e.b, -1.0}})
      for (int i = 0; i < 2; ++i) {
        if (rows.free[end] < 0 || std::abs(push[i]) < kStraight) continue;
        int& row = row_of[std::size_t(2 * rows.free[end] + i)];
        if (row < 0) row = used++;
        entries.emplace_back(row, int(k), sign * push[i]);
      }
  }
  SparseMatrix A(used, Eigen::Index(net.edges.size()));
  A.setFromTriplets(entries.begin(), entries.end());
  return A;
}

void put(const SparseMatrix& M, Eigen::Index row, Eigen::Index column, double factor,
         std::vector<Eigen::Triplet<double>>& entries) {
  for (Eigen::Index k = 0; k < M.outerSize(); ++k)
    for (SparseMatrix::InnerIterator it(M, k); it; ++it)
      entries.emplace_back(row + it.row(), column + it.col(), factor * it.value());
}

}  // namespace

std::vector<char> edges_that_can_carry(const Net& net) {
  // force = t + v with 0 <= t <= 1 and v >= 0, sum of t greatest (R. M. Freund, R. Roundy and
  // M. J. Todd 1985, from memory): one linear program finds all edges that can carry at once.
  std::vector<int> row_of;
  const SparseMatrix A = pushes(net, rows_of(net), row_of);
  const Eigen::Index m = A.cols();
  std::vector<Eigen::Triplet<double>> entries;
  put(A, 0, 0, 1, entries);
  put(A, 0, m, 1, entries);
  LinearProgram lp;
  lp.A.resize(A.rows(), 2 * m);
  lp.A.setFromTriplets(entries.begin(), entries.end());
  lp.b = VectorX::Zero(A.rows());
  lp.c = VectorX::Zero(2 * m);
  lp.c.head(m).setConstant(-1);
  lp.lower = VectorX::Zero(2 * m);
  lp.upper = VectorX::Constant(2 * m, kRange);
  lp.upper.head(m).setOnes();
  if (A.rows() == 0) return std::vector<char>(std::size_t(m), 1);
  const LpSummary answer = solve(lp);
  if (answer.status != SolveStatus::kOptimal) return {};
  std::vector<char> can;
  for (Eigen::Index k = 0; k < m; ++k) can.push_back(answer.x[k] + answer.x[m + k] > kCarries);
  return can;
}

std::vector<Vec2> sideways_help(const Net& net, const std::vector<double>& downward) {
  // Edges u + v + k: u carries one up, v one down, each at a slope of one; steeper states are
  // flatter ones with less force, so the slope costs no generality. A (u + v + k) + r - s = 0.
  const Rows rows = rows_of(net);
  std::vector<int> row_of;
  const SparseMatrix A = pushes(net, rows, row_of);
  const Eigen::Index m = A.cols(), ra = A.rows(), n = rows.count;
  double unit = 0;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (rows.free[i] >= 0) unit += downward[i] / double(n);
  std::vector<Eigen::Triplet<double>> entries;
  for (int copy = 0; copy < 3; ++copy) put(A, 0, copy * m, 1, entries);
  for (Eigen::Index i = 0; i < ra; ++i) {
    entries.emplace_back(i, 3 * m + i, 1);
    entries.emplace_back(i, 3 * m + ra + i, -1);
  }
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    for (const auto& [end, sign] : {std::pair{net.edges[k].a, 1.0}, {net.edges[k].b, -1.0}})
      if (rows.free[end] >= 0) {
        entries.emplace_back(ra + rows.free[end], Eigen::Index(k), sign);
        entries.emplace_back(ra + rows.free[end], m + Eigen::Index(k), -sign);
      }
  LinearProgram lp;
  lp.A.resize(ra + n, 3 * m + 2 * ra);
  lp.A.setFromTriplets(entries.begin(), entries.end());
  lp.b = VectorX::Zero(ra + n);
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (rows.free[i] >= 0) lp.b[ra + rows.free[i]] = downward[i] / unit;
  lp.c = VectorX::Zero(lp.A.cols());
  lp.c.tail(2 * ra).setOnes();
  lp.lower = VectorX::Zero(lp.A.cols());
  lp.upper = VectorX::Constant(lp.A.cols(), kInfinity);
  const LpSummary answer = solve(lp);
  if (answer.status != SolveStatus::kOptimal) return {};
  std::vector<Vec2> help(net.points.size(), Vec2::Zero());
  for (std::size_t i = 0; i < help.size(); ++i)
    for (int k = 0; rows.free[i] >= 0 && k < 2; ++k)
      if (const int row = row_of[std::size_t(2 * rows.free[i] + k)]; row >= 0)
        help[i][k] = unit * (answer.x[3 * m + row] - answer.x[3 * m + ra + row]);
  return help;
}

}  // namespace skewback
