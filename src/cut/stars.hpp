#pragma once
// A plan with two meetings taken as two stars: each has its legs and, as one arm more, half the
// spine, which begins at the key in the spine's middle instead of a springing.

#include <array>

#include "cut/arm_planes.hpp"

namespace skewback {

struct Star {
  Brief brief;                // its supports counter-clockwise; the last stands for the spine's end
  Body body;                  // its part of the body, up to the spine's key
  std::vector<int> supports;  // index of each leg in the whole brief
  double top_phi_m = 0;  // phi of the whole form where its half of the spine begins, at the key
};

struct SpineCut {
  std::array<Star, 2> stars;
  // The planes of the key's two joints, normals towards the first and the second meeting.
  std::array<Plane, 2> beds;
  Solid key;  // between them, half a pad short of either
};

/// `mass_most_kg`: of the whole key, which is made about as long as the courses beside it will be.
/// Faults: solids that cannot be cut.
[[nodiscard]] Result<SpineCut> cut_at_spine(const Brief& brief, const Body& body,
                                            double mass_most_kg);

}  // namespace skewback
