#include "solve/block_split.hpp"

#include <algorithm>
#include <cstdint>

#include "base/parallel.hpp"

namespace skewback {

namespace {

constexpr double kWorthwhile = 2e8;  // operations of a factorisation
constexpr int kShares = 24;          // of them: no subtree has more than one
constexpr long kStrip = 6;           // columns of a panel eliminated at a time
constexpr double kWorthATask = 1e5;  // products of two blocks' columns, roughly 10 us

int parent_of(const BlockPattern& pattern, const std::vector<int>& panel_of, int p) {
  const BlockPanel& panel = pattern.panels[static_cast<std::size_t>(p)];
  if (panel.rows_count == 0) return -1;
  const int place = pattern.rows[static_cast<std::size_t>(panel.rows_begin)];
  return panel_of[static_cast<std::size_t>(place)];
}

double flops_of(const BlockPanel& panel) {
  const double w = panel.width, r = panel.rows_count;
  return 432 * (w * r * (r + 1) / 2 + r * w * w / 2 + w * w * w / 6) + 91 * w;
}

void add_pulls(const BlockPattern& pattern, const std::vector<int>& panel_of, BlockSplit& split) {
  std::vector<std::vector<BlockPull>> of(pattern.panels.size());
  std::vector<char> is_above(pattern.panels.size(), 0);
  for (const int p : split.above) is_above[static_cast<std::size_t>(p)] = 1;
  for (std::size_t p = 0; p < pattern.panels.size(); ++p) {
    const BlockPanel& panel = pattern.panels[p];
    const int* rows = pattern.rows.data() + panel.rows_begin;
    for (int q = 0; q < panel.rows_count;) {
      const auto to = static_cast<std::size_t>(panel_of[static_cast<std::size_t>(rows[q])]);
      const int first = q;
      while (q < panel.rows_count &&
             panel_of[static_cast<std::size_t>(rows[q])] == static_cast<int>(to)) {
        ++q;
      }
      if (is_above[to]) of[to].push_back({static_cast<int>(p), first, q});
    }
  }
  split.pulls_begin.assign(1, 0);
  for (const int p : split.above) {
    const auto& own = of[static_cast<std::size_t>(p)];
    split.pulls.insert(split.pulls.end(), own.begin(), own.end());
    split.pulls_begin.push_back(static_cast<int>(split.pulls.size()));
  }
}

void add_numbers(const BlockPattern& pattern, BlockSplit& split) {
  split.number.assign(pattern.rows.size(), -1);
  for (const BlockSubtree& tree : split.subtrees) {
    const BlockPanel& last = pattern.panels[static_cast<std::size_t>(tree.end - 1)];
    const auto above = pattern.rows.begin() + last.rows_begin;  // ascending
    for (int p = tree.begin; p < tree.end; ++p) {
      const BlockPanel& panel = pattern.panels[static_cast<std::size_t>(p)];
      for (int k = panel.rows_begin; k < panel.rows_begin + panel.rows_count; ++k) {
        const int place = pattern.rows[static_cast<std::size_t>(k)];
        if (place < tree.limit) continue;
        const auto at = std::lower_bound(above, above + last.rows_count, place);
        split.number[static_cast<std::size_t>(k)] = static_cast<int>(at - above);
      }
    }
  }
}

/// Lines of a panel cut into stretches of about equal length, each called with body(from, to).
template <class Body>
void share_lines(long from, long to, double cost_of_line, Body body) {
  const long count = to - from;
  if (count <= 0) return;
  const long pieces = std::clamp(static_cast<long>(double(count) * cost_of_line / kWorthATask), 1L,
                                 std::min(count, 16L));
  if (pieces == 1) return body(from, to);
  for_each_index(static_cast<std::size_t>(pieces), [&](std::size_t i) {
    const long k = static_cast<long>(i);
    body(from + count * k / pieces, from + count * (k + 1) / pieces);
  });
}

int place_of_line(const FactorView& view, const BlockPanel& panel, long line) {
  return line < panel.width ? panel.first + static_cast<int>(line)
                            : view.rows[panel.rows_begin + line - panel.width];
}

/// A panel above the subtrees: what earlier ones take off it, then its own elimination in strips.
int factorise_panel(const BlockSplit& split, const SplitKernels& k, const FactorView& view,
                    std::size_t index) {
  const BlockPanel& panel = view.panels[split.above[index]];
  const long w = panel.width, lines = w + panel.rows_count;
  const BlockPull* begin = split.pulls.data() + split.pulls_begin[index];
  const BlockPull* end = split.pulls.data() + split.pulls_begin[index + 1];
  double products = 0;
  for (const BlockPull* pull = begin; pull != end; ++pull) {
    const BlockPanel& from = view.panels[pull->panel];
    products += double(from.width) * (pull->q1 - pull->q0) * (from.rows_count - pull->q0);
  }
  share_lines(0, lines, 36 * products / double(lines), [&](long l0, long l1) {
    const int from = place_of_line(view, panel, l0);
    const int to = place_of_line(view, panel, l1 - 1) + 1;
    for (const BlockPull* pull = begin; pull != end; ++pull) {
      k.pull(view, view.panels[pull->panel], pull->q0, pull->q1, from, to);
    }
  });
  for (long s0 = 0; s0 < w; s0 += kStrip) {
    const long s1 = std::min(s0 + kStrip, w);
    if (s0 > 0) {
      share_lines(s0, lines, double(36 * s0 * (s1 - s0)),
                  [&](long l0, long l1) { k.subtract_columns(view, panel, s0, s1, l0, l1); });
    }
    const int failed = k.eliminate_columns(view, panel, s0, s1);
    if (failed >= 0) return failed;
    share_lines(s1, lines, double(36 * (s1 - s0) * (s1 - s0)),
                [&](long l0, long l1) { k.divide_columns(view, panel, s0, s1, l0, l1); });
  }
  return -1;
}

}  // namespace

BlockSplit split_of(const BlockPattern& pattern) {
  BlockSplit split;
  if (pattern.flops < kWorthwhile) return split;
  const std::size_t n = pattern.panels.size();
  std::vector<int> panel_of(static_cast<std::size_t>(pattern.nodes));
  for (std::size_t p = 0; p < n; ++p) {
    const BlockPanel& panel = pattern.panels[p];
    std::fill_n(panel_of.begin() + panel.first, panel.width, static_cast<int>(p));
  }
  std::vector<double> flops(n);
  std::vector<int> first(n), parent(n);  // first panel of the subtree; postordered
  for (std::size_t p = 0; p < n; ++p) {
    flops[p] += flops_of(pattern.panels[p]);
    if (first[p] == 0) first[p] = static_cast<int>(p) + 1;  // plus one, 0: not set
    parent[p] = parent_of(pattern, panel_of, static_cast<int>(p));
    if (parent[p] < 0) continue;
    const auto up = static_cast<std::size_t>(parent[p]);
    flops[up] += flops[p];
    first[up] = first[up] == 0 ? first[p] : std::min(first[up], first[p]);
  }
  const double most = pattern.flops / kShares;
  for (std::size_t p = 0; p < n; ++p) {
    if (flops[p] > most) {
      split.above.push_back(static_cast<int>(p));
      continue;
    }
    if (parent[p] >= 0 && flops[static_cast<std::size_t>(parent[p])] <= most) continue;
    const BlockPanel& panel = pattern.panels[p];
    split.subtrees.push_back({first[p] - 1, static_cast<int>(p) + 1, panel.first + panel.width});
  }
  add_pulls(pattern, panel_of, split);
  add_numbers(pattern, split);
  return split;
}

int factorise(const BlockSplit& split, const Kernels& kernels, const FactorView& view) {
  const SplitKernels& k = kernels.split;
  std::vector<int> failed(split.subtrees.size(), -1);
  for_each_index(split.subtrees.size(), [&](std::size_t i) {
    const BlockSubtree& tree = split.subtrees[i];
    failed[i] = k.factorise_range(view, tree.begin, tree.end, tree.limit);
  });
  for (const int place : failed) {
    if (place >= 0) return place;
  }
  for (std::size_t i = 0; i < split.above.size(); ++i) {
    const int place = factorise_panel(split, k, view, i);
    if (place >= 0) return place;
  }
  return -1;
}

void solve(const BlockSplit& split, const Kernels& kernels, const FactorView& view,
           std::vector<double>& scratch, double* const* x, int count) {
  const SplitKernels& k = kernels.split;
  const auto last = [&](std::size_t i) -> const BlockPanel& {
    return view.panels[split.subtrees[i].end - 1];
  };
  std::vector<std::size_t> begin{0};  // of what each subtree adds to the rows above
  for (std::size_t i = 0; i < split.subtrees.size(); ++i) {
    begin.push_back(begin.back() + static_cast<std::size_t>(last(i).rows_count * kBlockRows));
  }
  const auto n = static_cast<std::size_t>(count);
  // room to start at an address for the widest vectors
  scratch.assign(begin.back() * n + 8, 0.0);
  const auto off = reinterpret_cast<std::uintptr_t>(scratch.data()) / sizeof(double) % 8;
  double* first = scratch.data() + (8 - off) % 8;
  for_each_index(split.subtrees.size(), [&](std::size_t i) {
    const BlockSubtree& tree = split.subtrees[i];
    double* above[kSolvedAtOnce] = {};
    for (std::size_t r = 0; r < n; ++r) above[r] = first + r * begin.back() + begin[i];
    k.solve_down(view, tree.begin, tree.end, tree.limit, split.number.data(), x, above, count);
  });
  for (std::size_t i = 0; i < split.subtrees.size(); ++i) {
    for (std::size_t r = 0; r < n; ++r) {
      const double* from = first + r * begin.back() + begin[i];
      for (int q = 0; q < last(i).rows_count; ++q, from += kBlockRows) {
        double* to =
            x[r] + static_cast<std::ptrdiff_t>(view.rows[last(i).rows_begin + q]) * kBlockRows;
        for (int c = 0; c < kBlockRows; ++c) to[c] += from[c];
      }
    }
  }
  for (const int p : split.above) {
    k.solve_down(view, p, p + 1, 0x7fffffff, nullptr, x, nullptr, count);
  }
  for (auto p = split.above.rbegin(); p != split.above.rend(); ++p) {
    k.solve_up(view, *p, *p + 1, x, count);
  }
  for_each_index(split.subtrees.size(), [&](std::size_t i) {
    k.solve_up(view, split.subtrees[i].begin, split.subtrees[i].end, x, count);
  });
}

}  // namespace skewback
