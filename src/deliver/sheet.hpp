#pragma once
// A drawing as a value: shapes and words in millimetres on the sheet, x right, y down. The same
// sheet becomes an SVG file and a figure of the report.

#include <string>
#include <variant>
#include <vector>

#include "deliver/facts.hpp"

namespace skewback::deliver {

struct Pen {
  std::optional<Colour> fill, line;
  double width_mm = 0.2;
  double dash_mm = 0;  // 0: drawn through
  double opacity = 1;  // of the fill
};

struct Shape {
  std::vector<std::vector<Vec2>> rings;  // even-odd where filled
  bool is_closed = true;
  Pen pen;
};

enum class Anchor { kStart, kMiddle, kEnd };
struct Words {
  Vec2 at = Vec2::Zero();  // on the base line
  std::string text;
  double size_mm = 2.5;  // of an em
  Anchor anchor = Anchor::kStart;
  bool bold = false;
  Colour colour = kBlack;
  bool halo = false;    // white round the letters, to be read over lines
  double turn_deg = 0;  // about `at`, clockwise on the sheet
};

struct Sheet {
  double width_mm = 0, height_mm = 0;
  std::string title;
  std::vector<std::variant<Shape, Words>> items;

  void line(const Vec2& a, const Vec2& b, const Pen& pen);
  void path(const std::vector<Vec2>& points, bool is_closed, const Pen& pen);
  void regions(const Regions& regions, const Pen& pen);  // already in sheet millimetres
  void dot(const Vec2& centre, double radius_mm, const Pen& pen);
  void arrow(const Vec2& from, const Vec2& to, const Pen& pen, double head_mm = 1.6);
  void words(const Vec2& at, const std::string& text, double size_mm = 2.5,
             Anchor anchor = Anchor::kStart);
};

/// `part` laid on `page`, its upper left corner there.
void paste(Sheet& page, const Sheet& part, const Vec2& corner);

/// Metres (y up) to sheet millimetres (y down) at a scale from a builder's rule.
struct SheetMap {
  double mm_per_m = 10;
  Vec2 corner = Vec2::Zero();  // sheet position of the origin
  [[nodiscard]] Vec2 operator()(const Vec2& p) const {
    return {corner.x() + mm_per_m * p.x(), corner.y() - mm_per_m * p.y()};
  }
  [[nodiscard]] std::vector<Vec2> operator()(const std::vector<Vec2>& line) const;
  [[nodiscard]] Regions operator()(const Regions& regions) const;
  [[nodiscard]] std::string scale() const;  // "1:50"
};

struct Extent {
  Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
  void add(const Vec2& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  [[nodiscard]] bool empty() const { return low.x() > high.x(); }
  [[nodiscard]] Vec2 size() const { return high - low; }
};

/// The largest usual scale at which `extent` goes into the box; centred in it.
[[nodiscard]] SheetMap fit(const Extent& extent, const Vec2& box_at, const Vec2& box_size);

/// Bar of a round number of metres, alternately black and white, with its numbers and the scale.
void add_scale_bar(Sheet& sheet, const SheetMap& map, const Vec2& at);

/// SVG 1.1 text; words stay words.
[[nodiscard]] std::string svg(const Sheet& sheet);

}  // namespace skewback::deliver
