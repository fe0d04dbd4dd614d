#pragma once
// Blocks that were measured in place, by the marks on their backs, against where they are to lie.

#include <string>
#include <vector>

#include "survey/points.hpp"

namespace skewback {

struct BlockInPlace {
  std::string block;
  int marks = 0;              // measured
  Vec3 off_m = Vec3::Zero();  // mean of them, measured from where they are to be, bridge axes
  double worst_m = 0;         // of one mark
  std::string worst;          // which
  double off_drawn_m = 0;     // mean of them from where they are drawn
  bool beyond = false;        // what the accuracy of its marks allows
  bool far = false;           // mean or worst over 10 mm (ours): nothing proved is of this block
  std::string lies_at;        // another block whose place the marks fit far better; empty: none
  std::string finding;        // in words
};

/// Those with marks among `measured` (bridge axes), in the order of `drawn`. `wanted`: the same
/// marks as `drawn` where they are to lie; others than those of blocks are passed over. Beyond: the
/// mean, or one mark, is off by more than `gate` standard deviations (chi-square of three), the
/// place where it is to lie taken as known. A mark's back is taken as made: as drawn.
[[nodiscard]] std::vector<BlockInPlace> blocks_in_place(const std::vector<Mark>& drawn,
                                                        const std::vector<Mark>& wanted,
                                                        const std::vector<MeasuredPoint>& measured,
                                                        double gate);

/// How many were measured and how they lie; empty where none was. `to_lie`: "as packed".
[[nodiscard]] std::string in_place_in_words(const std::vector<BlockInPlace>& blocks,
                                            const std::string& to_lie);

}  // namespace skewback
