#pragma once

#include <cairo.h>

#include "deliver/sheet.hpp"

namespace skewback::deliver {

/// Draws the sheet with its corner at (x, y), in points, at its own size.
void draw(cairo_t* cr, const Sheet& sheet, double x_pt, double y_pt);

}  // namespace skewback::deliver
