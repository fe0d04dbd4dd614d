#pragma once
// Drawings of the tolerances judged beforehand.

#include "brief/brief.hpp"
#include "deliver/sheet.hpp"
#include "survey/tolerances.hpp"

namespace skewback::deliver {

/// How often: worst gap at the keys' joints without packers, thickest packers in one place, packers
/// together, and least load factor of the draws that were proved (left out where none was).
[[nodiscard]] Sheet tolerance_draws_sheet(const Brief& brief, const ToleranceReport& report,
                                          double width_mm);
/// Bars a trade: chance that the key goes in by itself and packers of a draw, with its error halved
/// and gone, against now; and how far the key is off by it alone.
[[nodiscard]] Sheet trades_sheet(const ToleranceReport& report, double width_mm);

/// Shares of `values` in steps of a round width from `low`.
struct Histogram {
  double low = 0, step = 1;
  std::vector<double> share;
  [[nodiscard]] double high() const { return low + step * static_cast<double>(share.size()); }
};
[[nodiscard]] Histogram histogram(const std::vector<double>& values, int steps_at_most);

/// "footings in plan" for "footing_plan"; the name itself where it is not known.
[[nodiscard]] std::string trade_words(const std::string& error);
/// "10.0 mm", "0.200 degrees", "5.0 %": the unit goes by the error's name.
[[nodiscard]] std::string figure_words(const std::string& error, double figure);

}  // namespace skewback::deliver
