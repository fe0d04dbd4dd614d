#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "assembly/assembly.hpp"

namespace skewback {
namespace {

using Json = nlohmann::ordered_json;

double finite(double x, const char* what) {
  if (!std::isfinite(x)) {
    throw std::invalid_argument(std::string("write_assembly: ") + what + " is not a finite number");
  }
  return x;
}

Json vec3(const Vec3& p, const char* what) {
  return Json::array({finite(p.x(), what), finite(p.y(), what), finite(p.z(), what)});
}

Json place_json(const BlockPlace& place) {
  return {{"arm", place.arm},
          {"course", place.course},
          {"place", place.place},
          {"crown", place.crown},
          {"phi", finite(place.phi_m, "phi of a block")},
          {"phi_length_min", finite(place.phi_length_min_m, "phi of a block")},
          {"phi_length_max", finite(place.phi_length_max_m, "phi of a block")}};
}

Json block_json(const Block& block) {
  Json j = {{"id", block.id}};
  j["density"] = finite(block.density, "density");
  j["fixed"] = block.fixed;
  if (!block.carried.empty()) {
    Json list = Json::array();
    for (const CarriedMass& c : block.carried) {
      list.push_back(
          {{"mass", finite(c.mass_kg, "carried mass")}, {"point", vec3(c.point, "carried mass")}});
    }
    j["carried"] = std::move(list);
  }
  if (block.place.arm != -1 || block.place.course != 0 || block.place.phi_m != 0) {
    j["place"] = place_json(block.place);
  }
  Json vertices = Json::array();
  for (const Vec3& p : block.solid.vertices) vertices.push_back(vec3(p, "vertex"));
  j["vertices"] = std::move(vertices);
  j["faces"] = block.solid.faces;
  return j;
}

Json loop_json(const Frame& frame, const Polygon& loop) {
  Json points = Json::array();
  for (const Vec2& p : loop) points.push_back(vec3(frame.to_world(p), "joint polygon"));
  return points;
}

Json part_json(const Frame& frame, const Region& part) {
  Json j = {{"polygon", loop_json(frame, part.outer)}};
  if (part.holes.empty()) return j;
  Json holes = Json::array();
  for (const Polygon& hole : part.holes) holes.push_back(loop_json(frame, hole));
  j["holes"] = std::move(holes);
  return j;
}

Json joint_json(const Assembly& assembly, const Joint& joint) {
  Json j = {{"a", assembly.blocks.at(static_cast<std::size_t>(joint.a)).id},
            {"b", assembly.blocks.at(static_cast<std::size_t>(joint.b)).id},
            {"friction", finite(joint.friction, "friction")}};
  if (joint.pad) {
    Json pad = {{"thickness", finite(joint.pad->thickness_m, "pad")}};
    if (joint.pad->kn != 0) pad["kn"] = finite(joint.pad->kn, "pad");
    if (joint.pad->ks != 0) pad["ks"] = finite(joint.pad->ks, "pad");
    j["pad"] = std::move(pad);
  }
  if (joint.gap_tolerance_m > 0) {
    j["gap_tolerance"] = finite(joint.gap_tolerance_m, "gap tolerance");
  }
  if (joint.contact.size() == 1) {
    j.update(part_json(joint.frame, joint.contact[0]));
  } else {
    Json parts = Json::array();
    for (const Region& part : joint.contact) parts.push_back(part_json(joint.frame, part));
    j["parts"] = std::move(parts);
  }
  return j;
}

Json case_json(const Assembly& assembly, const LoadCase& load) {
  Json j = {{"id", load.id}, {"gravity", vec3(load.gravity, "gravity")}};
  if (!load.live.empty()) {
    Json list = Json::array();
    for (const LiveForce& f : load.live) {
      list.push_back({{"block", assembly.blocks.at(static_cast<std::size_t>(f.block)).id},
                      {"point", vec3(f.point, "live load")},
                      {"force", vec3(f.force, "live load")}});
    }
    j["live"] = std::move(list);
  }
  if (load.live_acceleration != Vec3::Zero()) {
    j["live_acceleration"] = vec3(load.live_acceleration, "live acceleration");
  }
  return j;
}

// One element a line: a difference between two files reads like one.
template <class Range, class ToJson>
std::string lines(const char* key, const Range& range, ToJson to_json) {
  std::string text = "\"" + std::string(key) + "\":[";
  const char* before = "\n";
  for (const auto& element : range) {
    text += before + to_json(element).dump();
    before = ",\n";
  }
  return text + "]";
}

}  // namespace

std::string write_assembly(const Assembly& assembly) {
  const auto joint = [&](const Joint& j) { return joint_json(assembly, j); };
  const auto load = [&](const LoadCase& c) { return case_json(assembly, c); };
  return "{" + lines("blocks", assembly.blocks, block_json) + ",\n" +
         lines("joints", assembly.joints, joint) + ",\n" + lines("cases", assembly.cases, load) +
         "}\n";
}

}  // namespace skewback
