#pragma once
// Private to print/: what a block laid out is held to, apart from the tool.

#include "print/block_print.hpp"

namespace skewback {

inline constexpr double kBareMost = 0.04,
                        kTwiceMost = 0.05;  // of a layer's section; ours, no source

/// What the paths of all layers of a block have in common.
struct PathNotes {
  double share_min_m = 1e9, share_max_m = 0;
  double tightest_m = 1e9, tightest_needs_m = 1;  // see Fill
  std::optional<Vec2> tightest_at;                // none: no turn falls short of what it needs
  std::vector<std::string> troubles;              // each once
  int crossings = 0;                              // layers whose path crosses itself
  std::string crossing;                           // the first of them
  double outside_m = 0;            // greatest by which a bead, its round included, stands out
  std::optional<Vec2> outside_at;  // none: the round alone
  std::size_t outside_layer = 0;
  void take(const Fill& fill, std::size_t layer, double height_m);
};

/// How far beads may stand out of the block's outline: half a pad, or without pads the round of the
/// thickest layer and tolerances.block_length.
[[nodiscard]] double outside_most_m(const Brief& brief);

void add_checks(const Brief& brief, const BlockLayout& layout,
                const std::vector<LayerSection>& sections, const PathNotes& notes,
                BlockPrint& block);

}  // namespace skewback
