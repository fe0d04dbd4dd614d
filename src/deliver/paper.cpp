#include "deliver/paper.hpp"

#include <cmath>

#include "deliver/text.hpp"

namespace skewback::deliver {

Sheet paper(const SheetSize& size, const std::string& title, const std::string& under,
            const std::string& foot) {
  Sheet sheet{size.width_mm, size.height_mm, title, {}};
  sheet.items.emplace_back(
      Words{{kPaperMargin, kPaperMargin + 4}, title, 4.2, Anchor::kStart, true, kBlack, false});
  constexpr double kSize = 2.4, kLetter = 0.6 * kSize, kRight = 18;  // kept clear
  double y = kPaperMargin + 8;
  const auto most = static_cast<std::size_t>((size.width_mm - 2 * kPaperMargin - kRight) / kLetter);
  for (const std::string& line : broken(under, most)) {
    sheet.words({kPaperMargin, y}, line, kSize);
    y += 3.2;
  }
  constexpr double kFoot = 2.1, kFootPitch = 2.8;
  const std::vector<std::string> last =
      broken(foot, static_cast<std::size_t>((size.width_mm - 2 * kPaperMargin) / (0.6 * kFoot)));
  y = size.height_mm - kPaperMargin + 3 - kFootPitch * static_cast<double>(last.size() - 1);
  for (const std::string& line : last) {
    sheet.words({kPaperMargin, y}, line, kFoot);
    y += kFootPitch;
  }
  return sheet;
}

void paper_row(Sheet& sheet, const Vec2& at, const std::vector<PaperColumn>& columns,
               const std::vector<std::string>& cells, double size_mm, bool bold) {
  for (std::size_t c = 0; c < columns.size() && c < cells.size(); ++c) {
    if (cells[c].empty()) continue;
    Words words{at + Vec2(columns[c].edge_mm, 0), cells[c], size_mm,
                columns[c].left ? Anchor::kStart : Anchor::kEnd};
    words.bold = bold;
    sheet.items.emplace_back(std::move(words));
  }
}

void paper_head(Sheet& sheet, const Vec2& at, const std::vector<PaperColumn>& columns,
                double size_mm) {
  std::vector<std::string> heads;
  double right = 0;
  for (const PaperColumn& column : columns) {
    heads.push_back(column.head);
    const double wide = 0.6 * size_mm * static_cast<double>(column.head.size());
    right = std::max(right, column.edge_mm + (column.left ? wide : 0));
  }
  paper_row(sheet, at, columns, heads, size_mm, true);
  sheet.line(at + Vec2(0, 0.5 * size_mm), at + Vec2(right, 0.5 * size_mm),
             {std::nullopt, kBlack, 0.15});
}

void tick_box(Sheet& sheet, const Vec2& low_left, double size_mm) {
  const Vec2 x(size_mm, 0), y(0, -size_mm);
  sheet.path({low_left, low_left + x, low_left + x + y, low_left + y}, true,
             {std::nullopt, kBlack, 0.2});
}

void blank(Sheet& sheet, const Vec2& at, double width_mm) {
  sheet.line(at, at + Vec2(width_mm, 0), {std::nullopt, kGrey, 0.15});
}

std::string mm_words(double metres, int decimals) {
  const std::string text = fixed(1000 * metres, decimals);
  return text.find_first_of("123456789") == std::string::npos && text.starts_with('-')
             ? text.substr(1)
             : text;
}

std::string mm_signed(double metres, int decimals) {
  const std::string text = mm_words(metres, decimals);
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return zero || text.starts_with('-') ? text : "+" + text;
}

std::string stock_words(const std::vector<double>& from_stock_m) {
  std::vector<std::string> parts;
  for (const double t : from_stock_m) {
    std::string text = fixed(1000 * t, 2);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    parts.push_back(std::move(text));
  }
  return joined(parts, " + ");
}

}  // namespace skewback::deliver
