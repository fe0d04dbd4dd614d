#include "centring/cut_list.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kSlack_m = 1e-9;

bool same(double a, double b) { return std::abs(a - b) < 1e-6; }

double thin(const Stick& stick) { return std::min(stick.width_m, stick.depth_m); }
double deep(const Stick& stick) { return std::max(stick.width_m, stick.depth_m); }

bool is_of(const SectionCut& section, const Stick& stick) {
  return same(section.width_m, thin(stick)) && same(section.depth_m, deep(stick));
}

}  // namespace

std::vector<StockLength> first_fit(std::vector<CutPiece> pieces, double stock_m, double kerf_m) {
  std::ranges::sort(pieces, [](const CutPiece& a, const CutPiece& b) {
    return a.length_m != b.length_m ? a.length_m > b.length_m : a.id < b.id;
  });
  std::vector<StockLength> out;
  for (CutPiece& piece : pieces) {
    if (piece.length_m > stock_m + kSlack_m) continue;
    auto into = std::ranges::find_if(
        out, [&](const StockLength& l) { return piece.length_m <= l.left_m + kSlack_m; });
    if (into == out.end()) {
      out.push_back({{}, stock_m});
      into = out.end() - 1;
    }
    into->left_m = std::max(0.0, into->left_m - piece.length_m - kerf_m);
    into->pieces.push_back(std::move(piece));
  }
  return out;
}

int fewest_lengths(const std::vector<CutPiece>& pieces, double stock_m, double kerf_m) {
  double sum = 0;
  int alone = 0;
  for (const CutPiece& piece : pieces) {
    if (piece.length_m > stock_m + kSlack_m) continue;
    sum += piece.length_m + kerf_m;
    if (2 * piece.length_m + kerf_m > stock_m + kSlack_m) ++alone;
  }
  // the cut after the last piece is saved where it ends with its length
  const int by_sum = static_cast<int>(std::ceil(sum / (stock_m + kerf_m) - 1e-9));
  return std::max(alone, by_sum);
}

CutList cut_list(const CentringRequest& request, const Centring& centring) {
  CutList out;
  for (const Stick& stick : centring.sticks)
    if (std::ranges::none_of(out.sections, [&](const auto& s) { return is_of(s, stick); }))
      out.sections.push_back({thin(stick), deep(stick), {}, {}, 0, 0, 0});
  std::ranges::stable_sort(out.sections, [](const SectionCut& a, const SectionCut& b) {
    return same(a.width_m, b.width_m) ? a.depth_m > b.depth_m : a.width_m > b.width_m;
  });
  for (SectionCut& section : out.sections) {
    std::vector<CutPiece> pieces;
    for (const Stick& stick : centring.sticks) {
      if (!is_of(section, stick)) continue;
      const CutPiece piece{stick.id, stick.cut_length_m()};
      section.used_m += piece.length_m;
      pieces.push_back(piece);
      if (piece.length_m <= request.stock_length_m + kSlack_m) continue;
      section.too_long.push_back(piece);
      section.bought_m += piece.length_m;
    }
    section.at_least = fewest_lengths(pieces, request.stock_length_m, request.saw_kerf_m);
    section.lengths = first_fit(std::move(pieces), request.stock_length_m, request.saw_kerf_m);
    section.bought_m += static_cast<double>(section.lengths.size()) * request.stock_length_m;
    out.used_m += section.used_m;
    out.bought_m += section.bought_m;
    out.bought_m3 += section.bought_m * section.width_m * section.depth_m;
  }
  return out;
}

}  // namespace skewback
