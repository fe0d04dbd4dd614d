#include "deliver/pages.hpp"

#include <algorithm>
#include <stdexcept>

#include "deliver/cairo_sheet.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kPaperWidth = 595.276, kPaperHeight = 841.890;  // pt, A4
constexpr double kLeft = 51, kTop = 48, kBottom = 58, kWidth = kPaperWidth - 2 * kLeft;
constexpr double kPtPerMm = 72 / 25.4;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

// Within a character of UTF-8.
bool is_inside(const std::string& text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U;
}

void ink(cairo_t* cr, Colour c) { cairo_set_source_rgb(cr, c.r / 255.0, c.g / 255.0, c.b / 255.0); }

}  // namespace

Pages::Pages(const std::string& title, int pages_in_all)
    : title_(title),
      pages_in_all_(pages_in_all),
      y_(kTop),
      surface_(cairo_pdf_surface_create_for_stream(append, &bytes_, kPaperWidth, kPaperHeight),
               cairo_surface_destroy),
      cr_(cairo_create(surface_.get()), cairo_destroy) {
  // A fixed date: the report says what was computed, not when.
  for (const auto key : {CAIRO_PDF_METADATA_CREATE_DATE, CAIRO_PDF_METADATA_MOD_DATE}) {
    cairo_pdf_surface_set_metadata(surface_.get(), key, "2000-01-01T00:00:00Z");
  }
  cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_TITLE, title_.c_str());
  cairo_pdf_surface_set_metadata(surface_.get(), CAIRO_PDF_METADATA_CREATOR, "skewback");
}

void Pages::use(const Font& font) {
  cairo_select_font_face(cr_.get(), font.fixed_pitch ? "DejaVu Sans Mono" : "DejaVu Sans",
                         CAIRO_FONT_SLANT_NORMAL,
                         font.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(cr_.get(), font.size);
  ink(cr_.get(), kBlack);
}

double Pages::text_width(const std::string& text) {
  cairo_text_extents_t extents;
  cairo_text_extents(cr_.get(), text.c_str(), &extents);
  return extents.x_advance;
}

std::vector<std::string> Pages::wrap(const std::string& text, double width) {
  std::vector<std::string> out(1);
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    std::string word = text.substr(from, end - from);
    from = end + 1;
    const std::string longer = out.back().empty() ? word : out.back() + " " + word;
    if (text_width(longer) <= width) {
      out.back() = longer;
      continue;
    }
    if (!out.back().empty()) out.emplace_back();
    while (text_width(word) > width && word.size() > 1) {  // a name too long for the line
      std::size_t cut = word.size();
      while (cut > 1 && (text_width(word.substr(0, cut)) > width || is_inside(word, cut))) --cut;
      const std::size_t mark = word.find_last_of("-_./", cut - 1);
      if (mark != std::string::npos && mark > 0) cut = mark + 1;
      out.back() = word.substr(0, cut);
      word.erase(0, cut);
      out.emplace_back();
    }
    out.back() = word;
  }
  return out;
}

void Pages::show(double x, const std::string& line) {
  cairo_move_to(cr_.get(), x, y_);
  cairo_show_text(cr_.get(), line.c_str());
  cairo_new_path(cr_.get());
}

void Pages::lines(const std::vector<std::string>& wrapped, double x, double leading) {
  for (const std::string& line : wrapped) {
    need(leading);
    y_ += leading;
    show(x, line);
  }
}

void Pages::need(double height) {
  if (y_ + height <= kPaperHeight - kBottom) return;
  // the font in use must outlive the footer's
  cairo_save(cr_.get());
  new_page();
  cairo_restore(cr_.get());
}

void Pages::footer() {
  use({7.5});
  y_ = kPaperHeight - 32;
  show(kLeft, title_ + " · a design aid; the licensed engineer and the local code decide");
  std::string number = "page " + std::to_string(page_);
  if (pages_in_all_ > 0) number += " of " + std::to_string(pages_in_all_);
  show(kLeft + kWidth - text_width(number), number);
}

void Pages::new_page() {
  footer();
  cairo_show_page(cr_.get());
  ++page_;
  y_ = kTop;
}

void Pages::keep(double height_mm) { need(height_mm * kPtPerMm); }

double Pages::width_mm() const { return kWidth / kPtPerMm; }
double Pages::room_mm() const { return (kPaperHeight - kBottom - y_) / kPtPerMm; }

void Pages::title(const std::string& text) {
  use({21, true});
  y_ += 22;
  show(kLeft, text);
  y_ += 8;
}

void Pages::heading(const std::string& text) {
  need(120);
  use({14, true});
  y_ += y_ > kTop ? 28 : 14;
  show(kLeft, text);
  const std::string link =
      "page=" + std::to_string(page_) + " pos=[" + fixed(kLeft, 1) + " " + fixed(y_ - 16, 1) + "]";
  cairo_pdf_surface_add_outline(surface_.get(), CAIRO_PDF_OUTLINE_ROOT, text.c_str(), link.c_str(),
                                static_cast<cairo_pdf_outline_flags_t>(0));
  y_ += 5;
}

void Pages::subheading(const std::string& text) {
  need(44);
  use({10.5, true});
  y_ += 18;
  show(kLeft, text);
  y_ += 2;
}

void Pages::paragraph(const std::string& text) {
  use({});
  y_ += 3;
  lines(wrap(text, kWidth), kLeft, 13);
}

void Pages::bullet(const std::string& text) {
  use({});
  const auto wrapped = wrap(text, kWidth - 12);
  need(13 * static_cast<double>(std::min<std::size_t>(wrapped.size(), 2)) + 2);
  y_ += 2;
  const double before = y_;
  y_ += 13;
  show(kLeft + 2, "•");
  y_ = before;
  lines(wrapped, kLeft + 12, 13);
}

void Pages::banner(const std::string& text, Colour colour) {
  use({11, true});
  const auto wrapped = wrap(text, kWidth - 20);
  const double height = 15 * static_cast<double>(wrapped.size()) + 11;
  need(height + 8);
  y_ += 6;
  ink(cr_.get(), colour);
  cairo_rectangle(cr_.get(), kLeft, y_, kWidth, height);
  cairo_fill(cr_.get());
  ink(cr_.get(), kBlack);
  y_ += 2;
  lines(wrapped, kLeft + 10, 15);
  y_ += 10;
}

void Pages::verbatim(const std::string& text) {
  use({6.8, false, true});
  std::size_t from = 0;
  const auto widest = static_cast<std::size_t>(kWidth / text_width("m"));
  while (from < text.size()) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    std::string line = text.substr(from, end - from);
    std::erase(line, '\r');
    std::replace(line.begin(), line.end(), '\t', ' ');
    from = end + 1;
    do {  // a line longer than the page is wide goes on below; never inside a UTF-8 character
      std::size_t cut = std::min(widest, line.size());
      while (cut > 1 && is_inside(line, cut)) --cut;
      lines({line.substr(0, cut)}, kLeft, 8.8);
      line.erase(0, cut);
    } while (!line.empty());
  }
}

void Pages::table_head(const std::vector<Column>& columns, const std::vector<double>& widths) {
  Row head;
  for (const Column& column : columns) head.cells.push_back(column.head);
  head.tint = Colour{228, 228, 228};
  use({8, true});
  table_row(columns, widths, head);
  use({8});
}

void Pages::table_row(const std::vector<Column>& columns, const std::vector<double>& widths,
                      const Row& row) {
  constexpr double kLeading = 10.5, kGap = 3;
  std::vector<std::vector<std::string>> cells;
  std::size_t most = 1;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    cells.push_back(wrap(row.cells[c], widths[c] - 2 * kGap));
    most = std::max(most, cells.back().size());
  }
  const double height = kLeading * static_cast<double>(most) + 4;
  if (row.tint) {
    ink(cr_.get(), *row.tint);
    cairo_rectangle(cr_.get(), kLeft, y_, kWidth, height);
    cairo_fill(cr_.get());
    ink(cr_.get(), kBlack);
  }
  const double top = y_;
  double x = kLeft;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    y_ = top + 1;
    for (const std::string& line : cells[c]) {
      y_ += kLeading;
      show(columns[c].right ? x + widths[c] - kGap - text_width(line) : x + kGap, line);
    }
    x += widths[c];
  }
  y_ = top + height;
  ink(cr_.get(), {200, 200, 200});
  cairo_set_line_width(cr_.get(), 0.4);
  cairo_move_to(cr_.get(), kLeft, y_);
  cairo_line_to(cr_.get(), kLeft + kWidth, y_);
  cairo_stroke(cr_.get());
  ink(cr_.get(), kBlack);
}

void Pages::table(const std::vector<Column>& columns, const std::vector<Row>& rows) {
  for (const Row& row : rows)
    if (row.cells.size() != columns.size())  // figures would stand under the wrong head
      throw std::logic_error("a table of " + std::to_string(columns.size()) + " columns, \"" +
                             columns.front().head + "\" first, with a row of " +
                             std::to_string(row.cells.size()));
  double shares = 0;
  for (const Column& column : columns) shares += column.share;
  std::vector<double> widths;
  for (const Column& column : columns) widths.push_back(kWidth * column.share / shares);
  need(48);
  y_ += 5;
  table_head(columns, widths);
  for (const Row& row : rows) {
    std::size_t most = 1;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      most = std::max(most, wrap(row.cells[c], widths[c] - 6).size());
    }
    if (y_ + 10.5 * static_cast<double>(most) + 4 > kPaperHeight - kBottom) {
      new_page();
      table_head(columns, widths);
    }
    table_row(columns, widths, row);
  }
  y_ += 4;
}

void Pages::figure(const Sheet& sheet, const std::string& caption) {
  const double height = sheet.height_mm * kPtPerMm;
  need(height + 20);
  y_ += 6;
  draw(cr_.get(), sheet, kLeft + (kWidth - sheet.width_mm * kPtPerMm) / 2, y_);
  y_ += height;
  if (caption.empty()) return;
  use({8});
  lines(wrap(caption, kWidth), kLeft, 10.5);
}

void Pages::picture(const Image& image, double width_mm) {
  const double scale = width_mm * kPtPerMm / image.width;
  need(image.height * scale + 8);
  y_ += 6 + image.height * scale;
  if (pages_in_all_ == 0) return;  // pages are only being counted
  std::vector<std::uint32_t> pixels = image.rgb;
  cairo_surface_t* source = cairo_image_surface_create_for_data(
      reinterpret_cast<unsigned char*>(pixels.data()), CAIRO_FORMAT_RGB24, image.width,
      image.height, image.width * 4);
  cairo_save(cr_.get());
  cairo_translate(cr_.get(), kLeft + (kWidth - width_mm * kPtPerMm) / 2, y_ - image.height * scale);
  cairo_scale(cr_.get(), scale, scale);
  cairo_set_source_surface(cr_.get(), source, 0, 0);
  cairo_paint(cr_.get());
  cairo_restore(cr_.get());
  cairo_surface_finish(source);
  cairo_surface_destroy(source);
}

std::string Pages::finish() {
  footer();
  cairo_show_page(cr_.get());
  cr_.reset();
  cairo_surface_finish(surface_.get());
  surface_.reset();
  return bytes_;
}

}  // namespace skewback::deliver
