#pragma once
// Pads made thicker or thinner over the whole bed: which, where. Private to survey/.

#include "survey/packing.hpp"

namespace skewback {

/// Sheets of the stock on pads or in their place, one joint after the other: each time what saves
/// most of the program's sum, while it saves at least 1 mm and half of what the pad changes by. By
/// the program's multipliers none saves more than its joint's say, so most need not be tried. No
/// pad gets thinner than half. A search, not the least there is. By joint; none where all closes
/// without.
[[nodiscard]] std::vector<OtherPad> choose_pads(const StackModel& model, const AsMade& made,
                                                const PackingRequest& packing);

/// `made` with those pads.
[[nodiscard]] AsMade with_pads(const StackModel& model, AsMade made,
                               const std::vector<OtherPad>& pads);
/// A pad of the same stuff and outline that is thicker (thinner below 0): assembly/pad_rules.hpp.
[[nodiscard]] Pad other_pad(const Pad& pad, const Regions& contact, double by_m);
/// `closing_m` (per joint what its pad gives; empty: not known) with those pads under the same
/// load.
[[nodiscard]] std::vector<double> closing_with(const StackModel& model,
                                               std::vector<double> closing_m,
                                               const std::vector<OtherPad>& pads);
/// The pad and packers that would together be thicker than packing.most, in words; empty: none.
[[nodiscard]] std::string too_thick(const StackModel& model, const PackingRequest& packing,
                                    const Packed& packed);

}  // namespace skewback
