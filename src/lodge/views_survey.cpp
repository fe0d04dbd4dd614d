#include "deliver/facts.hpp"
#include "deliver/survey_sheets.hpp"
#include "lodge/arrays.hpp"
#include "lodge/joint_names.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

/// The same at the block's centre of gravity, to first order about it elsewhere.
void put_move(const Block& block, const Rigid& pose, std::vector<float>& out) {
  const Eigen::AngleAxisd turn(pose.R);
  const Vec3 w = turn.angle() * turn.axis(), c = centre_of_gravity(block);
  put(out, Vec3(pose(c) - c - w.cross(c)));
  put(out, w);
}

Json packer_json(const Assembly& assembly, const Packer& packer) {
  const Joint& joint = assembly.joints[static_cast<std::size_t>(packer.joint)];
  double edge = 0;
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer)
      edge = packer.upper ? std::max(edge, p.y()) : std::min(edge, p.y());
  }
  return {{"joint", joint_id(assembly, packer.joint)},
          {"at", json(joint.frame.to_world(Vec2(packer.along_m, edge)))},
          {"thickness_m", packer.thickness_m()},
          {"stock", packer.from_stock}};
}

Json table_json(const std::vector<Before>& table) {
  Json out = Json::array();
  for (const Before& row : table) {
    out.push_back({{"what", row.what},
                   {"key_goes_in", row.key_goes_in},
                   {"load_factor", json(row.load_factor)},
                   {"governing", row.governing},
                   {"joint_stress_max_pa", json(row.joint_stress_max_pa)},
                   {"friction_needed", json(row.friction_needed)},
                   {"verdict", row.verdict}});
  }
  return out;
}

Json marks_json(const Brief& brief, const Refit& refit) {
  Json out = Json::array();
  for (const deliver::MarkFound& mark : deliver::marks_found(brief, refit)) {
    out.push_back({{"id", mark.name},
                   {"drawn", json(mark.drawn)},
                   {"found", json(mark.found)},
                   {"off_m", (mark.found - mark.drawn).norm()},
                   {"left_out", mark.outlier}});
  }
  return out;
}

}  // namespace

std::optional<Sheaf> survey_view(const Dossier& dossier) {
  const Assembly* assembly = deliver::assembly_of(dossier);
  if (!dossier.refit || assembly == nullptr) return std::nullopt;
  const Refit& refit = *dossier.refit;
  Json packers = Json::array();
  for (const Packer& packer : refit.packed.packers)
    packers.push_back(packer_json(*assembly, packer));
  Sheaf sheaf;
  sheaf.head = {{"view", "survey"},
                {"marks", marks_json(dossier.brief, refit)},
                {"packers", std::move(packers)},
                {"table", table_json(refit.table)},
                {"words", refit.finding},
                {"key_goes_in", refit.key_goes_in}};
  if (refit.packed.moves.size() != assembly->blocks.size()) return sheaf;  // nothing was packed
  std::vector<float> moves;
  const std::vector<Rigid> poses = poses_as_packed(*assembly, refit);
  for (std::size_t b = 0; b < poses.size(); ++b) put_move(assembly->blocks[b], poses[b], moves);
  sheaf.add("move", std::move(moves), 6);
  return sheaf;
}

}  // namespace skewback::lodge
