#include <algorithm>

#include "deliver/elevations.hpp"
#include "deliver/facts.hpp"
#include "lodge/arrays.hpp"
#include "lodge/joint_names.hpp"
#include "lodge/views.hpp"
#include "works/required_site.hpp"

namespace skewback::lodge {
namespace {

const PadState* pads_of(const CaseProof& proof) {
  return proof.pads && proof.pads->found ? &*proof.pads : nullptr;
}

const Mechanism* mechanism_of(const CaseProof& proof) {
  if (const auto* falls = std::get_if<Mechanism>(&proof.evidence)) return falls;
  return proof.limit_mechanism ? &*proof.limit_mechanism : nullptr;
}

/// What is known of each joint's force; in the order of the assembly.
struct Carried {
  std::vector<JointResultant> resultants;
  std::vector<std::optional<Vec3>> thrust;  // where it goes through the joint
  std::vector<std::optional<LinearPressure>> pressure;
};

Carried carried(const Assembly& assembly, const Forces& forces) {
  Carried out;
  out.resultants = joint_resultants(assembly, forces);
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const auto at = deliver::pressure_point(joint, out.resultants[j]);
    out.thrust.push_back(at);
    out.pressure.emplace_back();
    if (!at) continue;
    const Vec2 p = joint.frame.to_local(*at).head<2>();
    out.pressure.back() =
        linear_pressure(joint.contact, out.resultants[j].force.dot(joint.frame.z), p);
  }
  return out;
}

double friction_used(const Joint& joint, const Vec3& force) {
  const double n = force.dot(joint.frame.z);
  return n > 0 ? (force - n * joint.frame.z).norm() / n : kNone;
}

void add_joint_forces(const Assembly& assembly, const std::optional<Carried>& known, Sheaf& sheaf) {
  std::vector<float> force, thrust, pressure, used;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    put(force, known ? std::optional(known->resultants[j].force) : std::nullopt);
    put(thrust, known ? known->thrust[j] : std::nullopt);
    const bool presses = known && known->pressure[j];
    put(pressure, presses ? std::optional(known->pressure[j]->plane) : std::nullopt);
    used.push_back(
        known ? static_cast<float>(friction_used(assembly.joints[j], known->resultants[j].force))
              : kNone);
  }
  sheaf.add("force", std::move(force), 3);
  sheaf.add("thrust_at", std::move(thrust), 3);
  sheaf.add("pressure", std::move(pressure), 3);
  sheaf.add("friction_used", std::move(used));
}

void add_joint_states(const Assembly& assembly, const PadState* pads, Sheaf& sheaf) {
  std::vector<float> peak, opening, closed, slipping;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const JointPad* pad = pads != nullptr ? &pads->joints[j] : nullptr;
    peak.push_back(pad != nullptr ? static_cast<float>(pad->peak_pa) : kNone);
    opening.push_back(pad != nullptr ? static_cast<float>(pad->opening_max_m) : kNone);
    closed.push_back(pad != nullptr ? static_cast<float>(pad->closed_share) : kNone);
    slipping.push_back(pad != nullptr ? static_cast<float>(pad->slipping_share) : kNone);
  }
  sheaf.add("peak_pa", std::move(peak));
  sheaf.add("opening_m", std::move(opening));
  sheaf.add("closed_share", std::move(closed));
  sheaf.add("slipping", std::move(slipping));
}

/// Pressure of the pads at the points where they press: the linear pressure of their forces, which
/// is what rigid faces on springs have.
void add_pad_points(const Assembly& assembly, const std::optional<Carried>& known,
                    const PadState* pads, Sheaf& sheaf) {
  std::vector<float> at, pressure;
  std::vector<std::uint32_t> of;
  if (pads != nullptr && known) {
    for (const ContactForce& contact : pads->forces.contacts) {
      const auto j = static_cast<std::size_t>(contact.joint);
      if (!known->pressure[j]) continue;
      const Vec3 p = assembly.joints[j].frame.to_local(contact.point);
      put(at, contact.point);
      pressure.push_back(
          static_cast<float>(std::max(0.0, known->pressure[j]->plane.dot(Vec3(1, p.x(), p.y())))));
      of.push_back(static_cast<std::uint32_t>(j));
    }
  }
  sheaf.add("pad_at", std::move(at), 3);
  sheaf.add("pad_pa", std::move(pressure));
  sheaf.add("pad_joint", std::move(of));
}

void add_moves(const std::string& name, const std::vector<BlockVelocity>& blocks, Sheaf& sheaf) {
  std::vector<float> moves;
  for (const BlockVelocity& b : blocks) {
    put(moves, b.v);
    put(moves, b.w);
  }
  sheaf.add(name, std::move(moves), 6);
}

/// On the bridge, per fixed block: the sum over its joints, at the middle of where they press.
Json reactions_json(const Assembly& assembly, const std::optional<Carried>& known) {
  Json out = Json::array();
  if (!known) return out;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (!assembly.blocks[b].fixed) continue;
    Vec3 sum = Vec3::Zero(), at = Vec3::Zero();
    double weights = 0;
    for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
      const Joint& joint = assembly.joints[j];
      const bool below = joint.a == static_cast<int>(b), above = joint.b == static_cast<int>(b);
      if (!below && !above) continue;
      const Vec3 force = below ? known->resultants[j].force : Vec3(-known->resultants[j].force);
      const double weight = known->thrust[j] ? force.norm() : 0;
      sum += force;
      if (weight > 0) at += weight * *known->thrust[j];
      weights += weight;
    }
    if (!(weights > 0)) continue;
    out.push_back({{"support", assembly.blocks[b].id},
                   {"arm", assembly.blocks[b].place.arm},
                   {"at", json(Vec3(at / weights))},
                   {"force", json(sum)}});
  }
  return out;
}

Json joint_or_null(const Assembly& assembly, int joint) {
  const std::string id = joint_id(assembly, joint);
  return id.empty() ? Json(nullptr) : Json(id);
}

Json verdict_json(const CaseProof& proof, const std::string& words) {
  return {{"id", proof.id},
          {"verdict", word(proof.verdict)},
          {"load_factor", json(live_factor_of(proof))},
          {"at_cap", factor_at_cap(proof)},
          {"words", words}};
}

std::string words_of(const Dossier& dossier, std::size_t i) {
  return i < dossier.notes.size() ? dossier.notes[i].words : dossier.proofs[i].id;
}

}  // namespace

Sheaf proof_sheaf(const Assembly& assembly, const LoadCase& load, const CaseProof& proof) {
  const PadState* pads = pads_of(proof);
  const Mechanism* mechanism = mechanism_of(proof);
  std::optional<Carried> known;
  if (pads != nullptr) known = carried(assembly, pads->forces);  // never those of view 1
  Sheaf sheaf;
  sheaf.head = {{"view", "proof"},
                {"case", load.id},
                {"words", load.id},
                {"verdict", word(proof.verdict)},
                {"reason", proof.reason},
                {"load_factor", json(live_factor_of(proof))},
                {"at_cap", factor_at_cap(proof)},
                {"friction_needed", json(proof.friction_needed)},
                {"governing_joint", joint_or_null(assembly, proof.governing_joint)},
                {"residual_rel", proof.residual_rel},
                {"peak_pa", json(proof.joint_stress_max_pa)},
                {"peak_joint", joint_or_null(assembly, pads != nullptr ? pads->peak_joint : -1)},
                {"flattening", json(proof.flattening)},
                {"mechanism_words", mechanism != nullptr ? in_words(assembly, *mechanism) : ""},
                {"mechanism_factor", mechanism != nullptr ? Json(mechanism->load_factor) : Json()},
                {"views", proof.views},
                {"reactions", reactions_json(assembly, known)},
                {"verdicts", Json::array({verdict_json(proof, load.id)})}};
  add_joint_forces(assembly, known, sheaf);
  add_joint_states(assembly, pads, sheaf);
  add_pad_points(assembly, known, pads, sheaf);
  if (pads != nullptr) add_moves("move", pads->moves, sheaf);
  if (mechanism != nullptr) add_moves("mechanism", mechanism->blocks, sheaf);
  return sheaf;
}

std::optional<Sheaf> proof_view(const Dossier& dossier, const std::string& id) {
  const Assembly* assembly = deliver::assembly_of(dossier);
  if (assembly == nullptr || dossier.proofs.empty()) return std::nullopt;
  const auto found =
      id.empty() ? dossier.proofs.begin() : std::ranges::find(dossier.proofs, id, &CaseProof::id);
  if (found == dossier.proofs.end()) return std::nullopt;
  const auto load = std::ranges::find(assembly->cases, found->id, &LoadCase::id);
  if (load == assembly->cases.end()) return std::nullopt;
  Sheaf sheaf = proof_sheaf(*assembly, *load, *found);
  sheaf.head["words"] = words_of(dossier, static_cast<std::size_t>(found - dossier.proofs.begin()));
  Json verdicts = Json::array();
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i)
    verdicts.push_back(verdict_json(dossier.proofs[i], words_of(dossier, i)));
  sheaf.head["verdicts"] = std::move(verdicts);
  for (Json& reaction : sheaf.head["reactions"]) {
    const int arm = reaction["arm"].get<int>();
    const auto& supports = dossier.brief.plan.supports;
    if (arm >= 0 && arm < static_cast<int>(supports.size()))
      reaction["support"] = supports[static_cast<std::size_t>(arm)].id;
  }
  return sheaf;
}

}  // namespace skewback::lodge
