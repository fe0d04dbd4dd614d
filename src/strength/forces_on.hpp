#pragma once
// Private to strength/: what acts on the part of a block in front of a plane.

#include <vector>

#include "brief/brief.hpp"
#include "stand/stand.hpp"
#include "strength/section.hpp"

namespace skewback {

/// What a joint hands over in one case: the pads' pressure as the plane it is, and the rest at the
/// points of the contact mesh.
struct JointLoad {
  double normal_n = 0, peak_pa = 0;
  Vec3 pressure = Vec3::Zero();      // max(0, pressure . (1, x, y)) on the contact, joint frame
  std::vector<ContactForce> points;  // on b
};

/// Of all joints. Pressure on rigid faces is linear where the pad is closed, so the resultant gives
/// it back; where it does not (it lies on the rim), the mesh's forces are kept as they are.
[[nodiscard]] std::vector<JointLoad> joint_loads(const Assembly& assembly, const PadState& state);

struct Resultant {
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();  // world, about the origin of the plane
};

struct BlockCut {  // a plane through a block: what stays the same from case to case
  int block = -1;
  Frame frame;  // z: normal of the plane
  Regions section;
  PartInFront part;
};
[[nodiscard]] BlockCut cut_block(const Assembly& assembly, int block, const Frame& frame);

/// Half the length over which a load that stands at a point of the block is spread across it: the
/// share of the walkway that stands about the point, or up to the nearer edge of the block.
[[nodiscard]] double spread_half_m(const Brief& brief, const Vec3& point, double to_edge_m);

/// Sum of weight, carried masses, live load and the joints' forces in front of the cut. `joints`:
/// those of the block. Carried and live loads are spread along `across` (unit; zero: points).
[[nodiscard]] Resultant in_front(const Brief& brief, const Assembly& assembly,
                                 const std::vector<int>& joints, const LoadCase& load,
                                 const std::vector<JointLoad>& loads, const BlockCut& cut,
                                 const Vec3& across);

/// The integrals of compression times (1, x, y) over the section that balance what is in front.
[[nodiscard]] Vec3 section_load(const BlockCut& cut, const Resultant& in_front);

}  // namespace skewback
