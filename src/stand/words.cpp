#include <algorithm>
#include <array>
#include <cmath>

#include "stand/joint_movement.hpp"
#include "stand/stand.hpp"

namespace skewback {

namespace {

constexpr double kStill = 1e-5;  // of the greatest speed

std::string edge_name(const Joint& joint, const JointMovement& m) {
  const Vec3 away = m.hinge - m.middle;
  const double up = away.dot(joint.frame.y), side = away.dot(joint.frame.x);
  if (std::abs(joint.frame.y.z()) > 0.05) {
    if (std::abs(up) >= std::abs(side)) return up > 0 ? "extrados edge" : "intrados edge";
    return side > 0 ? "right edge" : "left edge";
  }
  // A level joint has no upper edge: say which way the hinge lies.
  const std::array<const char*, 4> ways = {"+x edge", "-x edge", "+y edge", "-y edge"};
  const std::size_t axis = std::abs(away.x()) >= std::abs(away.y()) ? 0 : 1;
  return ways[2 * axis + (away[static_cast<Eigen::Index>(axis)] > 0 ? 0 : 1)];
}

std::string joint_name(const Assembly& assembly, const Joint& joint) {
  return assembly.blocks[static_cast<std::size_t>(joint.a)].id + "/" +
         assembly.blocks[static_cast<std::size_t>(joint.b)].id;
}

std::string listed(const std::string& singular, const std::vector<std::string>& parts) {
  if (parts.empty()) return "";
  static constexpr std::array<const char*, 7> kCount = {"no",   "one",  "two", "three",
                                                        "four", "five", "six"};
  const std::string count =
      parts.size() < kCount.size() ? kCount[parts.size()] : std::to_string(parts.size());
  std::string text = count + " " + singular + (parts.size() > 1 ? "s: " : ": ");
  constexpr std::size_t kMost = 6;
  for (std::size_t i = 0; i < std::min(parts.size(), kMost); ++i) {
    text += (i > 0 ? ", " : "") + parts[i];
  }
  if (parts.size() > kMost) text += " and " + std::to_string(parts.size() - kMost) + " more";
  return text;
}

}  // namespace

std::string in_words(const Assembly& assembly, const Mechanism& mechanism) {
  std::vector<std::string> hinges, slides, partings;
  for (const JointMovement& m : joint_movements(assembly, mechanism)) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(m.joint)];
    const std::string name = joint_name(assembly, joint);
    if (m.movement == Movement::kHinge) {
      hinges.push_back("at the " + edge_name(joint, m) + " of joint " + name);
    }
    if (m.movement == Movement::kSlide) slides.push_back("at joint " + name);
    if (m.movement == Movement::kPart) partings.push_back("at joint " + name);
  }
  std::vector<char> touched(assembly.blocks.size(), 0);
  for (const Joint& joint : assembly.joints) {
    touched[static_cast<std::size_t>(joint.a)] = touched[static_cast<std::size_t>(joint.b)] = 1;
  }
  std::vector<std::string> loose;
  for (std::size_t i = 0; i < touched.size(); ++i) {
    const BlockVelocity& moves = mechanism.blocks[i];
    if (touched[i] == 0 && moves.v.norm() + moves.w.norm() > kStill) {
      loose.push_back(assembly.blocks[i].id);
    }
  }
  std::string text;
  for (const std::string& part : {listed("loose block", loose), listed("hinge", hinges),
                                  listed("slide", slides), listed("parting", partings)}) {
    if (!part.empty()) text += (text.empty() ? "" : "; ") + part;
  }
  return text.empty() ? "every moving block moves away from its supports" : text;
}

}  // namespace skewback
