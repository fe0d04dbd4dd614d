#pragma once
// The marks of the springings as drawn, and those they are held against. Private to survey/.

#include "survey/survey.hpp"

namespace skewback {

struct Springings {
  Brief brief;              // with the measured marks
  std::vector<Mark> marks;  // as the blocks were drawn for
};
/// Of the brief itself. On another site: marks from the blocks' own springing joints, in the order
/// of the brief's supports, held against what was measured of the brief's springings, or against
/// these as drawn if nothing was. Faults: other supports than the blocks have.
[[nodiscard]] Result<Springings> springings_of(const RefitInput& input);

}  // namespace skewback
