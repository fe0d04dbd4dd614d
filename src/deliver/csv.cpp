#include "deliver/csv.hpp"

#include <cmath>
#include <map>

#include "deliver/facts.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

// An empty field where there is no number.
std::string cell(double value, int decimals) {
  return std::isfinite(value) ? fixed(value, decimals) : "";
}
std::string cell(const std::optional<double>& value, int decimals) {
  return value ? cell(*value, decimals) : "";
}

void add_point(std::vector<std::string>& fields, const Vec3& p) {
  for (int i = 0; i < 3; ++i) fields.push_back(cell(p[i], 6));
}

}  // namespace

std::string csv_line(const std::vector<std::string>& fields) {
  std::string line;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) line += ',';
    const std::string& field = fields[i];
    if (field.find_first_of(",\"\r\n") == std::string::npos) {
      line += field;
      continue;
    }
    line += '"';
    for (const char c : field) {
      if (c == '"') line += '"';
      line += c;
    }
    line += '"';
  }
  return line + "\r\n";
}

std::string blocks_csv(const Dossier& dossier) {
  std::string text = csv_line({"id", "arm", "course", "place", "concrete_kg", "carried_kg",
                               "volume_m3", "centroid_x_m", "centroid_y_m", "centroid_z_m",
                               "gravity_x_m", "gravity_y_m", "gravity_z_m", "flow_length_min_m",
                               "flow_length_max_m", "layers", "layer_min_mm", "layer_max_mm"});
  std::map<std::string, const BlockPrint*> layers;
  if (dossier.print) {
    for (const BlockPrint& b : dossier.print->blocks) layers[b.id] = &b;
  }
  const bool loaded = !dossier.cut->assembly.cases.empty();
  for (const Block& block : dossier.cut->assembly.blocks) {
    if (block.fixed) continue;
    const double concrete = concrete_mass_kg(block);
    std::vector<std::string> row = {block.id,
                                    arm_name(dossier.brief, block),
                                    std::to_string(block.place.course),
                                    std::to_string(block.place.place),
                                    cell(concrete, 3),
                                    loaded ? cell(mass_kg(block) - concrete, 3) : "",
                                    cell(block.mass.volume, 6)};
    add_point(row, block.mass.centroid);
    add_point(row, centre_of_gravity(block));
    row.push_back(cell(block.place.phi_length_min_m, 4));
    row.push_back(cell(block.place.phi_length_max_m, 4));
    const auto found = layers.find(block.id);
    const bool laid = found != layers.end();
    row.push_back(laid ? std::to_string(found->second->layers.size()) : "");
    row.push_back(laid ? cell(found->second->layer_min_m * 1000, 2) : "");
    row.push_back(laid ? cell(found->second->layer_max_m * 1000, 2) : "");
    text += csv_line(row);
  }
  return text;
}

std::string joints_csv(const Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  std::string text =
      csv_line({"joint", "a", "b", "centre_x_m", "centre_y_m", "centre_z_m", "normal_x", "normal_y",
                "normal_z", "contact_m2", "pad_mm", "friction", "dead_force_n", "dead_angle_deg",
                "dead_peak_pressure_mpa", "depth_needed_mm"});
  const bool has_depth = dossier.depth_needed && dossier.depth_needed->share;
  const bool has_dead = dossier.dead_resultants.size() == assembly.joints.size();
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const auto name = [&](int block) {
      return block < 0 ? std::string() : assembly.blocks[static_cast<std::size_t>(block)].id;
    };
    std::vector<std::string> row = {std::to_string(j + 1), name(joint.a), name(joint.b)};
    add_point(row, joint.contact.empty() ? joint.frame.origin
                                         : joint.frame.to_world(centroid(joint.contact)));
    add_point(row, joint.frame.z);
    row.push_back(cell(area(joint.contact), 6));
    row.push_back(joint.pad ? cell(joint.pad->thickness_m * 1000, 2) : "0");
    row.push_back(cell(joint.friction, 3));
    const JointResultant r = has_dead ? dossier.dead_resultants[j] : JointResultant{};
    std::optional<double> peak_mpa;
    if (r.peak_pressure_pa) peak_mpa = *r.peak_pressure_pa / 1e6;
    row.push_back(has_dead ? cell(r.force.norm(), 1) : "");
    row.push_back(has_dead ? cell(r.angle_deg, 3) : "");
    row.push_back(cell(peak_mpa, 4));
    row.push_back(has_depth ? cell(dossier.depth_needed->joint_depth_m[j] * 1000, 1) : "");
    text += csv_line(row);
  }
  return text;
}

}  // namespace skewback::deliver
