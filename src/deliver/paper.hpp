#pragma once
// What sheets for the site have in common: title, last line, rows, boxes to fill in by hand.

#include <string>
#include <vector>

#include "deliver/drawings.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

inline constexpr SheetSize kA4{210, 297};
inline constexpr double kPaperMargin = 10, kPaperHead = 16, kPaperFoot = 8;  // mm

/// Empty but for the title, lines below it and what stands at the foot of the page, within its
/// width.
[[nodiscard]] Sheet paper(const SheetSize& size, const std::string& title, const std::string& under,
                          const std::string& foot);

struct PaperColumn {
  std::string head;
  double edge_mm = 0;  // where its words end, from the left of the row; begin: if `left`
  bool left = false;
};
void paper_row(Sheet& sheet, const Vec2& at, const std::vector<PaperColumn>& columns,
               const std::vector<std::string>& cells, double size_mm, bool bold = false);
/// Heads and a line below them.
void paper_head(Sheet& sheet, const Vec2& at, const std::vector<PaperColumn>& columns,
                double size_mm);
void tick_box(Sheet& sheet, const Vec2& low_left, double size_mm = 3);
void blank(Sheet& sheet, const Vec2& at, double width_mm);  // a line to write on

[[nodiscard]] std::string mm_words(double metres, int decimals = 1);             // "8.0", "-3.2"
[[nodiscard]] std::string mm_signed(double metres, int decimals = 1);            // "+8.0", "0.0"
[[nodiscard]] std::string stock_words(const std::vector<double>& from_stock_m);  // "5 + 3"

}  // namespace skewback::deliver
