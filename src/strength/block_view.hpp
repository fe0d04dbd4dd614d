#pragma once
// Private to strength/: a block seen from its beds: middle section, tubes, planes across.

#include "strength/forces_on.hpp"
#include "strength/skin.hpp"

namespace skewback {

struct Cell {  // a tube at the middle section; x runs to the left looking up the flow
  double x0 = 0, x1 = 0;
  double leaf_m = 0;  // least, over it
  double height_m = 0;
  double web_low_m = 0, web_high_m = 0;        // wall at x0, at x1
  bool outer_low = false, outer_high = false;  // that wall is the block's side
  double length_m = 0;                         // bed to bed over it
};

struct BlockView {
  int block = -1;
  std::vector<int> joints;
  bool key = false;               // beds on three sides or more, or two that do not face each other
  std::vector<BlockCut> middles;  // one; of a key, one for each bed, through its centroid
  std::vector<BlockCut> across;   // planes along the flow; of a key, square to each bed
  std::vector<Cell> cells;        // by x
  double length_m = 0, width_m = 0, depth_m = 0;
  bool left_edge = false, right_edge = false;  // of its course: free sides
};

[[nodiscard]] std::vector<BlockView> view_blocks(const Assembly& assembly);

/// The skin over a cell, built into its webs and the next cells.
[[nodiscard]] SkinShape skin_of(const BlockView& view, std::size_t cell);

}  // namespace skewback
