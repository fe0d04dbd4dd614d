#pragma once
// A4 pages filled from the top down: headings, paragraphs, tables, figures. PDF by cairo, the same
// bytes every time.

#include <cairo-pdf.h>

#include <memory>
#include <string>
#include <vector>

#include "deliver/picture.hpp"
#include "deliver/sheet.hpp"

namespace skewback::deliver {

struct Column {
  std::string head;
  double share = 1;    // of the width, against the other columns
  bool right = false;  // numbers
};

struct Row {
  std::vector<std::string> cells;
  std::optional<Colour> tint;  // behind the row
};

class Pages {
 public:
  /// `pages_in_all` goes into the footer; 0 while it is not known yet.
  Pages(const std::string& title, int pages_in_all);

  void title(const std::string& text);
  void heading(const std::string& text);  // also an entry of the PDF's outline
  void subheading(const std::string& text);
  void paragraph(const std::string& text);
  void bullet(const std::string& text);
  void banner(const std::string& text, Colour colour);
  void verbatim(const std::string& text);  // lines kept, small, fixed pitch
  void table(const std::vector<Column>& columns, const std::vector<Row>& rows);
  void figure(const Sheet& sheet, const std::string& caption);  // at its own size
  void picture(const Image& image, double width_mm);
  void keep(double height_mm);  // what follows starts on a new page unless so much room is left
  void new_page();

  [[nodiscard]] double width_mm() const;
  [[nodiscard]] double room_mm() const;  // left on this page
  [[nodiscard]] int page() const { return page_; }
  [[nodiscard]] std::string finish();  // the PDF; nothing may be added after

 private:
  struct Font {
    double size = 9.5;
    bool bold = false;
    bool fixed_pitch = false;
  };
  void use(const Font& font);
  double text_width(const std::string& text);
  std::vector<std::string> wrap(const std::string& text, double width);
  void show(double x, const std::string& line);
  void lines(const std::vector<std::string>& wrapped, double x, double leading);
  void need(double height);
  void footer();
  void table_head(const std::vector<Column>& columns, const std::vector<double>& widths);
  void table_row(const std::vector<Column>& columns, const std::vector<double>& widths,
                 const Row& row);

  std::string title_, bytes_;
  int pages_in_all_ = 0, page_ = 1;
  double y_ = 0;
  std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface_;
  std::unique_ptr<cairo_t, decltype(&cairo_destroy)> cr_;
};

}  // namespace skewback::deliver
