#include "deliver/sheet_pdf.hpp"

#include <cairo-pdf.h>

#include <memory>

#include "deliver/cairo_sheet.hpp"

namespace skewback::deliver {
namespace {

constexpr double kPtPerMm = 72 / 25.4;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::string sheets_pdf(const std::vector<Sheet>& sheets, const std::string& title) {
  std::string bytes;
  if (sheets.empty()) return bytes;
  const std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> surface(
      cairo_pdf_surface_create_for_stream(append, &bytes, sheets[0].width_mm * kPtPerMm,
                                          sheets[0].height_mm * kPtPerMm),
      cairo_surface_destroy);
  // A fixed date: what was computed, not when.
  for (const auto key : {CAIRO_PDF_METADATA_CREATE_DATE, CAIRO_PDF_METADATA_MOD_DATE})
    cairo_pdf_surface_set_metadata(surface.get(), key, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "skewback");
  {
    const std::unique_ptr<cairo_t, decltype(&cairo_destroy)> cr(cairo_create(surface.get()),
                                                                cairo_destroy);
    for (const Sheet& sheet : sheets) {
      cairo_pdf_surface_set_size(surface.get(), sheet.width_mm * kPtPerMm,
                                 sheet.height_mm * kPtPerMm);
      draw(cr.get(), sheet, 0, 0);
      cairo_show_page(cr.get());
    }
  }
  cairo_surface_finish(surface.get());
  return bytes;
}

}  // namespace skewback::deliver
