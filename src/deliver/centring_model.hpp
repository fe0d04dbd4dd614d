#pragma once
// The centring as solids, for models.

#include <string>
#include <vector>

#include "centring/centring.hpp"

namespace skewback::deliver {

struct NamedSolid {
  std::string id, kind;
  Solid solid;
};

/// Parts as prisms of their outlines through the sheet (bolt holes left out), sticks as boxes about
/// their axes, in world coordinates: parts first, both in the order of the centring. Every solid is
/// closed.
[[nodiscard]] std::vector<NamedSolid> centring_solids(const Centring& centring, double thickness_m);

}  // namespace skewback::deliver
