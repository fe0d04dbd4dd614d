#include "verify/motion_record.hpp"

#include <cmath>
#include <fstream>

namespace skewback::audit {
namespace {

using nlohmann::json;

Vec3 vec3(const json& j) {
  if (j.size() != 3) throw std::runtime_error("not three numbers: " + j.dump());
  return {j.at(0).get<double>(), j.at(1).get<double>(), j.at(2).get<double>()};
}

int body_of(const Model& model, const json& id) {
  const auto found = model.index.find(id.get<std::string>());
  if (found == model.index.end())
    throw std::runtime_error("no block \"" + id.get<std::string>() + "\"");
  return found->second;
}

std::vector<Pose> poses_of(const json& frame, const std::vector<int>& order, std::size_t bodies) {
  const json& poses = frame.at("poses");
  if (poses.size() != order.size())
    throw std::runtime_error("a frame without a pose for each block");
  std::vector<Pose> all(bodies);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const json& p = poses.at(i);
    if (p.size() != 7) throw std::runtime_error("a pose that is not seven numbers");
    const auto x = [&](std::size_t k) { return p.at(k).get<double>(); };
    all[static_cast<std::size_t>(order[i])] = {{x(0), x(1), x(2)}, {x(3), x(4), x(5), x(6)}};
  }
  return all;
}

std::vector<PropRecord> props_of(const json& list, const Model& model) {
  std::vector<PropRecord> all;
  for (const json& p : list) {
    PropRecord r{{body_of(model, p.at("block")), vec3(p.at("point")), vec3(p.at("direction")),
                  p.at("friction").get<double>()},
                 p.at("lowered_m").get<double>(),
                 vec3(p.at("force_n")),
                 vec3(p.at("at"))};
    if (std::abs(r.prop.direction.norm() - 1) > 1e-9)
      throw std::runtime_error("a prop whose direction is not of length 1");
    all.push_back(r);
  }
  return all;
}

std::optional<std::vector<std::vector<PointMass>>> carried_of(const json& list,
                                                              const Model& model) {
  if (list.is_null()) return {};
  std::vector<std::vector<PointMass>> all(model.bodies.size());
  for (const json& c : list) {
    const double kg = c.at("mass").get<double>();
    if (!(kg >= 0)) throw std::runtime_error("a carried mass below zero");
    all[static_cast<std::size_t>(body_of(model, c.at("block")))].push_back(
        {kg, vec3(c.at("point"))});
  }
  return all;
}

}  // namespace

MotionRecord read_motion_record(const std::filesystem::path& file, const Model& model) {
  std::ifstream in(file);
  const json j = json::parse(in);
  if (j.at("format") != "recorded motion") throw std::runtime_error("not a recorded motion");
  MotionRecord r;
  r.case_id = j.at("case").at("id").get<std::string>();
  r.ending = j.at("ending").get<std::string>();
  const json& scene = j.at("scene");
  r.load_factor = scene.at("load_factor").get<double>();
  if (!scene.at("friction").is_null()) r.friction = scene.at("friction").get<double>();
  r.there.assign(model.bodies.size(), 1);
  if (const json here = scene.value("present", json()); !here.is_null()) {
    r.there.assign(model.bodies.size(), 0);
    for (const json& id : here) r.there[static_cast<std::size_t>(body_of(model, id))] = 1;
  }
  r.present = r.there;
  r.props = props_of(scene.value("props", json::array()), model);
  r.carried = carried_of(scene.value("carried", json()), model);
  const double end = j.at("time_s").get<double>();
  for (const json& removal : scene.at("removals"))
    if (removal.at("at_s").get<double>() <= end)
      r.present[static_cast<std::size_t>(body_of(model, removal.at("block")))] = 0;
  r.drops = static_cast<int>(scene.at("drops").size());
  r.met = j.at("new_contacts").get<int>();
  r.rest_share = j.at("options").at("rest_share").get<double>();
  r.moved_max = j.at("moved_max_m").get<double>();
  if (!j.at("moved_block").is_null()) r.moved = body_of(model, j.at("moved_block"));
  r.error = j.at("energy_j").at("error_rel").get<double>();
  for (const json& o : j.at("joints"))
    r.joints.push_back({body_of(model, o.at("a")), body_of(model, o.at("b")), vec3(o.at("force_n")),
                        vec3(o.at("origin")), vec3(o.at("moment_nm")),
                        o.at("slid_m").get<double>()});
  std::vector<int> order;
  for (const json& id : j.at("blocks")) order.push_back(body_of(model, id));
  for (const json& frame : j.at("frames"))
    r.frames.push_back(poses_of(frame, order, model.bodies.size()));
  if (r.frames.size() < 2) throw std::runtime_error("fewer than two frames");
  return r;
}

}  // namespace skewback::audit
