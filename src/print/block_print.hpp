#pragma once
// Private to print/: one block laid out, from its way of printing to its checks.

#include "print/layers.hpp"
#include "print/setup.hpp"
#include "print/thrust.hpp"

namespace skewback {

/// What is done with a block before paths are drawn.
struct BlockLayout {
  PrintWay way = PrintWay::kNone;
  FieldPtr field;  // none: cannot be printed so
  int count = 0;
  int fewest = 0, most = 0;  // layers that their limits of height allow
  Vec3 along = Vec3::UnitX();
  Rigid to_table;
  double stand_rad = 0;
  double lean_rad = 0;  // of the sides against upright; of a block laid flat: not asked
  Bed low_bed, high_bed;
  std::string field_words, words;
  std::string trouble;  // why not
};

/// From one bed to the other: planes; else harmonic, where only that keeps the layers' heights.
[[nodiscard]] BlockLayout bed_to_bed(const PrintRequest& cell, const Assembly& assembly, int block,
                                     const BlockBeds& beds);
/// Lying on a mould of its intrados: the thrust of all beds runs in the layers.
[[nodiscard]] BlockLayout laid_flat(const PrintRequest& cell, const Assembly& assembly, int block,
                                    const BlockBeds& beds);

/// Layers, paths, poses, checks of a layout. Empty, or why there is no path. (carry_out.cpp)
[[nodiscard]] std::string carry_out(const Brief& brief, const Assembly& assembly,
                                    const BlockLayout& layout, BlockPrint& block);

[[nodiscard]] BlockPrint print_block(const Brief& brief, const Assembly& assembly, int block,
                                     const std::vector<CaseJointForces>& forces);

/// Bead sizes that the section of this brief leaves open.
[[nodiscard]] FillLimits fill_limits(const Brief& brief);

}  // namespace skewback
