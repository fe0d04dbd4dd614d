#pragma once
// Private to cli/: what `skewback move` shares with its questions.

#include "cli/commands.hpp"
#include "deliver/files.hpp"
#include "works/motion_scene.hpp"

namespace skewback::cli {

struct MoveAsk {
  const Assembly& assembly;
  const std::vector<std::size_t>& cases;
  const MotionScene& scene;
  const MoveCommandOptions& options;
};

/// More than one of --raise, --footing and --draws, or a footing that is not there.
[[nodiscard]] std::optional<Fault> ask_fault(const Assembly& assembly,
                                             const MoveCommandOptions& options);
/// Whether one of them was given.
[[nodiscard]] bool asks(const MoveCommandOptions& options);
/// Exit code.
[[nodiscard]] int answer(const MoveAsk& ask, ProgressLine& line);

}  // namespace skewback::cli
