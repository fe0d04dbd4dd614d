#pragma once
// The horizontal forces of the whole net in one figure (reciprocal figure, J. C. Maxwell 1864): a
// point for every face of the net, and for every strut a line between the points of its two faces,
// parallel to the strut in plan and as long as its horizontal force.

#include <array>
#include <vector>

#include "form/form.hpp"

namespace skewback {

struct ForcePicture {
  std::vector<Vec2> points;                // one a face, N
  std::vector<std::array<int, 2>> struts;  // per edge of the form: left and right face, from a to b
  // per support: faces outside the free edge before it and after it; the line between their points
  // is its thrust
  std::vector<std::array<int, 2>> supports;
  double closure_n = 0;    // most that a line misses its force by
  double closure_rel = 0;  // that over the greatest thrust of a support
};

/// Laws: at every free node the lines of its struts form a closed polygon; where the net is in
/// equilibrium `closure_rel` is rounding. Edges of the form must not cross in plan.
[[nodiscard]] ForcePicture force_picture(const Form& form, int supports);

}  // namespace skewback
