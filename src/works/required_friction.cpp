#include <algorithm>
#include <cstdio>

#include "assembly/pad_rules.hpp"
#include "deliver/facts.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

/// Where pads under their peak pressure grip less than the brief says, by the code's formula.
std::string pads_grip(const Dossier& dossier) {
  const JointRequest& joints = dossier.brief.joints;
  if (!(joints.pad_thickness_m > 0) || !(joints.pad_shear_modulus_pa > 0)) return "";
  double peak = 0;
  for (const CaseProof& proof : dossier.proofs) {
    if (!proof.pads || !proof.pads->found) continue;
    for (const auto& joint : proof.pads->joints) peak = std::max(peak, joint.peak_pa);
  }
  const double grip = pad_friction(peak);
  if (grip >= joints.friction) return "";
  char text[160];
  std::snprintf(text, sizeof text,
                "; EN 1337-3 5.3.3.6 (from memory) gives elastomer on concrete %.2f at the peak of "
                "%.1f MPa, the brief has %.2f",
                grip, peak / 1e6, joints.friction);
  return text;
}

/// The least that holds is not what the joints come to use: that of the pads' states, of joints
/// that carry a tenth of the greatest force or more (head joints slip without harm).
std::string friction_in_use(const Dossier& dossier) {
  constexpr double kCarries = 0.1;
  double most = 0;
  std::string where;
  for (const CaseProof& proof : dossier.proofs) {
    if (!dossier.cut || !proof.pads || !proof.pads->found) continue;
    const auto& joints = proof.pads->joints;
    double force = 0;
    for (const JointPad& joint : joints) force = std::max(force, joint.normal_n);
    for (std::size_t j = 0; j < joints.size(); ++j) {
      if (!(joints[j].normal_n > 0) || joints[j].normal_n < kCarries * force) continue;
      const double used = joints[j].shear_n / joints[j].normal_n;
      if (used <= most) continue;
      most = used;
      where =
          deliver::joint_name(dossier.cut->assembly, static_cast<int>(j)) + ", case " + proof.id;
    }
  }
  if (where.empty()) return "";
  char text[120];
  std::snprintf(text, sizeof text, "; in the states of the pads %.2f of %.2f is in use, ", most,
                dossier.brief.joints.friction);
  return text + where;
}

}  // namespace

RequiredCheck required_friction(const Dossier& dossier) {
  RequiredCheck check =
      at_least("friction_reserve", dossier.brief.required.friction_reserve,
               "required.friction_reserve of the brief: friction of the joints over the least "
               "that holds, every case as it is");
  bool all = !dossier.proofs.empty();
  if (all && std::ranges::all_of(dossier.proofs, [](const CaseProof& proof) {
        return proof.verdict == Verdict::kStands && !proof.friction_needed;
      })) {
    check.note = "the least friction was not sought yet";
    return check;
  }
  for (const CaseProof& proof : dossier.proofs) {
    if (!proof.friction_needed) {
      all = false;
      check.note = "not known for case " + proof.id;
      continue;
    }
    const double reserve = dossier.brief.joints.friction / *proof.friction_needed;
    if (check.value && reserve >= *check.value) continue;
    check.value = reserve;
    if (all) check.note = "least in case " + proof.id;
  }
  check.passes = all && check.value && *check.value >= check.limit;
  check.note += friction_in_use(dossier) + pads_grip(dossier);
  return check;
}

}  // namespace skewback
