#include "solve/block_pattern.hpp"

#include <cholmod.h>

#include <algorithm>
#include <memory>
#include <mutex>
#include <numeric>

#include "solve/block_cholesky.hpp"
#include "solve/block_split.hpp"

namespace skewback {

namespace {

constexpr int kTryDissectionFrom = 400;  // nodes; minimum degree is as good below, and quicker

using Graph = std::vector<std::vector<int>>;  // sorted neighbours, both ways

Graph graph_of(int nodes, const std::vector<std::array<int, 2>>& pairs) {
  Graph graph(static_cast<std::size_t>(nodes));
  for (const auto& [a, b] : pairs) {
    graph[static_cast<std::size_t>(a)].push_back(b);
    graph[static_cast<std::size_t>(b)].push_back(a);
  }
  for (auto& list : graph) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  }
  return graph;
}

/// Place of elimination -> node, postordered.
std::vector<int> order_of(const Graph& graph) {
  const auto n = graph.size();
  std::vector<int> order(n);
  std::iota(order.begin(), order.end(), 0);
  std::size_t entries = 0;
  for (const auto& list : graph) entries += list.size();
  entries = n + entries / 2;

  cholmod_common common;
  cholmod_start(&common);
  common.print = 0;
  common.supernodal = CHOLMOD_SIMPLICIAL;
  common.method[0].ordering = CHOLMOD_AMD;
  common.method[1].ordering = CHOLMOD_METIS;
  common.method[2].ordering = CHOLMOD_NESDIS;
  common.nmethods = n >= kTryDissectionFrom ? 3 : 1;
  cholmod_sparse* matrix =
      cholmod_allocate_sparse(n, n, entries, 1, 1, -1, CHOLMOD_PATTERN, &common);
  auto* start = static_cast<int*>(matrix->p);
  auto* row = static_cast<int*>(matrix->i);
  int at = 0;
  for (std::size_t j = 0; j < n; ++j) {
    start[j] = at;
    row[at++] = static_cast<int>(j);
    for (const int i : graph[j]) {
      if (i > static_cast<int>(j)) row[at++] = i;
    }
  }
  start[n] = at;
  {
    static std::mutex one_at_a_time;  // METIS draws from random numbers that all threads share
    const std::lock_guard lock(one_at_a_time);
    if (cholmod_factor* factor = cholmod_analyze(matrix, &common)) {
      std::copy_n(static_cast<const int*>(factor->Perm), n, order.begin());
      cholmod_free_factor(&factor, &common);
    }
  }
  cholmod_free_sparse(&matrix, &common);
  cholmod_finish(&common);
  return order;
}

/// Rows below the diagonal of every column of the factor: those of the matrix and those of the
/// columns whose first row it is (the children in the elimination tree).
std::vector<std::vector<int>> columns_of_factor(const BlockPattern& pattern) {
  const auto n = static_cast<std::size_t>(pattern.nodes);
  std::vector<std::vector<int>> columns(n), children(n);
  std::vector<int> seen(n, -1);
  for (std::size_t j = 0; j < n; ++j) {
    std::vector<int>& rows = columns[j];
    const auto take = [&](int i) {
      if (i <= static_cast<int>(j) || seen[static_cast<std::size_t>(i)] == static_cast<int>(j))
        return;
      seen[static_cast<std::size_t>(i)] = static_cast<int>(j);
      rows.push_back(i);
    };
    for (int k = pattern.start[j]; k < pattern.start[j + 1]; ++k) {
      take(pattern.row[static_cast<std::size_t>(k)]);
    }
    for (const int child : children[j]) {
      for (const int i : columns[static_cast<std::size_t>(child)]) take(i);
    }
    std::sort(rows.begin(), rows.end());
    if (!rows.empty())
      children[static_cast<std::size_t>(rows.front())].push_back(static_cast<int>(j));
  }
  return columns;
}

void matrix_pattern(const Graph& graph, BlockPattern& pattern) {
  pattern.start.assign(1, 0);
  for (int j = 0; j < pattern.nodes; ++j) {
    const auto begin = pattern.row.size();
    pattern.row.push_back(j);
    for (const int node :
         graph[static_cast<std::size_t>(pattern.node[static_cast<std::size_t>(j)])]) {
      const int i = pattern.place[static_cast<std::size_t>(node)];
      if (i > j) pattern.row.push_back(i);
    }
    std::sort(pattern.row.begin() + static_cast<std::ptrdiff_t>(begin), pattern.row.end());
    pattern.start.push_back(static_cast<int>(pattern.row.size()));
  }
}

void panels_of(const std::vector<std::vector<int>>& columns, BlockPattern& pattern) {
  for (int j = 0; j < pattern.nodes;) {
    BlockPanel panel;
    panel.first = j;
    do {
      ++j;
    } while (j < pattern.nodes && !columns[static_cast<std::size_t>(j - 1)].empty() &&
             columns[static_cast<std::size_t>(j - 1)].front() == j &&
             columns[static_cast<std::size_t>(j - 1)].size() ==
                 columns[static_cast<std::size_t>(j)].size() + 1);
    panel.width = j - panel.first;
    const auto& last = columns[static_cast<std::size_t>(j - 1)];
    panel.rows_begin = static_cast<int>(pattern.rows.size());
    panel.rows_count = static_cast<int>(last.size());
    pattern.rows.insert(pattern.rows.end(), last.begin(), last.end());
    panel.base = pattern.blocks;
    pattern.blocks += static_cast<std::size_t>(panel.at(panel.width + panel.rows_count));
    pattern.panels.push_back(panel);
  }
}

/// Blocks of the factor, by places.
class Places {
 public:
  explicit Places(const BlockPattern& pattern)
      : pattern_(pattern), panel_of_(static_cast<std::size_t>(pattern.nodes)) {
    for (std::size_t p = 0; p < pattern.panels.size(); ++p) {
      const BlockPanel& panel = pattern.panels[p];
      std::fill_n(panel_of_.begin() + panel.first, panel.width, static_cast<int>(p));
    }
  }
  /// `hint` is the last answer's place among the rows of the same column, for ascending i.
  [[nodiscard]] int of(int i, int j, int& hint) const {
    const BlockPanel& panel =
        pattern_.panels[static_cast<std::size_t>(panel_of_[static_cast<std::size_t>(j)])];
    int line = i - panel.first;
    if (line >= panel.width) {
      while (pattern_.rows[static_cast<std::size_t>(panel.rows_begin + hint)] != i) ++hint;
      line = panel.width + hint;
    }
    return static_cast<int>(panel.base) + static_cast<int>(panel.at(line)) + (j - panel.first);
  }

 private:
  const BlockPattern& pattern_;
  std::vector<int> panel_of_;
};

void targets_of(BlockPattern& pattern) {
  const Places places(pattern);
  double products = 0;  // of two blocks, in updates of one block
  for (BlockPanel& panel : pattern.panels) {
    panel.target_begin = pattern.targets.size();
    const int* rows = pattern.rows.data() + panel.rows_begin;
    for (int q = 0; q < panel.rows_count; ++q) {
      int hint = 0;
      for (int i = q; i < panel.rows_count; ++i) {
        pattern.targets.push_back(places.of(rows[i], rows[q], hint));
      }
    }
    const double w = panel.width, r = panel.rows_count;
    products += w * r * (r + 1) / 2 + r * w * (w - 1) / 2 + (w - 1) * w * (w + 1) / 6;
    pattern.flops += 91 * w + 216 * w * (r + (w - 1) / 2);  // of diagonal blocks, and of divisions
  }
  pattern.flops += 432 * products;
  for (int j = 0; j < pattern.nodes; ++j) {
    int hint = 0;
    for (int k = pattern.start[static_cast<std::size_t>(j)];
         k < pattern.start[static_cast<std::size_t>(j) + 1]; ++k) {
      pattern.in_panel.push_back(places.of(pattern.row[static_cast<std::size_t>(k)], j, hint));
    }
  }
}

}  // namespace

int BlockPattern::find(int i, int j) const {
  const auto begin = row.begin() + start[static_cast<std::size_t>(j)];
  const auto end = row.begin() + start[static_cast<std::size_t>(j) + 1];
  const auto at = std::lower_bound(begin, end, i);
  return at != end && *at == i ? static_cast<int>(at - row.begin()) : -1;
}

std::shared_ptr<const BlockPattern> analyse(int nodes,
                                            const std::vector<std::array<int, 2>>& pairs) {
  auto pattern = std::make_shared<BlockPattern>();
  pattern->nodes = nodes;
  if (nodes == 0) {
    pattern->start.assign(1, 0);
    pattern->split = std::make_shared<BlockSplit>();
    return pattern;
  }
  const Graph graph = graph_of(nodes, pairs);
  pattern->node = order_of(graph);
  pattern->place.resize(static_cast<std::size_t>(nodes));
  for (int j = 0; j < nodes; ++j) {
    pattern->place[static_cast<std::size_t>(pattern->node[static_cast<std::size_t>(j)])] = j;
  }
  matrix_pattern(graph, *pattern);
  panels_of(columns_of_factor(*pattern), *pattern);
  targets_of(*pattern);
  pattern->split = std::make_shared<BlockSplit>(split_of(*pattern));
  return pattern;
}

}  // namespace skewback
