#pragma once
// Private to solve/: the symbolic side of the block Cholesky factorisation.

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace skewback {

/// Six rows of a vector are padded to 8. A block is stored column by column: alone, or for Gauss
/// elimination, each column padded likewise; in a matrix and its Cholesky factor, of which memory
/// is made up, column after column without padding, with room for one whole vector at the end.
inline constexpr int kBlockRows = 8;
inline constexpr int kBlockSize = 6 * kBlockRows;
inline constexpr int kTightRows = 6;
inline constexpr int kTightSize = 5 * kTightRows + kBlockRows;

/// Columns with the same rows below them are eliminated together as a "panel": `width` columns from
/// `first` on, over the rows `first .. first + width - 1` and then `rows`, stored row by row; the
/// former, which are a lower triangle, only up to the diagonal.
struct BlockPanel {
  int first = 0, width = 0;
  int rows_begin = 0, rows_count = 0;  // in BlockPattern::rows
  std::size_t base = 0;                // block (row 0, column 0)
  std::size_t target_begin = 0;        // in BlockPattern::targets

  /// Block (row `line`, column 0), from `base` on.
  [[nodiscard]] long at(long line) const {
    const long w = width;
    return line < w ? line * (line + 1) / 2 : w * (w + 1) / 2 + (line - w) * w;
  }
};

struct BlockSplit;  // block_split.hpp

class BlockPattern {
 public:
  int nodes = 0;
  std::vector<int> place, node;  // node -> place in the order of elimination, and back

  std::vector<BlockPanel> panels;
  std::vector<int> rows;  // places
  /// For each panel, each q-th of its rows and each i-th from q on: the block of the factor at
  /// (rows[i], rows[q]).
  std::vector<int> targets;
  std::size_t blocks = 0;  // of the factor

  /// The matrix: lower triangle by columns, the diagonal first, in places.
  std::vector<int> start, row;
  std::vector<int> in_panel;  // of every block of the matrix, its block in the factor
  double flops = 0;
  std::shared_ptr<const BlockSplit> split;

  /// Block of the matrix at places (row i, column j), i >= j; -1: not in the pattern.
  [[nodiscard]] int find(int i, int j) const;
};

}  // namespace skewback
