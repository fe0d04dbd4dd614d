#pragma once
// What the bridge looks like step by step, from above.

#include "brief/brief.hpp"
#include "deliver/sheet.hpp"
#include "erect/erect.hpp"

namespace skewback::deliver {

/// Stages worth a picture, in order: spread over the placing, the keys, the first and last of each
/// round of lowering, clearing, each fourth laying, raising, and some of the taking down.
[[nodiscard]] std::vector<std::size_t> stages_to_show(const Programme& programme,
                                                      std::size_t most = 12);

/// One small plan for each: done grey, this step in colour, seats that bear as dots. `plan`:
/// outlines as the assembly's blocks.
[[nodiscard]] Sheet stages_sheet(const Assembly& assembly, const Programme& programme,
                                 const std::vector<Regions>& plan,
                                 const std::vector<std::size_t>& shown, double width_mm);

}  // namespace skewback::deliver
