#pragma once
// What a printing cell reads: one table of poses a block, as CSV and as JSON. docs/print-files.md.

#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "print/print.hpp"

namespace skewback::deliver {

struct PoseFiles {
  std::string csv;   // RFC 4180, one header row, a row a pose
  std::string json;  // the same rows with frame, units and layers; docs/schemas/
};

/// Rows in the order of time. Flow is the section of the bead times the speed; accelerator, a
/// column only where the brief doses some, its share of that flow. Layers count from 1.
[[nodiscard]] PoseFiles pose_files(const BlockPrint& block, const PrintRequest& cell);

/// The names of the columns, units at their end.
[[nodiscard]] std::vector<std::string> pose_columns(const PrintRequest& cell);

/// Name of the files of each block, without folder and ending; never two alike. As set.blocks.
[[nodiscard]] std::vector<std::string> print_stems(const PrintSet& set);

/// "bed to bed", "flat", "cast", "none".
[[nodiscard]] const char* word(PrintWay way);

}  // namespace skewback::deliver
