#pragma once
// Private to assembly/: what the parts of the reader share.

#include <map>
#include <string>

#include "assembly/assembly.hpp"
#include "assembly/fields.hpp"

namespace skewback {

using BlockIndex = std::map<std::string, int>;

struct JointDefaults {
  double friction = 0.6;
  double tolerance_m = 1e-3;
};

inline constexpr double kFlatEnough = 1e-4;  // m, of faces and joint polygons

/// Largest distance of the points from the plane through their middle along their area vector.
[[nodiscard]] double off_plane(const std::vector<Vec3>& points);
[[nodiscard]] Vec3 area_vector(const std::vector<Vec3>& loop);
[[nodiscard]] std::string millimetres(double metres);
[[nodiscard]] std::string coordinates(const Vec3& p);  // "[1.000000, 0.500000, 0.000000]"

/// Index of the block that the text names, or -1 and a fault.
/// 0 to 10.
[[nodiscard]] double read_friction(Fields& fields, const Cursor& at);
[[nodiscard]] int named_block(Fields& fields, const Cursor& at, const BlockIndex& index);

/// Appends the listed joints. `blocks_good`: the blocks may be measured against the joints.
void read_joints(Fields& fields, const Cursor& at, const BlockIndex& index,
                 const JointDefaults& defaults, bool blocks_good, Assembly& assembly);

}  // namespace skewback
