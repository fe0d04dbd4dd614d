// Lengths of sawn timber with the pieces that are cut from them.

#include <algorithm>
#include <cmath>

#include "deliver/centring_orders.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kTitle = 16, kPitch = 7.5, kHigh = 4, kName = 12, kBetween = 8;
constexpr double kWords = 1.7, kLetter = 0.56;  // mm; width of a letter over its size
constexpr Colour kWood{244, 228, 198}, kLine{110, 70, 20}, kWaste{225, 225, 222};

class Laying {
 public:
  Laying(const CentringRequest& request, const CutList& cut, const SheetSize& size)
      : request_(request), size_(size) {
    const double column = (size.width_mm - 2 * kMargin - kBetween) / 2;
    mm_per_m_ = (column - kName) / request.stock_length_m;
    for (const SectionCut& section : cut.sections) one_section(section);
  }
  [[nodiscard]] std::vector<Sheet> take() { return std::move(sheets_); }

 private:
  /// `with`: rows that are to stay with it.
  void next_row(int with = 0) {
    y_ += kPitch;
    if (!sheets_.empty() && y_ + with * kPitch <= size_.height_mm - kMargin) return;
    y_ = kMargin + kTitle + kPitch;
    if (!sheets_.empty() && left_ == kMargin) {
      left_ = size_.width_mm / 2 + kBetween / 2;
      return;
    }
    left_ = kMargin;
    Sheet sheet{size_.width_mm, size_.height_mm, "Sawn timber of the centring", {}};
    sheet.items.emplace_back(
        Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
    sheet.words({kMargin, kMargin + 8.5},
                "Lengths of " + fixed(request_.stock_length_m, 2) +
                    " m, each with its pieces and "
                    "how long they are cut (mm); " +
                    fixed(1000 * request_.saw_kerf_m, 1) +
                    " mm lost at each cut. Grey: what is left.",
                2.1);
    sheet.words({kMargin, kMargin + 11.8},
                "Pieces too short for their names here are named in timber.csv, in the same order.",
                2.1);
    sheets_.push_back(std::move(sheet));
  }

  void one_section(const SectionCut& section) {
    next_row(1);
    sheets_.back().items.emplace_back(Words{{left_, y_},
                                            fixed(1000 * section.width_m, 0) + " x " +
                                                fixed(1000 * section.depth_m, 0) +
                                                " mm: " + counted(section.lengths.size(), "length"),
                                            2.4,
                                            Anchor::kStart,
                                            true,
                                            kBlack,
                                            false});
    for (std::size_t i = 0; i < section.lengths.size(); ++i) {
      next_row();
      one_length(section.lengths[i], i + 1);
    }
    for (const CutPiece& piece : section.too_long) {
      next_row();
      sheets_.back().words(
          {left_, y_},
          piece.id + ": " + fixed(1000 * piece.length_m, 0) + " mm, longer than the stock", kWords);
    }
  }

  void one_length(const StockLength& length, std::size_t number) {
    sheets_.back().words({left_ + kName - 2, y_}, std::to_string(number), kWords, Anchor::kEnd);
    double at = 0;
    for (const CutPiece& piece : length.pieces) {
      box(at, at + piece.length_m, kWood);
      const std::string size = fixed(1000 * piece.length_m, 0);
      if (!write(at, piece.length_m, piece.id + "  " + size)) write(at, piece.length_m, piece.id);
      at += piece.length_m + request_.saw_kerf_m;
    }
    if (length.left_m <= 0) return;
    box(request_.stock_length_m - length.left_m, request_.stock_length_m, kWaste);
    write(request_.stock_length_m - length.left_m, length.left_m, fixed(1000 * length.left_m, 0));
  }

  void box(double from_m, double to_m, const Colour& fill) {
    const double a = left_ + kName + mm_per_m_ * from_m, b = left_ + kName + mm_per_m_ * to_m;
    const double low = y_ + 1.2, high = low - kHigh;
    sheets_.back().path({{a, low}, {b, low}, {b, high}, {a, high}}, true, {fill, kLine, 0.15});
  }

  bool write(double from_m, double length_m, const std::string& text) {
    const double room = mm_per_m_ * length_m - 1;
    if (kLetter * kWords * static_cast<double>(text.size()) > room) return false;
    sheets_.back().words({left_ + kName + mm_per_m_ * (from_m + length_m / 2), y_}, text, kWords,
                         Anchor::kMiddle);
    return true;
  }

  const CentringRequest& request_;
  const SheetSize size_;
  double mm_per_m_ = 1, left_ = kMargin, y_ = 0;
  std::vector<Sheet> sheets_;
};

}  // namespace

std::vector<Sheet> timber_sheets(const CentringRequest& request, const CutList& cut,
                                 const SheetSize& size) {
  return Laying(request, cut, size).take();
}

}  // namespace skewback::deliver
