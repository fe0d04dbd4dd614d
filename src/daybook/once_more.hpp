#pragma once
// What a bridge that was struck takes before more blocks are placed. Private to daybook/.

#include <optional>
#include <string>
#include <vector>

#include "daybook/plan.hpp"

namespace skewback {

struct OnceMore {
  std::vector<std::string> works;          // of the activities, not done any more
  std::vector<std::string> without_times;  // needed as well, but no activity of the plan
};
/// Placing after striking waits for the centring; then it is struck again. `put_back_s`: when the
/// centring was put back, if it was; `placed_again`: a block that was in its place is not any more.
[[nodiscard]] OnceMore stand_again(const DayPlan& plan, std::vector<Activity>& activities,
                                   std::optional<double> put_back_s, bool placed_again);

}  // namespace skewback
