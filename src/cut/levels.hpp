#pragma once
// Level sets of phi in one arm: where they lie, how wide they are, what they carry, and the way
// along their middles.

#include <vector>

#include "body/body.hpp"

namespace skewback {

/// The part of the form whose weight goes to one support, with phi as a function of its vertices.
struct ArmField {
  int support = -1;
  std::vector<int> triangles;  // indices into Form::triangles
  // per form vertex; NaN outside the arm; on half a spine metres from its middle down the flow
  std::vector<double> phi;
  double border_phi_m = 0;  // least phi where the arm meets another, the other half left out
  double top_phi_m = 0;     // greatest phi
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

/// Square to the resultant across the level, through its middle; normal up the flow.
[[nodiscard]] Plane level_plane(const Body& body, const ArmField& arm, double phi_m);

/// Concrete across a level per metre of the way, kg/m, by the rule of leaves and webs.
[[nodiscard]] double mass_per_metre(const Body& body, const Level& level);

/// True length along the middle of an arm as a function of phi: the way through the centres of its
/// levels from the springing to the border, then straight on.
class Way {
 public:
  Way(const Body& body, const ArmField& arm, double end_phi_m);
  [[nodiscard]] double length() const { return length_.back(); }
  [[nodiscard]] double phi_at(double length) const;
  [[nodiscard]] double length_at(double phi) const;

 private:
  std::vector<double> phi_, length_;
};

}  // namespace skewback
