#pragma once
// `skewback depths`. In a header of its own: commands.hpp is read by every command.

#include "cli/commands.hpp"

namespace skewback::cli {

struct DepthsCommandOptions {
  std::filesystem::path brief;
  std::string least, greatest;  // with units; empty: as DepthWish says
  double reserve = 1.15;
  std::filesystem::path save;  // a new brief with the depths found; empty: none
  int jobs = 0;
  bool json = false;
};
[[nodiscard]] int depths_command(const DepthsCommandOptions& options, ProgressLine& line);

}  // namespace skewback::cli
