#include "ground/reactions.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace skewback {

Vec3 springing_middle(const Support& support) {
  const Vec2 middle = (support.a + support.b) / 2;
  return {middle.x(), middle.y(), support.level_m};
}

std::vector<int> ground_blocks(const Brief& brief, const Assembly& assembly) {
  std::vector<int> out(brief.plan.supports.size(), -1);
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    const Block& block = assembly.blocks[i];
    const bool known = block.place.arm >= 0 && block.place.arm < static_cast<int>(out.size());
    if (block.fixed && known) out[block.place.arm] = i;
  }
  return out;
}

std::vector<SupportReaction> reactions(const Brief& brief, const Assembly& assembly,
                                       const std::vector<int>& ground, const Forces& forces) {
  const auto is_ground = [&](int block) {
    return std::ranges::find(ground, block) != ground.end();
  };
  std::vector<SupportReaction> out;
  for (std::size_t s = 0; s < brief.plan.supports.size(); ++s) {
    SupportReaction reaction;
    reaction.id = brief.plan.supports[s].id;
    reaction.point = springing_middle(brief.plan.supports[s]);
    for (const ContactForce& contact : forces.contacts) {
      const Joint& joint = assembly.joints[contact.joint];
      if (ground[s] < 0 || (joint.a != ground[s] && joint.b != ground[s])) continue;
      if (is_ground(joint.a) && is_ground(joint.b)) continue;
      const Vec3 force = joint.a == ground[s] ? contact.force : Vec3(-contact.force);
      reaction.force += force;
      reaction.moment += (contact.point - reaction.point).cross(force);
    }
    reaction.thrust_n = reaction.force.head<2>().norm();
    out.push_back(reaction);
  }
  return out;
}

std::vector<SupportReaction> mixed(const std::vector<SupportReaction>& a,
                                   const std::vector<SupportReaction>& b, double share) {
  std::vector<SupportReaction> out = a;
  for (std::size_t s = 0; s < out.size(); ++s) {
    out[s].force = (1 - share) * a[s].force + share * b[s].force;
    out[s].moment = (1 - share) * a[s].moment + share * b[s].moment;
    out[s].thrust_n = out[s].force.head<2>().norm();
  }
  return out;
}

std::vector<SupportReaction> at_factor_one(const Brief& brief, const Assembly& assembly,
                                           const std::vector<int>& ground, const LoadCase& load,
                                           const CaseProof& proof, const CaseProof* dead) {
  if (proof.pads && proof.pads->found) {
    return reactions(brief, assembly, ground, proof.pads->forces);
  }
  const auto* forces = std::get_if<Forces>(&proof.evidence);
  if (forces == nullptr) return {};
  const auto own = reactions(brief, assembly, ground, *forces);
  if (!load.has_live() || std::abs(forces->load_factor - 1) < 1e-9) return own;
  const auto* dead_forces = dead == nullptr ? nullptr : std::get_if<Forces>(&dead->evidence);
  if (dead_forces == nullptr || forces->load_factor < 1) return {};
  return mixed(reactions(brief, assembly, ground, *dead_forces), own, 1 / forces->load_factor);
}

}  // namespace skewback
