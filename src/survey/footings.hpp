#pragma once
// Where the footings are, from the marks of the springings. For survey/, and for works/ to ask
// before anything is proved.

#include "brief/brief.hpp"
#include "survey/fit.hpp"
#include "survey/points.hpp"

namespace skewback {

[[nodiscard]] Rigid after(const Rigid& second, const Rigid& first);  // second(first(p))
[[nodiscard]] Rigid inverse(const Rigid& X);

struct FootingsFound {
  Rigid datum;     // bridge axes to the survey's own, about the vertical; the same unless every
                   // support lies far from its place and the points are not on the grid of [site]
  RigidFit whole;  // of all marks, in bridge axes: the error shared
  std::vector<RigidFit> footings;     // per support, in bridge axes, drawn to found
  std::vector<Mark> marks;            // of the springings, as drawn
  std::vector<std::string> doubtful;  // what is to be measured again, and why
  std::vector<std::string> unfit;  // of these, what makes the fit worth nothing until it is looked
                                   // at: marks that do not go together and are all used, a tilt
};

/// Marks of the brief itself and those of `points`, which replace them (null: none). Faults, with
/// file and line of the mark's row: marks that are missing, mirrored, swapped, of supports whose
/// names are swapped (mix_up.hpp) or in another unit, or too far from the drawing to be a footing's
/// error. `drawn`: marks of the springings to hold them to.
[[nodiscard]] Result<FootingsFound> find_footings(const Brief& brief, const PointFile* points,
                                                  const std::vector<Mark>& drawn);

}  // namespace skewback
