#pragma once
// What to try where joints are pressed too hard as the gaps between packers close. Private to
// survey/.

#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct FinerPacking {
  PackingRequest packing;
  std::string words;  // "sheets of 0.05 and 0.10 mm in packing.stock"
};
/// Sheets of a quarter and of half the thinnest besides; then a quarter of the slack too. Nothing
/// under 0.05 mm (ours: foil).
[[nodiscard]] std::vector<FinerPacking> finer_packing(const PackingRequest& packing);

}  // namespace skewback
