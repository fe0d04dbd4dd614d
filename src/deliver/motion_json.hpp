#pragma once
// A motion as a file (format: docs/motion.md) and as a drawing.

#include <string>
#include <vector>

#include "deliver/drawings.hpp"
#include "motion/motion.hpp"

namespace skewback::deliver {

/// What was asked and what came of it.
struct RecordedMotion {
  const Assembly* assembly = nullptr;
  const LoadCase* load = nullptr;
  Scene scene;
  MotionOptions options;
  std::vector<std::string> words;  // what happens, in words
  Motion motion;
  bool own_carried = false;  // what blocks carry is written: it differs from the assembly's file
};

/// "recorded motion": JSON, SI, one frame a line, numbers that read back bit for bit; the same
/// bytes whatever `options.threads` is.
[[nodiscard]] std::string motion_json(const RecordedMotion& record);

/// The figures of a case without its frames, for tables of cases and for --json.
[[nodiscard]] std::string motion_figures_json(const std::vector<RecordedMotion>& records);

/// Seen from the side at six times. Movements too small to see are drawn larger, and it says so.
[[nodiscard]] Sheet motion_sheet(const RecordedMotion& record, const SheetSize& size);

/// "comes to rest after 0.29 s; key goes 0.49 mm": how it ended, how far, how fast, which block.
[[nodiscard]] std::string motion_words(const RecordedMotion& record);

}  // namespace skewback::deliver
