#pragma once
// What happens in a motion, read from a file (format: docs/motion.md).

#include <filesystem>
#include <string>
#include <vector>

#include "motion/collapse.hpp"
#include "motion/ensemble.hpp"
#include "motion/reach.hpp"

namespace skewback {

struct MotionScene {
  Scene scene;
  MotionOptions options;
  MotionReachOptions footings;  // how the questions are asked
  EnsembleOptions draws;
  CollapseOptions raise;
  bool damping_given = false;      // else rocking where something happens at once, settling if not
  std::vector<std::string> words;  // what happens, one thing each, in the order of the file
};

/// Faults: all at once, each with line and key: unknown keys, quantities without their unit or out
/// of range, blocks and supports that `assembly` does not have, times before zero, points off the
/// block. A file of shaking is looked for beside `file`. The support "west" is the fixed block
/// "ground-west".
[[nodiscard]] Result<MotionScene> read_motion_scene(const std::filesystem::path& file,
                                                    const Assembly& assembly);
[[nodiscard]] Result<MotionScene> read_motion_scene_text(const std::string& text,
                                                         const std::filesystem::path& file,
                                                         const Assembly& assembly);

/// As `word` has it.
[[nodiscard]] std::optional<Damping> damping_called(const std::string& name);

/// Where a load falls on a block: the highest point of its surface over its centre of gravity, and
/// the outward normal there. None where no face looks up there.
struct TopPoint {
  Vec3 point = Vec3::Zero(), up = Vec3::UnitZ();
};
[[nodiscard]] std::optional<TopPoint> top_middle(const Block& block);

}  // namespace skewback
