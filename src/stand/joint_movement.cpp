#include "stand/joint_movement.hpp"

#include <algorithm>
#include <optional>

#include "stand/mechanism.hpp"

namespace skewback {
namespace {

constexpr double kStill = 1e-5;  // of the greatest speed
constexpr double kSlips = 1e-3;

std::optional<JointMovement> movement_of(const std::vector<Contact>& corners,
                                         const std::vector<BlockVelocity>& blocks) {
  JointMovement out;
  double fastest = 0, slip = 0;
  int touching = 0;
  for (const Contact& c : corners) {
    const Vec3 opening = opening_at(c, blocks);
    const double normal = opening.dot(c.n), along = (opening - normal * c.n).norm();
    fastest = std::max(fastest, opening.norm());
    out.middle += c.point / static_cast<double>(corners.size());
    // On an associated mechanism, sliding lifts by friction x slip; more than that is open.
    if (normal > c.friction * along * 1.1 + kStill) continue;
    slip = std::max(slip, along);
    out.hinge += c.point;
    ++touching;
  }
  if (fastest <= kStill) return std::nullopt;
  if (touching == 0) return out;
  out.hinge /= touching;
  out.movement = slip > kSlips ? Movement::kSlide : Movement::kHinge;
  return out;
}

}  // namespace

std::vector<JointMovement> joint_movements(const Assembly& assembly, const Mechanism& mechanism) {
  std::vector<std::vector<Contact>> corners(assembly.joints.size());
  for (const Contact& c : contacts_of(assembly, {})) {
    corners[static_cast<std::size_t>(c.joint)].push_back(c);
  }
  std::vector<JointMovement> out;
  for (std::size_t j = 0; j < corners.size(); ++j) {
    if (corners[j].empty()) continue;
    auto movement = movement_of(corners[j], mechanism.blocks);
    if (!movement) continue;
    const Joint& joint = assembly.joints[j];
    movement->joint = static_cast<int>(j);
    movement->turn = (mechanism.blocks[static_cast<std::size_t>(joint.b)].w -
                      mechanism.blocks[static_cast<std::size_t>(joint.a)].w)
                         .norm();
    out.push_back(*movement);
  }
  return out;
}

bool slides(const Assembly& assembly, const Mechanism& mechanism) {
  const auto movements = joint_movements(assembly, mechanism);
  return std::ranges::any_of(movements,
                             [](const auto& m) { return m.movement == Movement::kSlide; });
}

}  // namespace skewback
