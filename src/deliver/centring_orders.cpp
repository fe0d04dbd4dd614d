#include "deliver/centring_orders.hpp"

#include "deliver/csv.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string mm(double metres) { return fixed(1000 * metres, 1); }

std::string section_of(const SectionCut& section) {
  return fixed(1000 * section.width_m, 0) + " x " + fixed(1000 * section.depth_m, 0);
}

}  // namespace

std::string fixings_csv(const Fixings& fixings) {
  std::string text = csv_line(
      {"what", "where", "number", "size_mm", "grade", "through_mm", "force_n", "at", "rule"});
  for (const Fixing& f : fixings.rows)
    text += csv_line({f.what, f.where, std::to_string(f.number), f.size, f.grade,
                      f.through_m > 0 ? mm(f.through_m) : "",
                      f.force_n > 0 ? fixed(f.force_n, 0) : "", joined(f.at, " "), f.rule});
  for (const std::string& words : fixings.missing)
    text += csv_line({"not in the model", "", "", "", "", "", "", "", words});
  return text;
}

std::string timber_csv(const CentringRequest& request, const CutList& cut) {
  std::string text =
      csv_line({"section_mm", "stock_m", "length", "order", "id", "cut_mm", "left_mm"});
  const std::string stock = fixed(request.stock_length_m, 3);
  for (const SectionCut& section : cut.sections) {
    for (std::size_t i = 0; i < section.lengths.size(); ++i) {
      const StockLength& length = section.lengths[i];
      for (std::size_t k = 0; k < length.pieces.size(); ++k)
        text += csv_line({section_of(section), stock, std::to_string(i + 1), std::to_string(k + 1),
                          length.pieces[k].id, mm(length.pieces[k].length_m),
                          k + 1 == length.pieces.size() ? mm(length.left_m) : ""});
    }
    for (const CutPiece& piece : section.too_long)
      text += csv_line(
          {section_of(section), "longer than the stock", "", "", piece.id, mm(piece.length_m), ""});
  }
  return text;
}

}  // namespace skewback::deliver
