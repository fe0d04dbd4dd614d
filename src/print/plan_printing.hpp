#pragma once
// Private to print/: the printing of all blocks as a programme of days and batches. Theory:
// docs/theory/print.md.

#include "print/print.hpp"

namespace skewback {

/// A test piece: a straight wall of one bead, 160 x 40 x 160 mm, from which prisms of
/// 40 x 40 x 160 mm can be sawn along and across the layers. Common practice, no source.
inline constexpr double kCouponVolume_m3 = 0.160 * 0.040 * 0.160;

/// Fills order, batches, print_s, days, and adds remarks, from the blocks of `set` that are
/// printable and have a time. Order: a course of every arm after the other, keys last.
/// A block is begun only if it ends within the shift; one longer than a shift has a day of its own.
/// Batches are as mixed (without accelerator), begun afresh each day, and end between blocks; their
/// coupons come out of them and are laid while setting up.
void plan_printing(const Brief& brief, const Assembly& assembly, PrintSet& set);

}  // namespace skewback
