#include "stand/envelope.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.hpp"

namespace skewback {
namespace {

struct Course {
  int arm = -1, course = 0;
  std::vector<std::size_t> joints;
};

std::vector<Course> courses_of(const Assembly& assembly) {
  std::map<std::pair<int, int>, Course> found;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const BlockPlace &a = assembly.blocks[static_cast<std::size_t>(assembly.joints[j].a)].place,
                     &b = assembly.blocks[static_cast<std::size_t>(assembly.joints[j].b)].place;
    const bool lower = a.course < b.course;
    const BlockPlace &low = lower ? a : b, &high = lower ? b : a;
    const bool onward = low.arm >= 0 && (high.arm == low.arm || high.crown);
    if (!onward || low.crown || low.course == high.course) continue;
    Course& course = found[{low.arm, low.course}];
    course.arm = low.arm;
    course.course = low.course;
    course.joints.push_back(j);
  }
  std::vector<Course> out;
  for (auto& [key, course] : found) out.push_back(std::move(course));
  return out;
}

void widen(Extreme& extreme, double value, int i) {
  if (extreme.case_least < 0 || value < extreme.least)
    extreme.least = value, extreme.case_least = i;
  if (extreme.case_greatest < 0 || value > extreme.greatest)
    extreme.greatest = value, extreme.case_greatest = i;
}

/// Middle of a joint's depth and half of it, along the frame's y.
std::pair<double, double> depth_range(const Joint& joint) {
  double low = 1e300, high = -1e300;
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      low = std::min(low, p.y());
      high = std::max(high, p.y());
    }
  }
  return {(low + high) / 2, (high - low) / 2};
}

void add_case(const Assembly& assembly, const std::vector<JointResultant>& resultants, int i,
              const Course& course, CourseEnvelope& out) {
  // Joints of a course lie in one plane: forces and moments are summed about the first one's origin
  const Joint& first = assembly.joints[course.joints.front()];
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
  for (const std::size_t j : course.joints) {
    const Joint& joint = assembly.joints[j];
    const double sign = joint.frame.z.dot(first.frame.z) < 0 ? -1 : 1;
    const Vec3 lever = joint.frame.origin - first.frame.origin;
    force += sign * resultants[j].force;
    moment += sign * (resultants[j].moment + lever.cross(resultants[j].force));
  }
  const double normal = force.dot(first.frame.z);
  if (!(normal > 0)) return;
  const auto [middle, half] = depth_range(first);
  widen(out.normal_n, normal, i);
  widen(out.place, (moment.dot(first.frame.x) / normal - middle) / half, i);
  const double angle = std::atan2((force - normal * first.frame.z).norm(), normal) * 180 / kPi;
  if (out.case_angle < 0 || angle > out.angle_deg) out.angle_deg = angle, out.case_angle = i;
}

}  // namespace

std::vector<CourseEnvelope> envelopes(const Assembly& assembly,
                                      const std::vector<CaseProof>& proofs) {
  const std::vector<Course> courses = courses_of(assembly);
  std::vector<CourseEnvelope> out;
  for (const Course& course : courses) {
    CourseEnvelope envelope;
    envelope.arm = course.arm;
    envelope.course = course.course;
    for (const std::size_t j : course.joints) {
      const Joint& joint = assembly.joints[j];
      envelope.depth_m = std::max(envelope.depth_m, 2 * depth_range(joint).second);
      const BlockPlace &a = assembly.blocks[static_cast<std::size_t>(joint.a)].place,
                       &b = assembly.blocks[static_cast<std::size_t>(joint.b)].place;
      const BlockPlace& low = a.course < b.course ? a : b;
      envelope.phi_m +=
          (low.phi_m + low.phi_length_max_m / 2) / static_cast<double>(course.joints.size());
    }
    out.push_back(envelope);
  }
  for (std::size_t i = 0; i < proofs.size(); ++i) {
    if (!proofs[i].pads || !proofs[i].pads->found) continue;
    const auto resultants = joint_resultants(assembly, proofs[i].pads->forces);
    for (std::size_t k = 0; k < courses.size(); ++k) {
      add_case(assembly, resultants, static_cast<int>(i), courses[k], out[k]);
    }
  }
  return out;
}

}  // namespace skewback
