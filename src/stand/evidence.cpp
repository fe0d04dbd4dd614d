#include <nlohmann/json.hpp>

#include "stand/evidence_points.hpp"
#include "stand/program.hpp"
#include "stand/stand.hpp"

namespace skewback {

namespace {

using Json = nlohmann::ordered_json;  // numbers are written so that they read back bit for bit

Json json(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }

const std::string& id_of(const Assembly& assembly, int block) {
  return assembly.blocks[static_cast<std::size_t>(block)].id;
}

Json present_ids(const Assembly& assembly, const StandOptions& options) {
  if (options.present.empty()) return nullptr;
  Json ids = Json::array();
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (is_present(options, static_cast<int>(i))) ids.push_back(assembly.blocks[i].id);
  }
  return ids;
}

/// What the blocks carry, where that differs from the assembly's file.
Json carried(const Assembly& assembly, const StandOptions& options) {
  Json all = Json::array();
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!is_present(options, static_cast<int>(i))) continue;
    for (const CarriedMass& mass : assembly.blocks[i].carried) {
      all.push_back(
          {{"block", assembly.blocks[i].id}, {"mass", mass.mass_kg}, {"point", json(mass.point)}});
    }
  }
  return all;
}

Json head(const Assembly& assembly, const LoadCase& load, const StandOptions& options) {
  Json props = Json::array();
  for (const Prop& prop : options.props) {
    props.push_back({{"block", id_of(assembly, prop.block)},
                     {"point", json(prop.point)},
                     {"direction", json(prop.direction)},
                     {"friction", prop.friction}});
  }
  Json out;
  out["case"] = load.id;
  out["kind"] = "none";
  out["load_factor"] = nullptr;
  out["present"] = present_ids(assembly, options);
  out["friction"] = options.friction ? Json(*options.friction) : Json(nullptr);
  out["props"] = props;
  if (options.own_carried) out["carried"] = carried(assembly, options);
  return out;
}

/// Forces of one joint after the other go together.
Json contacts_of(const Assembly& assembly, const Forces& forces, EvidencePoints* shared) {
  Json contacts = Json::array();
  int last = -1;
  for (const ContactForce& c : forces.contacts) {
    if (c.joint != last) {
      const Joint& joint = assembly.joints[static_cast<std::size_t>(c.joint)];
      contacts.push_back({{"a", id_of(assembly, joint.a)},
                          {"b", id_of(assembly, joint.b)},
                          {"points", Json::array()},
                          {"forces", Json::array()}});
      last = c.joint;
    }
    contacts.back()["points"].push_back(shared != nullptr ? Json(shared->index_of(c.point))
                                                          : json(c.point));
    contacts.back()["forces"].push_back(json(c.force));
  }
  return contacts;
}

void add(const Assembly& assembly, const Forces& forces, EvidencePoints* shared, Json& out) {
  out["kind"] = "forces";
  out["load_factor"] = forces.load_factor;
  Json props = Json::array();
  for (const PropForce& p : forces.props) {
    props.push_back({{"prop", p.prop}, {"force", json(p.force)}});
  }
  out["contacts"] = contacts_of(assembly, forces, shared);
  out["prop_forces"] = props;
}

void add(const Assembly& assembly, const Mechanism& mechanism, Json& out) {
  out["kind"] = "mechanism";
  out["load_factor"] = mechanism.load_factor;
  Json blocks = Json::array();
  for (std::size_t i = 0; i < mechanism.blocks.size(); ++i) {
    blocks.push_back({{"id", assembly.blocks[i].id},
                      {"v", json(mechanism.blocks[i].v)},
                      {"w", json(mechanism.blocks[i].w)}});
  }
  out["blocks"] = blocks;
  out["work"] = mechanism.work;
}

/// One line to a joint.
std::string text_of(Json& out) {
  static const std::string kHere = "\"contacts here\"";
  Json contacts = Json::array();
  if (out.contains("contacts")) {
    contacts = out["contacts"];
    out["contacts"] = "contacts here";
  }
  std::string text = out.dump(1) + "\n", lines;
  const std::size_t at = text.find(kHere);
  if (at == std::string::npos) return text;
  for (const Json& contact : contacts) {
    lines += (lines.empty() ? "\n  " : ",\n  ") + contact.dump();
  }
  return text.replace(at, kHere.size(), "[" + lines + "]");
}

}  // namespace

std::string write_evidence(const Assembly& assembly, const LoadCase& load, const CaseProof& proof,
                           const StandOptions& options, EvidencePoints* shared) {
  Json out = head(assembly, load, options);
  if (const auto* forces = std::get_if<Forces>(&proof.evidence)) {
    add(assembly, *forces, shared, out);
  }
  if (const auto* mechanism = std::get_if<Mechanism>(&proof.evidence)) {
    add(assembly, *mechanism, out);
  }
  return text_of(out);
}

std::string write_evidence(const Assembly& assembly, const LoadCase& load, const PadState& state,
                           const StandOptions& options, EvidencePoints* shared) {
  Json out = head(assembly, load, options);
  if (state.found) add(assembly, state.forces, shared, out);
  return text_of(out);
}

int EvidencePoints::index_of(const Vec3& p) {
  const auto [at, is_new] =
      index_.emplace(std::array{p.x(), p.y(), p.z()}, static_cast<int>(all_.size()));
  if (is_new) all_.push_back(p);
  return at->second;
}

std::string EvidencePoints::json() const {
  std::string text = "[";
  for (const Vec3& p : all_) {
    text += (text.size() > 1 ? ",\n " : "\n ") + Json::array({p.x(), p.y(), p.z()}).dump();
  }
  return text + "\n]\n";
}

}  // namespace skewback
