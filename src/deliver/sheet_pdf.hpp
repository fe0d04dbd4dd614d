#pragma once
// Sheets as the pages of a PDF, each at its own size; the same bytes every time.

#include "deliver/sheet.hpp"

namespace skewback::deliver {

[[nodiscard]] std::string sheets_pdf(const std::vector<Sheet>& sheets, const std::string& title);

}  // namespace skewback::deliver
