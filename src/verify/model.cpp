#include "verify/model.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <fstream>
#include <set>
#include <stdexcept>

namespace skewback::audit {

using nlohmann::json;

std::vector<PointMass> masses_of(const Model& model, const Evidence& evidence, int body) {
  const std::vector<PointMass>& all = model.bodies[body].masses;
  if (!evidence.carried) return all;
  std::vector<PointMass> masses{all.front()};
  const std::vector<PointMass>& on = (*evidence.carried)[body];
  masses.insert(masses.end(), on.begin(), on.end());
  return masses;
}

namespace {

[[noreturn]] void refuse(const std::string& what) { throw std::runtime_error(what); }

json load(const std::filesystem::path& file) {
  std::ifstream in(file);
  if (!in || std::filesystem::is_directory(file)) refuse("cannot be read");
  return json::parse(in);
}

double number(const json& j) {
  const double x = j.get<double>();
  if (!j.is_number() || !std::isfinite(x)) refuse("not a finite number: " + j.dump());
  return x;
}

double number_or(const json& j, const char* key, double otherwise) {
  return j.contains(key) ? number(j.at(key)) : otherwise;
}

Vec3 vec3(const json& j) {
  if (j.size() != 3) refuse("not three numbers: " + j.dump());
  return {number(j.at(0)), number(j.at(1)), number(j.at(2))};
}

int body_of(const Model& model, const json& id) {
  const auto found = model.index.find(id.get<std::string>());
  if (found == model.index.end()) refuse("no block \"" + id.get<std::string>() + "\"");
  return found->second;
}

// Six times the volume and 24 times the first moment of the pyramids from a corner to each
// triangle.
PointMass own_mass(const Body& body, double density) {
  const Vec3 apex = body.vertices.at(0);
  double volume6 = 0;
  Vec3 moment24 = Vec3::Zero();
  for (const auto& face : body.faces) {
    const Vec3 p = body.vertices[face[0]] - apex;
    for (std::size_t i = 2; i < face.size(); ++i) {
      const Vec3 q = body.vertices[face[i - 1]] - apex, r = body.vertices[face[i]] - apex;
      const double v = p.dot(q.cross(r));
      volume6 += v;
      moment24 += v * (p + q + r);
    }
  }
  if (!(volume6 > 0)) refuse("block \"" + body.id + "\" has no volume or is inside out");
  return {density * volume6 / 6, apex + moment24 / (4 * volume6)};
}

void refuse_open(const Body& body) {
  std::multiset<std::pair<int, int>> edges;
  for (const auto& face : body.faces) {
    for (std::size_t i = 0; i < face.size(); ++i) {
      edges.emplace(face[i], face[(i + 1) % face.size()]);
    }
  }
  for (const auto& [from, to] : edges) {
    if (edges.count({from, to}) != edges.count({to, from})) {
      refuse("block \"" + body.id + "\" is not closed");
    }
  }
}

Body read_body(const json& j) {
  Body body;
  body.id = j.at("id").get<std::string>();
  body.fixed = j.value("fixed", false);
  for (const json& p : j.at("vertices")) body.vertices.push_back(vec3(p));
  body.faces = j.at("faces").get<std::vector<std::vector<int>>>();
  const int count = static_cast<int>(body.vertices.size());
  for (const auto& face : body.faces) {
    if (face.size() < 3) refuse("block \"" + body.id + "\" has a face of fewer than three corners");
    for (int i : face) {
      if (i < 0 || i >= count) refuse("block \"" + body.id + "\" has a face without a vertex");
    }
  }
  if (count == 0) refuse("block \"" + body.id + "\" has no vertices");
  refuse_open(body);
  body.low = body.high = body.vertices[0];
  for (const Vec3& p : body.vertices) {
    body.low = body.low.cwiseMin(p);
    body.high = body.high.cwiseMax(p);
  }
  const double density = body.fixed ? number_or(j, "density", 0) : number(j.at("density"));
  body.masses.push_back(own_mass(body, density));
  if (!body.fixed && !(density > 0)) refuse("block \"" + body.id + "\" weighs nothing");
  for (const json& c : j.value("carried", json::array())) {
    body.masses.push_back({number(c.at("mass")), vec3(c.at("point"))});
  }
  return body;
}

ListedJoint read_joint(const json& j, const Model& model) {
  ListedJoint joint;
  joint.a = body_of(model, j.at("a"));
  joint.b = body_of(model, j.at("b"));
  joint.friction = number_or(j, "friction", model.friction.value_or(0.6));
  if (j.contains("pad")) joint.pad = number(j.at("pad").at("thickness"));
  joint.gap_tolerance = number_or(j, "gap_tolerance", 0);
  const json& outline = j.contains("parts") ? j.at("parts").at(0).at("polygon") : j.at("polygon");
  std::vector<Vec3> points;
  for (const json& p : outline) points.push_back(vec3(p));
  if (points.size() < 3) refuse("a joint of fewer than three corners");
  for (const Vec3& p : points) joint.point += p / static_cast<double>(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    joint.normal += (points[i] - joint.point).cross(points[(i + 1) % points.size()] - joint.point);
  }
  joint.normal.normalize();
  return joint;
}

LoadSet read_loads(const json& j, const Model& model) {
  LoadSet loads;
  if (j.contains("gravity")) loads.gravity = vec3(j.at("gravity"));
  if (j.contains("live_acceleration")) loads.live_acceleration = vec3(j.at("live_acceleration"));
  for (const json& f : j.value("live", json::array())) {
    loads.live.push_back({body_of(model, f.at("block")), vec3(f.at("point")), vec3(f.at("force"))});
  }
  return loads;
}

std::vector<char> read_present(const json& j, const Model& model) {
  if (!j.contains("present") || j.at("present").is_null()) {
    return std::vector<char>(model.bodies.size(), 1);
  }
  std::vector<char> present(model.bodies.size(), 0);
  for (const json& id : j.at("present")) present[body_of(model, id)] = 1;
  return present;
}

Prop read_prop(const json& j, const Model& model) {
  Prop prop{body_of(model, j.at("block")), vec3(j.at("point")), vec3(j.at("direction")),
            number(j.at("friction"))};
  if (std::abs(prop.direction.norm() - 1) > 1e-9)
    refuse("a prop whose direction is not of length 1");
  return prop;
}

Vec3 point_of(const Model& model, const json& j) {
  if (j.is_array()) return vec3(j);
  const auto place = j.is_number_integer() ? j.get<long long>() : -1;
  if (place < 0 || place >= std::ssize(model.points)) refuse("no such point: " + j.dump());
  return model.points[static_cast<std::size_t>(place)];
}

// One force, or all of a joint.
void read_contact(const json& c, const Model& model, Evidence& evidence) {
  const int a = body_of(model, c.at("a")), b = body_of(model, c.at("b"));
  if (c.contains("point")) {
    evidence.contacts.push_back({a, b, point_of(model, c.at("point")), vec3(c.at("force"))});
    return;
  }
  const json &points = c.at("points"), &forces = c.at("forces");
  if (points.size() != forces.size()) refuse("points and forces of a contact are not as many");
  for (std::size_t i = 0; i < points.size(); ++i)
    evidence.contacts.push_back({a, b, point_of(model, points.at(i)), vec3(forces.at(i))});
}

void read_claim(const json& j, const Model& model, Evidence& evidence) {
  if (evidence.kind == "forces") {
    for (const json& c : j.at("contacts")) read_contact(c, model, evidence);
    for (const json& p : j.value("prop_forces", json::array())) {
      const int prop = p.at("prop").get<int>();
      if (prop < 0 || prop >= static_cast<int>(evidence.props.size())) refuse("a force of no prop");
      evidence.prop_forces.emplace_back(prop, vec3(p.at("force")));
    }
  } else if (evidence.kind == "mechanism") {
    evidence.motions.resize(model.bodies.size());
    for (const json& b : j.at("blocks")) {
      evidence.motions[body_of(model, b.at("id"))] = {vec3(b.at("v")), vec3(b.at("w"))};
    }
  } else if (evidence.kind != "none") {
    refuse("evidence of an unknown kind \"" + evidence.kind + "\"");
  }
}

}  // namespace

Model read_model(const std::filesystem::path& file, const std::filesystem::path& points) {
  const json root = load(file);
  Model model;
  if (std::filesystem::exists(points)) {
    for (const json& p : load(points)) model.points.push_back(vec3(p));
  }
  if (root.contains("friction")) model.friction = number(root.at("friction"));
  model.tolerance = number_or(root, "contact_tolerance", model.tolerance);
  for (const json& j : root.at("blocks")) {
    Body body = read_body(j);
    if (!model.index.emplace(body.id, static_cast<int>(model.bodies.size())).second) {
      refuse("two blocks \"" + body.id + "\"");
    }
    model.bodies.push_back(std::move(body));
  }
  if (root.at("joints").is_array()) {
    for (const json& j : root.at("joints")) model.joints.push_back(read_joint(j, model));
  }
  for (const json& j : root.at("cases")) {
    const auto id = j.at("id").get<std::string>();
    if (!model.cases.emplace(id, read_loads(j, model)).second) refuse("two cases \"" + id + "\"");
  }
  return model;
}

Evidence read_evidence(const std::filesystem::path& file, const Model& model) {
  const json j = load(file);
  Evidence evidence;
  evidence.case_id = j.at("case").get<std::string>();
  evidence.kind = j.at("kind").get<std::string>();
  if (j.contains("load_factor") && !j.at("load_factor").is_null()) {
    evidence.load_factor = number(j.at("load_factor"));
  }
  evidence.present = read_present(j, model);
  if (j.contains("friction") && !j.at("friction").is_null())
    evidence.friction = number(j.at("friction"));
  for (const json& p : j.value("props", json::array()))
    evidence.props.push_back(read_prop(p, model));
  if (j.contains("carried") && !j.at("carried").is_null()) {
    evidence.carried.emplace(model.bodies.size());
    for (const json& c : j.at("carried")) {
      const double kg = number(c.at("mass"));
      if (!(kg >= 0)) refuse("a carried mass below zero");
      (*evidence.carried)[body_of(model, c.at("block"))].push_back({kg, vec3(c.at("point"))});
    }
  }
  read_claim(j, model, evidence);
  return evidence;
}

}  // namespace skewback::audit
