#pragma once
// What goes down together when the centring is lowered. Private to erect/.

#include <string>
#include <vector>

#include "erect/erect.hpp"

namespace skewback {

struct LoweringFoot {
  std::string id;             // "R3-2"; without a centring "seats under o3"
  std::vector<double> share;  // as of its row
};
struct LoweringRow {
  std::string words;               // "row 2 of the feet, from the crown: R1-3, R2-3"
  std::vector<double> share;       // per seat: how far it goes down when the row goes down by 1
  std::vector<int> blocks;         // that have a seat with a share
  std::vector<LoweringFoot> feet;  // their shares add up to the row's, seats of no foot aside
};

/// Feet row by row from the crown: the highest of every rib, then the next; ribs are straight
/// between their feet and stiff beyond the last, so that a seat past it goes up a little. The
/// shares of a seat add up to 1. Without a centring: the seats of the keys, then course after
/// course outwards.
[[nodiscard]] std::vector<LoweringRow> lowering_rows(const Assembly& assembly,
                                                     const Centring* centring,
                                                     const std::vector<Prop>& seats);

}  // namespace skewback
