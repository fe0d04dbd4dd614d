#include "works/joint_angles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kBearingShare =
    0.1;  // of the greatest force across a course; less is a light joint

/// Angle between the normal of each joint plane and the force across all of it, by courses: how it
/// is shared among blocks side by side, and what their head joints carry, is not settled by
/// statics.
struct CourseAngle {
  double angle_deg = 0, force_n = 0;
  std::size_t joint = 0;  // one of those in the plane
};
std::vector<CourseAngle> course_angles(const Assembly& assembly,
                                       const std::vector<JointResultant>& resultants) {
  struct Across {
    Vec3 force = Vec3::Zero(), normal = Vec3::Zero();
    std::size_t joint = 0;
  };
  std::map<std::array<int, 4>, Across> planes;
  for (std::size_t j = 0; j < resultants.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const BlockPlace &a = assembly.blocks[static_cast<std::size_t>(joint.a)].place,
                     &b = assembly.blocks[static_cast<std::size_t>(joint.b)].place;
    if (a.arm == b.arm && a.course == b.course) continue;
    // along a wall between arms every course has a neighbour of its own
    const bool wall = a.crown && b.crown && a.arm != b.arm && a.arm >= 0 && b.arm >= 0;
    auto& [force, normal, one] = planes[{a.arm, wall ? -1 : a.course, b.arm, wall ? -1 : b.course}];
    force += resultants[j].force;
    normal = joint.frame.z;
    one = j;
  }
  std::vector<CourseAngle> angles;
  for (const auto& [key, plane] : planes) {
    const auto& [force, normal, one] = plane;
    if (!(force.norm() > 0)) continue;
    angles.push_back(
        {std::atan2(force.cross(normal).norm(), force.dot(normal)) * 180 / kPi, force.norm(), one});
  }
  return angles;
}

}  // namespace

std::optional<JointAngles> joint_angles(const Dossier& dossier, std::size_t load_case) {
  const auto& pads = dossier.proofs[load_case].pads;
  if (!pads || !pads->found) return std::nullopt;
  const Assembly& assembly = dossier.cut->assembly;
  const std::vector<CourseAngle> courses =
      course_angles(assembly, joint_resultants(assembly, pads->forces));
  double greatest = 0;
  for (const CourseAngle& course : courses) greatest = std::max(greatest, course.force_n);
  JointAngles out;
  std::vector<double> angles;
  for (const CourseAngle& course : courses) {
    if (course.force_n >= kBearingShare * greatest) {
      angles.push_back(course.angle_deg);
      if (course.angle_deg < out.greatest_deg) continue;
      out.greatest_deg = course.angle_deg;
      const Joint& joint = assembly.joints[course.joint];
      out.greatest_at = assembly.blocks[static_cast<std::size_t>(joint.a)].id + " and " +
                        assembly.blocks[static_cast<std::size_t>(joint.b)].id;
    } else {
      out.light_deg = std::max(out.light_deg, course.angle_deg);
    }
  }
  if (angles.empty()) return std::nullopt;
  std::sort(angles.begin(), angles.end());
  out.median_deg = (angles[(angles.size() - 1) / 2] + angles[angles.size() / 2]) / 2;
  return out;
}

void judge_angles(Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    const auto& pads = dossier.proofs[i].pads;
    if (assembly.cases[i].has_live() || !pads || !pads->found) continue;
    dossier.dead_resultants = joint_resultants(assembly, pads->forces);
    const std::optional<JointAngles> angles = joint_angles(dossier, i);
    if (!angles) return;
    dossier.joint_angle_median_deg = angles->median_deg;
    dossier.joint_angle_max_deg = angles->greatest_deg;
    dossier.joint_angle_max_at = angles->greatest_at;
    dossier.joint_angle_light_deg = angles->light_deg;
    return;
  }
}

}  // namespace skewback
