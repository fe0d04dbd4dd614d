#pragma once
// Plots of many runs, from plain columns of numbers.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "deliver/drawings.hpp"

namespace skewback::deliver {

struct VaryColumn {
  std::string name;
  std::string unit;                           // as written; empty: in the name, or none
  std::vector<std::optional<double>> values;  // per run; none: the run has no such figure
  std::vector<std::string> labels;  // where it holds no numbers: value k stands for labels[k]
};

struct VaryTable {
  std::string title;
  std::string what = "runs";  // or "draws"
  std::vector<VaryColumn> varied, figures;
  int main = -1;            // the figure that varied quantities are drawn against; -1: none
  std::vector<bool> fails;  // per run: a required check fails
};

struct VaryFront {
  VaryColumn x, y;
  bool x_more_is_better = false, y_more_is_better = true;
  std::vector<bool> fails;             // per run
  std::vector<std::uint64_t> numbers;  // of the runs, as shown
  std::vector<std::size_t> on;         // places of those on the front, by x
};

/// How many runs lie where, a panel for each figure.
[[nodiscard]] Sheet histogram_sheet(const VaryTable& table);
/// The main figure against each varied quantity.
[[nodiscard]] Sheet scatter_sheet(const VaryTable& table);
/// Two figures against each other; those that no other run betters in both are joined.
[[nodiscard]] Sheet front_sheet(const VaryFront& front, const std::string& title);

/// Places of runs that no other betters in both, by x. Where any run has no failing check, of those
/// only.
[[nodiscard]] std::vector<std::size_t> on_front(const VaryFront& front);

/// Freedman and Diaconis 1981: width 2 IQR n^(-1/3), rounded to 1, 2 or 5 times a power of ten; at
/// least 1 and at most 40 bins. Edges, ascending; the last bin holds its upper edge.
[[nodiscard]] std::vector<double> histogram_edges(const std::vector<double>& values);

}  // namespace skewback::deliver
