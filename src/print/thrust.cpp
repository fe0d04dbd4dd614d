#include "print/thrust.hpp"

#include <cmath>

namespace skewback {

std::vector<CaseJointForces> joint_forces(const Assembly& assembly,
                                          const std::vector<CaseProof>& proofs) {
  std::vector<CaseJointForces> out;
  for (const CaseProof& proof : proofs) {
    const Forces* forces = proof.pads && proof.pads->found ? &proof.pads->forces
                                                           : std::get_if<Forces>(&proof.evidence);
    if (forces == nullptr) continue;
    CaseJointForces sum{proof.id, std::vector<Vec3>(assembly.joints.size(), Vec3::Zero())};
    for (const ContactForce& contact : forces->contacts)
      sum.on_b[static_cast<std::size_t>(contact.joint)] += contact.force;
    out.push_back(std::move(sum));
  }
  return out;
}

NormalToThrust normal_to_thrust(const Assembly& assembly, int block, const std::vector<int>& low,
                                const std::vector<int>& high, const Vec3& normal,
                                const std::vector<CaseJointForces>& forces) {
  NormalToThrust out;
  const auto on_block = [&](const CaseJointForces& f, int joint) -> Vec3 {
    const auto j = static_cast<std::size_t>(joint);
    return assembly.joints[j].b == block ? f.on_b[j] : Vec3(-f.on_b[j]);
  };
  for (const CaseJointForces& f : forces) {
    Vec3 thrust = Vec3::Zero();
    for (const int joint : low) thrust += on_block(f, joint);
    for (const int joint : high) thrust -= on_block(f, joint);
    if (thrust.norm() < 1e-6) continue;
    const double angle = std::atan2(thrust.cross(normal).norm(), thrust.dot(normal));
    if (f.case_id == "dead") out.dead_rad = angle;
    if (angle > out.greatest_rad) out.greatest_rad = angle, out.greatest_case = f.case_id;
  }
  return out;
}

}  // namespace skewback
