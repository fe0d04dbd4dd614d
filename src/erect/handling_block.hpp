#pragma once
// What handling needs to know of a block's shape. Private to erect/.

#include <array>
#include <optional>

#include "centring/soffit.hpp"
#include "erect/handling_beam.hpp"
#include "print/print.hpp"
#include "strength/concrete.hpp"

namespace skewback {

struct HandlingBlock {
  int block = -1;
  Vec3 centre = Vec3::Zero();  // of gravity, of the block alone
  double mass_kg = 0, density = 0;
  Vec3 across = Vec3::UnitX();        // level, along its long side in plan
  Vec3 along = Vec3::UnitY();         // level, square to it
  std::optional<Vec3> layers;         // normal of the middle layer
  Plane first_layer, last_layer;      // where there are layers: both normals the way they grow
  const BlockPrint* print = nullptr;  // null: not printed, or not known
  std::vector<SoffitFace> soffit;
  Vec3 soffit_normal = -Vec3::UnitZ();           // mean, down
  Vec3 low = Vec3::Zero(), high = Vec3::Zero();  // box of the solid, world
};

[[nodiscard]] HandlingBlock handling_block(const Assembly& assembly, int block,
                                           const PrintSet* print);

/// From, to of the solid's corners along a direction, world origin.
struct Reach {
  double from = 0, to = 0;
  [[nodiscard]] double length() const { return to - from; }
};
[[nodiscard]] Reach reach_along(const Solid& solid, const Vec3& way);

/// A bearer or sling is packed up to what lies so much over the lowest point above it.
inline constexpr double kPacked_m = 0.06;
/// Ends of the part of the section square to `across` at `place` (world origin) that lies on a
/// bearer or in a sling when `up` is up; both unit, square to one another.
[[nodiscard]] std::optional<std::array<Vec3, 2>> lies_at(const Solid& solid, const Vec3& across,
                                                         const Vec3& up, double place);
/// Forces along `up` at such points that carry `weight_n` at `centre`; none if one would have to
/// pull.
[[nodiscard]] std::optional<std::vector<HandlingForce>> carried_at(const std::vector<Vec3>& points,
                                                                   const Vec3& centre,
                                                                   const Vec3& up, double weight_n);

/// Area of the faces that the block is laid on, when its table's z is up: those lower than `tol_m`.
[[nodiscard]] double lying_area_m2(const Solid& solid, const Rigid& to_table, double tol_m = 1e-4);

}  // namespace skewback
