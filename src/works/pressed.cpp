#include "works/pressed.hpp"

#include "works/required_site.hpp"

namespace skewback {

Pressed most_pressed(const Dossier& dossier) {
  Pressed most;
  const std::vector<Joint>& joints = dossier.cut->assembly.joints;
  for (const CaseProof& proof : dossier.proofs) {
    if (!proof.pads || !proof.pads->found) continue;
    for (std::size_t j = 0; j < proof.pads->joints.size(); ++j) {
      const double peak = proof.pads->joints[j].peak_pa;
      if (!(peak > 0)) continue;
      const double limit = joint_limit(dossier.brief, joints[j]);
      if (most.in == nullptr || limit / peak < most.reserve())
        most = {static_cast<int>(j), &proof, peak, limit};
    }
  }
  return most;
}

}  // namespace skewback
