#pragma once
// How far each footing may go before blocks move off (view 3), as a rose for each footing, and as
// a table.

#include <nlohmann/json.hpp>

#include "deliver/drawings.hpp"
#include "motion/reach.hpp"

namespace skewback::deliver {

/// East right, north up. A rose for each footing, all to one scale: its edge is the furthest at
/// which all came to rest, by bearing; where the most tried held, the ray is open. Without
/// bearings, through outward, left, inward and right. The other ways in words below. Empty where
/// no footing has four rays.
[[nodiscard]] Sheet motion_rose_sheet(const Assembly& assembly, const MotionReaches& reaches,
                                      const SheetSize& size);

/// By footing and way: held, moved_off, not_settled (m or rad; null: none), beyond, the block that
/// had gone furthest, and the path [{gone, thrust_n}].
[[nodiscard]] nlohmann::ordered_json motion_reach_json(const Assembly& assembly,
                                                       const MotionReaches& reaches);

}  // namespace skewback::deliver
