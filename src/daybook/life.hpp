#pragma once
// The life of a block, from its events: pure functions, no file. Several copies of one block may
// be made ("o4", "o4/2"); one of them is placed.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "daybook/clock.hpp"
#include "daybook/plan.hpp"
#include "erect/spares.hpp"

namespace skewback {

enum class Happened {
  kPrinted,  // made, cast ones too
  kCured,
  kChecked,  // does not move it on
  kPacked,
  kShipped,
  kReceived,
  kBroken,
  kReprinted,  // a further copy, because one broke
  kPlaced,
  kTakenDown,
  kNote,
  kDone,    // of work that is of no block
  kCancel,  // takes back another event
};
[[nodiscard]] std::string word(Happened what);  // "taken-down"
[[nodiscard]] std::optional<Happened> happened(const std::string& word);
[[nodiscard]] std::vector<std::string> words_to_record();  // all but "cancel"

struct BlockEvent {
  std::int64_t number = 0;
  std::string block;  // without the copy
  int copy = 1;
  Happened what = Happened::kNote;
  Moment at, written;
  std::string who, photo, note;  // photo: relative to the daybook's folder
  std::optional<std::int64_t> cancels;
};
[[nodiscard]] std::string copy_name(const std::string& block, int copy);  // "o4", "o4/2"

enum class Standing {
  kNotMade,
  kPrinted,
  kCured,
  kPacked,
  kOnTheRoad,
  kOnSite,
  kPlaced,
  kTakenDown,  // lies on site again
  kBroken
};
[[nodiscard]] std::string word(Standing standing);  // "on site"

struct CopyLife {
  std::string block;
  int copy = 1;
  Standing standing = Standing::kNotMade;
  bool checked = false;  // since it last travelled or was taken down; never of a broken one
  Moment since;          // of the last event that moved it on
  std::optional<Moment> printed, cured, shipped, received, placed;  // last of each
};
/// Of all copies that were written of, by block in the order of placing, then copy.
[[nodiscard]] std::vector<CopyLife> lives(const DayPlan& plan,
                                          const std::vector<BlockEvent>& events);
/// Events that are neither taken back nor take back.
[[nodiscard]] std::vector<BlockEvent> in_force(const std::vector<BlockEvent>& events);

/// Why `next` may not follow `events`; none: it may. `even_so`: see Daybook::record.
[[nodiscard]] std::optional<Fault> objection(const DayPlan& plan,
                                             const std::vector<BlockEvent>& events,
                                             const BlockEvent& next, bool even_so);

/// Copies that were lifted off their table or further, and those of them that broke.
[[nodiscard]] BreakCount count_broken(const std::vector<BlockEvent>& events);

}  // namespace skewback
