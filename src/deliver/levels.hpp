#pragma once
// Lines of equal phi over the plan of the form.

#include <utility>
#include <vector>

#include "form/form.hpp"

namespace skewback::deliver {

struct LevelLine {
  double level_m = 0;
  int arm = 0;
  std::vector<std::pair<Vec2, Vec2>> pieces;  // one for each triangle that is crossed
};

/// At every whole multiple of `step_m` above 0, arm by arm.
[[nodiscard]] std::vector<LevelLine> level_lines(const Form& form, double step_m);

}  // namespace skewback::deliver
