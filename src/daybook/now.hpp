#pragma once
// What can be placed now, and what is holding the work up. Pure.

#include "daybook/life.hpp"

namespace skewback {

struct Waiting {
  std::string block;
  Standing standing = Standing::kNotMade;  // of its copy that can be here first
  int copy = 1;
  double ready_s = 0;    // from now until it could be here, if it is made next: likely times
  int held_back = 0;     // blocks that cannot be placed before it, whatever else is here
  int held_on_site = 0;  // of those, how many lie on site already
};

/// In place by what is written, although what must be there before it is not.
struct PlacedOver {
  std::string block;
  std::vector<std::string> missing;  // of its needs, in the order of placing
};

/// On site, but under what is in place and cannot be got in.
struct UnderPlaced {
  std::string name;                // of the copy
  std::vector<std::string> first;  // what comes off before it, in that order
};

/// Not in its place, though the centring is struck.
struct LackingBlock {
  std::string block;
  Standing standing = Standing::kNotMade;  // of its copy that can be here first
};

struct NowReport {
  int placed = 0, on_site = 0, broken = 0, blocks = 0;  // blocks; broken: without a good copy
  std::optional<std::string> next;                      // in order; none: all are placed
  bool struck = false, walkway_laid = false;  // as it is: not put back, not taken up since
  std::vector<std::string> can_be_placed;  // copies on site; all they need, directly or not, placed
  std::vector<std::string> for_centring;   // the same, but the centring is struck
  std::vector<std::string> not_yet;        // on site, but something they need is missing
  std::vector<PlacedOver> placed_over;     // in the order of placing
  std::vector<UnderPlaced> under_placed;   // in none of the lists above
  std::vector<LackingBlock> struck_without;  // in the order of placing; empty: not struck, or whole
  std::vector<std::string> works_before;     // footings, centring: not recorded, and before placing
  std::optional<Waiting> missing;            // first in order that is not on site; none: all are
};

[[nodiscard]] NowReport what_now(const DayPlan& plan, const std::vector<BlockEvent>& events,
                                 const Moment& now);
/// That the struck arch lacks blocks, as a warning; empty: it does not, or is not struck.
[[nodiscard]] std::string alarm_words(const NowReport& report);
/// "a1/2 is on site but does not go in under what is in place: take down first a2, then ..."
[[nodiscard]] std::string under_words(const UnderPlaced& under);
/// What has to come first of all where the centring is struck or the walkway laid; empty: nothing.
[[nodiscard]] std::string centring_words(const NowReport& report);
/// Of its copies the one that is placed, or else that can be here first; copy 1 where none is made.
[[nodiscard]] CopyLife foremost(const std::vector<CopyLife>& lives, const std::string& block);

}  // namespace skewback
