#pragma once
// Private to print/: how fast the nozzle goes over each piece of its way.

#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct Piece {
  double length_m = 0;
  double section_m2 = 0;  // of the bead; 0: travels
  double tilt_rad = 0;    // turn of the axis over the piece
  double spin_rad = 0;    // turn about it, either way positive
  int layer = 0;
};

struct Pace {
  std::vector<double> speed_m_s;  // of each piece
  double slowed_s = 0;            // lost to the limits on turning
  std::vector<double> wait_s;     // after each layer; none after the last
};

/// Speed flow / section, held between the least and the greatest; travelling at the greatest. Then
/// no faster than the limits on turning allow, even if that is under the least speed. Then a
/// layer that takes less than the least layer time is laid with less flow, held between the same
/// speeds, so the flow stays even where they allow; what is still short is waited for after it.
[[nodiscard]] Pace pace(const PrintRequest& cell, const std::vector<Piece>& pieces,
                        std::size_t layers);

}  // namespace skewback
