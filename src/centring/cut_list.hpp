#pragma once
// Sawn timber cut from lengths as it is sold. Theory: docs/theory/centring.md.

#include <string>
#include <vector>

#include "centring/centring.hpp"

namespace skewback {

struct CutPiece {
  std::string id;  // of the stick: "P3-1"
  double length_m = 0;
};
struct StockLength {  // one, as bought
  std::vector<CutPiece> pieces;
  double left_m = 0;  // after the last cut
};

/// Longest first, each into the first length that still has room for it and the cut before it.
/// What is longer than the stock is not laid. Ties go by id.
[[nodiscard]] std::vector<StockLength> first_fit(std::vector<CutPiece> pieces, double stock_m,
                                                 double kerf_m);
/// No list does with fewer lengths: by what the pieces and cuts add up to, and by those of which no
/// two come from one length.
[[nodiscard]] int fewest_lengths(const std::vector<CutPiece>& pieces, double stock_m,
                                 double kerf_m);

struct SectionCut {  // of one cross section
  double width_m = 0, depth_m = 0;
  std::vector<StockLength> lengths;
  std::vector<CutPiece> too_long;  // bought at their own length, or to be spliced
  double used_m = 0, bought_m = 0;
  int at_least = 0;  // lengths, no list does with fewer
};
struct CutList {
  std::vector<SectionCut> sections;  // largest first
  double used_m = 0, bought_m = 0, bought_m3 = 0;
};
/// All sticks of the centring, from centring.stock_length, centring.saw_kerf lost at each cut.
[[nodiscard]] CutList cut_list(const CentringRequest& request, const Centring& centring);

}  // namespace skewback
