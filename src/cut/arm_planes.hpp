#pragma once
// Joint planes of one arm: square to the resultant of the net across a level set of phi.

#include <vector>

#include "body/body.hpp"

namespace skewback {

/// The part of the form whose weight goes to one support, with phi as a function of its vertices.
struct ArmField {
  int support = -1;
  std::vector<int> triangles;  // indices into Form::triangles
  std::vector<double> phi;     // per form vertex; NaN outside the arm
  double border_phi_m = 0;     // least phi where the arm meets another
  double top_phi_m = 0;        // greatest phi
};

[[nodiscard]] std::vector<ArmField> arm_fields(const Form& form);

struct Level {
  double phi_m = 0;
  double width_m = 0;  // length of the level set on the middle surface
  double depth_m = 0;  // mean body depth along it
  Vec3 centre = Vec3::Zero();
  Vec3 resultant_n = Vec3::Zero();  // what the lower side is pushed back with: points up the flow
};
[[nodiscard]] Level level_at(const Body& body, const ArmField& arm, double phi_m);

struct ArmCuts {
  int support = -1;
  std::vector<Plane> planes;  // [0] springing, then up the flow; normals point up the flow
  std::vector<double> phi_m;  // of each plane
  double width_max_m = 0;
};

/// Where the arms end and the key begins. Faults: planes that cannot be kept apart.
[[nodiscard]] Result<std::vector<ArmCuts>> joint_planes(const Brief& brief, const Body& body,
                                                        const std::vector<int>& extra_courses);

}  // namespace skewback
