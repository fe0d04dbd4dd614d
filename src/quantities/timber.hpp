#pragma once
// What the centring takes: sheets and sawn timber, with carbon. Theory: docs/theory/quantities.md.

#include "quantities/quantities.hpp"

namespace skewback {

struct CentringTimber {
  double sheets_m2 = 0, sheets_kg = 0;  // whole sheets, as bought
  double sawn_m3 = 0, sawn_kg = 0;      // whole lengths, as bought
  int sheets = 0;
  double sawn_bought_m = 0, sawn_used_m = 0;  // lengths of it, all sections; 0: not counted
};
/// Adds two lines, and their carbon to the sum; used once, nothing taken off for use again. Plywood
/// 0.5, 0.68, 0.9 kg CO2e per kg, what it stores left out (ICE V3, from memory); sawn timber by
/// carbon.timber.
void add_centring(const Brief& brief, const CentringTimber& timber, Quantities& quantities);

}  // namespace skewback
