#include "cut/cut.hpp"
#include "cut/trunk_parts.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

double solid_share(const Brief& brief, const Body& body) {
  if (!body.section.hollow) return 1;
  double whole = 0, concrete = 0;
  const std::vector<ArmField> arms = arm_fields(body.form);
  const std::vector<int> parts = trunk_parts(brief, body);
  for (std::size_t k = 0; k < arms.size(); ++k) {
    const ArmField& arm = arms[k];
    constexpr int kSlices = 12;
    for (int i = 0; i < kSlices; ++i) {
      const Level level = level_at(body, arm, arm.border_phi_m * (i + 0.5) / kSlices);
      const double volume = level.width_m * level.depth_m * arm.border_phi_m / kSlices;
      whole += volume;
      concrete += volume * solid_fraction(body.section, level.depth_m, level.width_m / parts[k]);
    }
    for (const int t :
         arm.triangles) {  // beyond the last level that runs from edge to edge: the key
      const auto& tri = body.form.triangles[at(t)];
      double phi = 0, depth = 0;
      for (int v : tri) {
        phi += arm.phi[at(v)] / 3;
        depth += body.depth_m[at(v)] / 3;
      }
      if (phi < arm.border_phi_m) continue;
      const Vec3 &a = body.form.vertices[at(tri[0])], &b = body.form.vertices[at(tri[1])],
                 &c = body.form.vertices[at(tri[2])];
      const double volume = (b - a).cross(c - a).norm() / 2 * depth;
      whole += volume;
      concrete += volume;
    }
  }
  return concrete / whole;
}

}  // namespace skewback
