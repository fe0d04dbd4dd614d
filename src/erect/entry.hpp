#pragma once
// Can every block be moved into its place past the blocks that are there already?

#include <string>
#include <vector>

#include "assembly/assembly.hpp"

namespace skewback {

struct Entry {
  int block = -1;
  Vec3 direction = Vec3::UnitZ();  // unit; the way out of its place: it comes in the opposite way
  double margin = 1;               // sine of the least angle between that way and a joint's plane
  std::vector<int> stuck_by;       // joints that leave no way, where the margin is below zero
};

constexpr double kSlides = 1e-6;  // margins this small count as along the joint

/// Per block of `order`, with fixed blocks and those before it in place: the straight way out with
/// the greatest margin against the joints it then has. margin > 0: clear of every joint at once;
/// 0: slides along one, or between two; < -kSlides: no way. A block with no joint goes up. Exact
/// for blocks that lie behind the planes of their joints (no hooks); the first move only,
/// otherwise.
[[nodiscard]] std::vector<Entry> entry_directions(const Assembly& assembly,
                                                  const std::vector<int>& order);

/// "key is held by v3 | key and key | v4"; empty if it has a way.
[[nodiscard]] std::string stuck_words(const Assembly& assembly, const Entry& entry);

}  // namespace skewback
