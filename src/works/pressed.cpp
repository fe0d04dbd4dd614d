#include "works/pressed.hpp"

#include "works/required_site.hpp"

namespace skewback {

Pressed most_pressed(const Dossier& dossier, const CaseProof& proof) {
  Pressed most;
  if (!proof.pads || !proof.pads->found) return most;
  for (std::size_t j = 0; j < proof.pads->joints.size(); ++j) {
    const double peak = proof.pads->joints[j].peak_pa;
    if (!(peak > 0)) continue;
    const double limit = joint_limit(dossier.brief, dossier.cut->assembly.joints[j]);
    if (limit / peak < most.reserve()) most = {static_cast<int>(j), &proof, peak, limit};
  }
  return most;
}

Pressed most_pressed(const Dossier& dossier) {
  Pressed most;
  for (const CaseProof& proof : dossier.proofs)
    if (const Pressed one = most_pressed(dossier, proof); one.reserve() < most.reserve())
      most = one;
  return most;
}

std::string place_of(const Dossier& dossier, const Pressed& pressed) {
  const Assembly& assembly = dossier.cut->assembly;
  const Joint& joint = assembly.joints[static_cast<std::size_t>(pressed.joint)];
  const auto id = [&](int b) { return assembly.blocks[static_cast<std::size_t>(b)].id; };
  return "case " + pressed.in->id + ", joint " + id(joint.a) + " | " + id(joint.b);
}

}  // namespace skewback
