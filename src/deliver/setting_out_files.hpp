#pragma once
// Everything under setting-out/ of the output folder: marks for the instrument and on paper.

#include "brief/brief.hpp"
#include "deliver/files.hpp"
#include "deliver/paper.hpp"
#include "survey/marks.hpp"

namespace skewback::deliver {

/// setting-out/marks.csv, plan.svg (on the ground), blocks.svg, marks.pdf (these, then the
/// coordinates); none without marks.
/// `plan`: outlines of all blocks of the assembly from above, or none. `supports`: which is which,
/// in words, where marks are not called by the brief's own names.
[[nodiscard]] std::vector<OutputFile> setting_out_files(const Brief& brief,
                                                        const Assembly& assembly,
                                                        const std::vector<Mark>& marks,
                                                        const std::vector<Regions>& plan,
                                                        const std::string& supports = {});

/// From above in the bridge's axes, lines of the site's grid aslant, every mark with its name
/// (those of a block: its name once, then their numbers).
[[nodiscard]] Sheet marks_plan(const Brief& brief, const Assembly& assembly,
                               const std::vector<Mark>& marks, const std::vector<Regions>& plan,
                               const SheetSize& size);
/// A4: mark, east, north, level, x, y, z, a box to tick when set out and one when checked.
[[nodiscard]] std::vector<Sheet> marks_tables(const Brief& brief, const std::vector<Mark>& marks,
                                              const std::string& supports = {});

/// What is to be said beside every list of marks.
[[nodiscard]] std::string second_set_up_words();

}  // namespace skewback::deliver
