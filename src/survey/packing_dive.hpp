#pragma once
// Private to survey/: thicknesses of a coarse stock, joint by joint.

#include <optional>

#include "survey/packing_judge.hpp"

namespace skewback {

/// Where the nearest thicknesses leave joints beyond their limits: the joint that the program opens
/// most gets packers of the stock near to what it asks, the program is solved again with these in
/// place, and so on down; back up where nothing else will do. At most `programs` are solved. Moves
/// that hold every limit with the packers then in `pack`; none: not found, `pack` is as it was.
[[nodiscard]] std::optional<std::vector<SmallMove>> dive_for_packers(Packing& pack,
                                                                     const PackProgram& program,
                                                                     const PackSolution& found,
                                                                     int programs);

}  // namespace skewback
