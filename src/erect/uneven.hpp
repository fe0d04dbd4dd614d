#pragma once
// What striking that goes unevenly puts on the centring.

#include <string>
#include <vector>

#include "erect/erect.hpp"

namespace skewback {

/// Of each foot the uneven state that loads it most: for judge_centring, "lower R3-2 after the rest
/// of its row (step 52)". As if ribs, posts and ground did not give: true forces are less.
[[nodiscard]] std::vector<SeatLoads> uneven_seat_loads(const Programme& programme);

/// What of the centring that is too much for, worst of all; `judged` under uneven_seat_loads.
/// Empty: nothing.
[[nodiscard]] std::string over_in_words(const Centring& judged);

}  // namespace skewback
