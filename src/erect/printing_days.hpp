#pragma once
// Days of the order of printing on the calendar of the works.

#include <vector>

#include "erect/calendar.hpp"
#include "print/print.hpp"

namespace skewback {

struct PrintingDays {
  long printed = 0;  // day of the calendar on which it is begun; 0: the first of the works
  long lifted = 0;   // first on which it may be lifted, if printing takes the time planned
};
/// One a slot. Printing stops on days that are not worked, curing does not.
[[nodiscard]] std::vector<PrintingDays> printing_days(const PrintRequest& request,
                                                      const PrintSet& set, const PrintPlan& plan,
                                                      const Calendar& calendar);

/// The most blocks that stand at once printed and not yet to be lifted, on the first day on which
/// they do. Floor: of each the rectangle along the table round its beads, no room between them.
struct OnBoards {
  int blocks = 0;
  double floor_m2 = 0;
  long day = 0;  // as PrintingDays
};
[[nodiscard]] OnBoards most_on_boards(const PrintSet& set, const PrintPlan& plan,
                                      const std::vector<PrintingDays>& days);

}  // namespace skewback
