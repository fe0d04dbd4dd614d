#include "deliver/facts.hpp"
#include "lodge/arrays.hpp"
#include "lodge/joint_names.hpp"
#include "lodge/shell.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

Json block_json(const Block& block) {
  return {{"id", block.id},
          {"mass_kg", mass_kg(block)},
          {"at", json(centre_of_gravity(block))},
          {"arm", block.place.arm},
          {"course", block.place.course},
          {"fixed", block.fixed},
          {"crown", block.place.crown},
          {"volume_m3", block.mass.volume}};
}

Json ring_json(const Polygon& ring) {
  Json out = Json::array();
  for (const Vec2& p : ring) out.push_back(json(p));
  return out;
}

Json joint_json(const Assembly& assembly, int j) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(j)];
  Json rings = Json::array();
  for (const Region& region : joint.contact) {
    rings.push_back(ring_json(region.outer));
    for (const Polygon& hole : region.holes) rings.push_back(ring_json(hole));
  }
  return {{"id", joint_id(assembly, j)},
          {"a", joint.a},
          {"b", joint.b},
          {"at", json(joint.frame.origin)},
          {"x", json(joint.frame.x)},
          {"y", json(joint.frame.y)},
          {"z", json(joint.frame.z)},
          {"friction", joint.friction},
          {"pad_m", joint.pad ? joint.pad->thickness_m : 0.0},
          {"rings", std::move(rings)},
          {"depth_m", joint_depth_m(joint)}};
}

Json cases_json(const Assembly& assembly, const std::vector<CaseNote>& notes) {
  Json out = Json::array();
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    const LoadCase& load = assembly.cases[i];
    Json live = Json::array();
    for (const LiveForce& f : load.live)
      live.push_back({{"at", json(f.point)}, {"force", json(f.force)}});
    const bool noted = i < notes.size();
    const bool combined = noted && notes[i].kind == CaseKind::kCombination;
    out.push_back({{"id", load.id},
                   {"words", noted ? notes[i].words : load.id},
                   {"kind", combined ? "combination" : "pattern"},
                   {"live", std::move(live)}});
  }
  return out;
}

/// Square to the walking line in plan, at each station.
Vec3 across(const WalkLine& line, std::size_t i) {
  const std::size_t last = line.stations.size() - 1;
  const Vec3& from = line.stations[i == 0 ? 0 : i - 1].point;
  const Vec3& to = line.stations[std::min(i + 1, last)].point;
  const Vec2 ahead = (to - from).head<2>();
  if (!(ahead.norm() > 0)) return Vec3::Zero();
  return Vec3(-ahead.y(), ahead.x(), 0) / ahead.norm();
}

void add_walk(const Dossier& dossier, Sheaf& sheaf) {
  std::vector<float> points;
  std::vector<std::uint32_t> triangles;
  const double half = dossier.brief.walkway.width_m / 2;
  const std::size_t lines = dossier.access && half > 0 ? dossier.access->lines.size() : 0;
  for (std::size_t k = 0; k < lines; ++k) {
    const WalkLine& line = dossier.access->lines[k];
    for (std::size_t i = 0; i < line.stations.size(); ++i) {
      const auto next = static_cast<std::uint32_t>(points.size() / 3);
      put(points, Vec3(line.stations[i].point + half * across(line, i)));
      put(points, Vec3(line.stations[i].point - half * across(line, i)));
      if (i + 1 == line.stations.size()) continue;
      triangles.insert(triangles.end(), {next, next + 1, next + 3, next, next + 3, next + 2});
    }
  }
  sheaf.add("walk", std::move(points), 3);
  sheaf.add("walk_triangles", std::move(triangles), 3);
}

}  // namespace

std::optional<Sheaf> blocks_view(const Dossier& dossier) {
  const Assembly* assembly = deliver::assembly_of(dossier);
  if (assembly == nullptr) return std::nullopt;
  Json blocks = Json::array(), joints = Json::array();
  Shell shell;
  for (std::size_t b = 0; b < assembly->blocks.size(); ++b) {
    blocks.push_back(block_json(assembly->blocks[b]));
    shell.add(assembly->blocks[b].solid, static_cast<std::uint32_t>(b));
  }
  for (std::size_t j = 0; j < assembly->joints.size(); ++j)
    joints.push_back(joint_json(*assembly, static_cast<int>(j)));
  Sheaf sheaf;
  sheaf.head = {{"view", "blocks"},
                {"blocks", std::move(blocks)},
                {"joints", std::move(joints)},
                {"supports", supports_json(dossier.brief.plan)},
                {"cases", cases_json(*assembly, dossier.notes)}};
  shell.move_to(sheaf, "block");
  add_walk(dossier, sheaf);
  return sheaf;
}

}  // namespace skewback::lodge
