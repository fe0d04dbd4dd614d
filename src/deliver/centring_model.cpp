#include "deliver/centring_model.hpp"

#include <cmath>

namespace skewback::deliver {
namespace {

/// Depth stands as upright as the axis allows; of an upright stick it lies along x.
Solid stick_solid(const Stick& stick) {
  const Vec3 axis = (stick.to - stick.from).normalized();
  const Vec3 side = std::abs(axis.z()) > 0.99 ? Vec3(Vec3::UnitY())
                                              : Vec3(Vec3::UnitZ().cross(axis).normalized());
  const Vec3 wide = (side - side.dot(axis) * axis).normalized();
  const Vec3 end = stick.from + stick.beside - stick.beyond_m * axis;
  const Frame frame{end, wide, axis.cross(wide), axis};
  const double w = stick.width_m / 2, d = stick.depth_m / 2;
  return prism(frame, {{-w, -d}, {w, -d}, {w, d}, {-w, d}}, 0, stick.cut_length_m());
}

}  // namespace

std::vector<NamedSolid> centring_solids(const Centring& centring, double thickness_m) {
  std::vector<NamedSolid> solids;
  for (const SheetPart& part : centring.parts) {
    solids.push_back({part.id, part.kind,
                      prism(part.place, part.outline.outer, -thickness_m / 2, thickness_m / 2)});
  }
  for (const Stick& stick : centring.sticks) {
    solids.push_back({stick.id, stick.kind, stick_solid(stick)});
  }
  return solids;
}

}  // namespace skewback::deliver
