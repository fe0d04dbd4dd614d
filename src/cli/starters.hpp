#pragma once

#include <string>
#include <vector>

namespace skewback::cli {

struct Starter {
  std::string name, brief;
};

/// The briefs that `skewback new` can start from, by name. (generated from examples/)
[[nodiscard]] const std::vector<Starter>& starters();

}  // namespace skewback::cli
