#pragma once
// What a daybook says of the blocks of a bridge that are to be used again. Pure.

#include "daybook/life.hpp"

namespace skewback {

struct StockedBlock {
  std::string block;
  int copy = 0;                            // the good one that is furthest; 0: there is none
  Standing standing = Standing::kNotMade;  // of that copy; without one: broken, or not made
  bool checked = false;                    // since it last travelled or was taken down
  int broken = 0;                          // copies
  int held_back = 0;  // blocks that cannot be placed before it, as the bridge was planned
  double mass_kg = 0;
  Vec3 centre = Vec3::Zero();  // of gravity, in place, axes of that bridge
};

struct Stock {
  std::string bridge;
  std::vector<StockedBlock> blocks;                          // in the order of placing
  [[nodiscard]] std::vector<std::string> missing() const;    // without a good copy
  [[nodiscard]] std::vector<std::string> unchecked() const;  // good, but to be looked at
  [[nodiscard]] std::vector<std::string> in_place() const;   // not taken down yet
};

/// Which are missing and what waits for them, which are to be looked at, which are not down yet;
/// empty: nothing is to be said.
[[nodiscard]] std::string in_words(const Stock& stock);

[[nodiscard]] Stock stock_of(const DayPlan& plan, const std::vector<BlockEvent>& events);

}  // namespace skewback
