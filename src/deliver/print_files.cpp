#include "deliver/print_files.hpp"

#include <algorithm>

#include "deliver/print_poses.hpp"
#include "deliver/print_sheets.hpp"

namespace skewback::deliver {

bool has_poses(const PrintSet& set) {
  return std::ranges::any_of(set.blocks, [](const BlockPrint& b) { return !b.poses.empty(); });
}

std::vector<OutputFile> print_files(const Brief& brief, const Assembly& assembly,
                                    const PrintSet& set, const std::vector<Regions>& plan) {
  constexpr double kA4 = 297;
  std::vector<OutputFile> files;
  if (!has_poses(set)) return files;
  const std::vector<std::string> stems = print_stems(set);
  for (std::size_t i = 0; i < set.blocks.size(); ++i) {
    const BlockPrint& block = set.blocks[i];
    if (block.poses.empty()) continue;
    const std::string path = "print/" + stems[i];
    if (block.printable) {  // poses of any other would be run
      PoseFiles tables = pose_files(block, brief.print);
      files.push_back({path + ".csv", std::move(tables.csv)});
      files.push_back({path + ".json", std::move(tables.json)});
    }
    files.push_back({path + ".svg", svg(block_print_sheet(brief, block))});
  }
  files.push_back({"print/overview.svg", svg(print_overview_sheet(brief, assembly, set, kA4))});
  files.push_back(
      {"print/layers-and-thrust.svg", svg(layers_thrust_sheet(brief, assembly, set, plan, kA4))});
  return files;
}

}  // namespace skewback::deliver
