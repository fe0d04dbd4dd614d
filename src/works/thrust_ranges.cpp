#include "works/thrust_ranges.hpp"

#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "ground/reactions.hpp"

namespace skewback {
namespace {

/// The joints of a springing with the way in which they push it outward.
std::vector<JointDirection> outward(const Assembly& assembly, int block, const Support& line) {
  const Vec2 along = (line.b - line.a).normalized();
  const Vec3 out(along.y(), -along.x(), 0);
  std::vector<JointDirection> joints;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.a != block && joint.b != block) continue;
    joints.push_back({static_cast<int>(j), joint.b == block ? out : Vec3(-out)});
  }
  return joints;
}

std::optional<double> by_pads(const CaseProof& proof, const std::vector<JointDirection>& along) {
  if (!proof.pads || !proof.pads->found) return std::nullopt;
  double sum = 0;
  for (const ContactForce& c : proof.pads->forces.contacts)
    for (const JointDirection& joint : along)
      if (joint.joint == c.joint) sum += c.force.dot(joint.direction);
  return sum;
}

}  // namespace

void find_thrust_ranges(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  const auto& supports = dossier.brief.plan.supports;
  const std::vector<int> blocks = ground_blocks(dossier.brief, assembly);
  std::vector<SpringingThrust>& out = dossier.ground->thrusts;
  std::vector<std::pair<std::size_t, std::size_t>> asked;  // support, case
  for (std::size_t s = 0; s < supports.size(); ++s)
    for (std::size_t i = 0; i < dossier.proofs.size(); ++i)
      if (blocks[s] >= 0 && (dossier.proofs[i].id == "dead" || dossier.proofs[i].id == "full"))
        asked.emplace_back(s, i);
  out.resize(asked.size());
  progress.checkpoint("ground: range of thrust", 0);
  for_each_index(asked.size(), [&](std::size_t k) {
    const auto [s, i] = asked[k];
    const std::vector<JointDirection> along = outward(assembly, blocks[s], supports[s]);
    const LoadCase& load = assembly.cases[i];
    SpringingThrust& thrust = out[k];
    thrust.id = supports[s].id;
    thrust.case_id = load.id;
    thrust.pads_n = by_pads(dossier.proofs[i], along);
    if (const auto range =
            thrust_range(assembly, load, load.has_live() ? 1 : 0, along, dossier.stand_options)) {
      thrust.least_n = range->least;
      if (std::isfinite(range->greatest)) thrust.greatest_n = range->greatest;
    }
  });
}

}  // namespace skewback
