#pragma once
// Everything under print/ of the output folder.

#include "deliver/files.hpp"
#include "geometry/geometry.hpp"

namespace skewback::deliver {

/// Whether any block has poses: without them there is nothing to write.
[[nodiscard]] bool has_poses(const PrintSet& set);

/// print/BLOCK.csv, .json and .svg of every block that has poses, then print/overview.svg and
/// print/layers-and-thrust.svg; none at all without poses. `plan`: outlines of all blocks of the
/// assembly from above, or none.
[[nodiscard]] std::vector<OutputFile> print_files(const Brief& brief, const Assembly& assembly,
                                                  const PrintSet& set,
                                                  const std::vector<Regions>& plan);

}  // namespace skewback::deliver
