#pragma once
// A part as it lies on its sheet.

#include "centring/centring.hpp"

namespace skewback {

/// From the part's x and y to the sheet's, m: x mirrored if flipped, turned, then moved.
[[nodiscard]] Vec2 on_sheet(const NestedPart& nested, const Vec2& p);
/// Outline and holes on the sheet, turned the right way round again where the part is flipped.
[[nodiscard]] Region on_sheet(const NestedPart& nested, const Region& outline);

}  // namespace skewback
