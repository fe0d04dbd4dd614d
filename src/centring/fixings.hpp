#pragma once
// What holds a centring together and lowers it, counted from what was drawn. Theory:
// docs/theory/centring.md.

#include <string>
#include <vector>

#include "centring/centring.hpp"

namespace skewback {

struct Fixing {
  std::string what;  // "bolt", "washer", "nut", "nail", "screw", "strap", "wedges", "jack", "hold",
                     // "packing between legs"
  std::string where;  // "splice of a rib"
  std::string size;   // "M10 x 80"
  std::string grade;  // "4.6"; or empty
  int number = 0;
  double through_m = 0;         // that it goes through; 0: nothing
  double force_n = 0;           // on one, see `rule` for which; 0: not said
  std::vector<std::string> at;  // ids of parts, posts, feet
  std::string rule;             // where number and size come from
};
struct Fixings {
  std::vector<Fixing> rows;
  std::vector<std::string> missing;  // what is needed and is not in the model, in words
};
/// `centring`: judged, or its bolts of braces, straps and packings between legs are missing.
[[nodiscard]] Fixings fixings_of(const Brief& brief, const Centring& centring);

/// Nails and screws: a length of 2.5 times what is fixed at least (common practice, no source).
struct NailSize {
  double thick_m = 0, long_m = 0;
};
[[nodiscard]] NailSize nail_for(double board_m);
/// No thicker than a quarter of the sheet into whose edge it goes, 3.5 mm at least.
[[nodiscard]] NailSize screw_for(double board_m, double sheet_m);

}  // namespace skewback
