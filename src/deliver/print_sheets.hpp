#pragma once
// Drawings of the printing. A4 lying where no width is given.

#include "assembly/assembly.hpp"
#include "deliver/sheet.hpp"
#include "print/print.hpp"

namespace skewback::deliver {

/// Values in steps of colour; those outside have colours of their own.
struct Ramp {
  double low = 0, high = 1;
  std::vector<Colour> stops;  // from low to high, two or more
  int steps = 12;
  /// -1 below, `steps` above, else the step.
  [[nodiscard]] int step_of(double value) const;
  [[nodiscard]] Colour colour(int step) const;
};
/// Of the height of layers, m: light to dark.
[[nodiscard]] Ramp height_ramp(const PrintRequest& cell);
/// Of the overhang, rad: inward blue, outward red.
[[nodiscard]] Ramp overhang_ramp(const PrintRequest& cell);

/// A bar of the ramp's colours with its ends; values are multiplied by `factor` for the words.
void add_ramp_key(Sheet& sheet, const Vec2& at, double width_mm, const Ramp& ramp, double factor,
                  int decimals, const std::string& unit);

/// The block's path aslant, once by height and once by overhang, and unrolled below. Thinned so
/// that the file stays under 400 kB.
[[nodiscard]] Sheet block_print_sheet(const Brief& brief, const BlockPrint& block);

/// Height of the bead along the path of each layer, in the box. Part of the sheet above.
void add_unrolled(Sheet& sheet, const Vec2& at, const Vec2& size, const BlockPrint& block,
                  const Ramp& ramp);

/// All blocks in rows by arm, coloured by how they are made.
[[nodiscard]] Sheet print_overview_sheet(const Brief& brief, const Assembly& assembly,
                                         const PrintSet& set, double width_mm);

/// Angle between the layers' normal and the thrust: a bar a block, and in plan where `plan` (one
/// outline a block of the assembly) is given.
[[nodiscard]] Sheet layers_thrust_sheet(const Brief& brief, const Assembly& assembly,
                                        const PrintSet& set, const std::vector<Regions>& plan,
                                        double width_mm);

/// How a block is made, for colours and counts.
enum class Made { kBedToBed, kFlat, kCast, kNot };
[[nodiscard]] Made made(const BlockPrint& block);
[[nodiscard]] Colour colour(Made made);
[[nodiscard]] const char* word(Made made);  // "printed from bed to bed", ...

/// Places in set.blocks by arm, keys last, in the order of the assembly.
struct ArmRow {
  std::string name;
  std::vector<std::size_t> blocks;
};
[[nodiscard]] std::vector<ArmRow> rows_by_arm(const Brief& brief, const Assembly& assembly,
                                              const PrintSet& set);

}  // namespace skewback::deliver
