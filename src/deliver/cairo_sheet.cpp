#include "deliver/cairo_sheet.hpp"

#include "base/constants.hpp"

namespace skewback::deliver {
namespace {

void ink(cairo_t* cr, Colour c, double opacity = 1) {
  cairo_set_source_rgba(cr, c.r / 255.0, c.g / 255.0, c.b / 255.0, opacity);
}

void draw(cairo_t* cr, const Shape& shape) {
  cairo_new_path(cr);
  for (const auto& ring : shape.rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      if (i == 0) {
        cairo_move_to(cr, ring[i].x(), ring[i].y());
      } else {
        cairo_line_to(cr, ring[i].x(), ring[i].y());
      }
    }
    if (shape.is_closed) cairo_close_path(cr);
  }
  const Pen& pen = shape.pen;
  if (pen.fill) {
    ink(cr, *pen.fill, pen.opacity);
    cairo_fill_preserve(cr);
  }
  if (pen.line) {
    ink(cr, *pen.line);
    cairo_set_line_width(cr, pen.width_mm);
    cairo_set_dash(cr, &pen.dash_mm, pen.dash_mm > 0 ? 1 : 0, 0);
    cairo_stroke_preserve(cr);
  }
  cairo_new_path(cr);
}

void draw(cairo_t* cr, const Words& words) {
  cairo_select_font_face(cr, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         words.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr, words.size_mm);
  cairo_text_extents_t extents;
  cairo_text_extents(cr, words.text.c_str(), &extents);
  double x = 0;
  if (words.anchor == Anchor::kMiddle) x = -extents.x_advance / 2;
  if (words.anchor == Anchor::kEnd) x = -extents.x_advance;
  cairo_save(cr);
  cairo_translate(cr, words.at.x(), words.at.y());
  cairo_rotate(cr, words.turn_deg * kPi / 180);
  if (words.halo) {
    cairo_move_to(cr, x, 0);
    cairo_text_path(cr, words.text.c_str());
    ink(cr, {255, 255, 255});
    cairo_set_line_width(cr, 0.25 * words.size_mm);
    cairo_set_dash(cr, nullptr, 0, 0);
    cairo_stroke(cr);
  }
  ink(cr, words.colour);
  cairo_move_to(cr, x, 0);
  cairo_show_text(cr, words.text.c_str());
  cairo_new_path(cr);
  cairo_restore(cr);
}

}  // namespace

void draw(cairo_t* cr, const Sheet& sheet, double x_pt, double y_pt) {
  cairo_save(cr);
  cairo_translate(cr, x_pt, y_pt);
  cairo_scale(cr, 72 / 25.4, 72 / 25.4);
  cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_rectangle(cr, 0, 0, sheet.width_mm, sheet.height_mm);
  cairo_clip(cr);
  for (const auto& item : sheet.items) {
    std::visit([&](const auto& it) { draw(cr, it); }, item);
  }
  cairo_restore(cr);
}

}  // namespace skewback::deliver
