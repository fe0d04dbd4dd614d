#pragma once
// Private to print/: which face of a block lies on the table, which way up, and on what.

#include "print/fan.hpp"
#include "print/print_parts.hpp"

namespace skewback {

/// Joints of one plane: a course meets two or three staggered blocks of the next in the same bed.
using Bed = std::vector<int>;
struct BlockBeds {
  std::vector<Bed> beds;   // that the flow passes: to the next course, the ground, a key
  std::vector<int> walls;  // joints beside it: head joints, ridges
};
[[nodiscard]] BlockBeds block_beds(const Assembly& assembly, int block);

/// Face of the block at a joint: half a pad from its mid-plane; normal into the block.
[[nodiscard]] Plane face_at(const Joint& joint, int block);

struct Setup {
  Fan fan;                     // low: on the table
  Bed low_bed, high_bed;       // none high: the last layer lies at the far end of the block
  Vec3 along = Vec3::UnitX();  // way of the table's x in the block, unit
  double stand_rad = 0;        // slope of the stand
  Rigid to_table;
  double lean_rad = 0;  // greatest of the sides against upright, as it stands on the table
  std::string words;
};

/// Of the two beds, and flat or on a stand of half their angle, what keeps the sides nearest to
/// upright; flat unless only the stand keeps within the cell's limits.
[[nodiscard]] Setup set_up(const PrintRequest& cell, const Assembly& assembly, int block,
                           const BlockBeds& beds);

/// Brings `up` (world) to the table's z and `along` to its x, the solid on the table's middle.
[[nodiscard]] Rigid onto_table(const Solid& solid, const Vec3& up, const Vec3& along);

/// Greatest angle by which a side hangs over, against `up`: one that leans back is carried, and of
/// a leaf that leans either the outer face or the tube's hangs over. The beds are left out; by
/// area, all but a hundredth of the sides count.
[[nodiscard]] double lean_of_sides(const Solid& solid, const Fan& fan, const Vec3& up);

}  // namespace skewback
