#pragma once
// The horizontal forces of the whole net on one sheet.

#include "deliver/drawings.hpp"

namespace skewback::deliver {

/// The force picture (form/force_picture.hpp) beside the net in plan, with the thrust on each
/// support and the closing error. The form must be there.
[[nodiscard]] Sheet force_picture_sheet(const Dossier& dossier, const SheetSize& size);

}  // namespace skewback::deliver
