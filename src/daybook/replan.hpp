#pragma once
// The rest of the programme, with what has happened fixed at its dates. Pure; drawn by
// erect/schedule.hpp.

#include "daybook/life.hpp"

namespace skewback {

struct Replan {
  // the plan's, with "today" first, before which nothing that is left starts; at the same places
  // whatever happened, so that the same numbers are drawn: what is not needed has no name
  Network network;
  std::vector<Breakage> breakages;  // of blocks that are still to be placed
  double now_s = 0;                 // from the start of the programme, on the clock of the place
  int done = 0;                     // of the plan's activities
  std::vector<std::string> again;   // every copy broke, planned spares too: made once more
  std::vector<std::string> spares_left_out;  // of these blocks: not made yet, no lorry takes it,
                                             // and nothing waits for it
  std::vector<std::string> once_more;        // works on site done before: blocks are to be placed
                                             // after striking
  std::vector<std::string> without_times;    // and what that takes that no plan has times for
  struct End {
    std::string id;
    double finish_s = 0;
  };
  std::optional<End> ended;                // all is done: the last of it
  std::vector<std::string> taken_as_done;  // works nobody recorded, but what follows them is done
};

/// None: the plan has no network. Copy 1 is "print o4", copy 2 a planned spare, "print o4 again".
/// Broken blocks are made again from now on, in their first copy's turn on the table; a spare in
/// whose turn nothing asks for it is left out, and counts as none. What has started runs from when
/// it started. What is left of the table's work keeps its order, so does what is left to be placed,
/// whatever was done before its turn. That a copy broke never brings the mean finish nearer.
/// Nothing that is left starts before now, nor, while nothing has started, before the programme.
[[nodiscard]] std::optional<Replan> replanned(const DayPlan& plan,
                                              const std::vector<BlockEvent>& events,
                                              const Moment& now);

}  // namespace skewback
