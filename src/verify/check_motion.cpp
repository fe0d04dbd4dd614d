#include "verify/check_motion.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <fstream>

namespace skewback::audit {
namespace {

using nlohmann::json;

struct Pose {
  Vec3 at = Vec3::Zero();
  Eigen::Quaterniond q = Eigen::Quaterniond::Identity();
};

struct JointRecord {
  int a = -1, b = -1;
  Vec3 force = Vec3::Zero(), origin = Vec3::Zero(), moment = Vec3::Zero();  // on b, about origin
  double slid = 0;
};

struct Record {
  std::string case_id, ending;
  double load_factor = 1, rest_share = 0, moved_max = 0, error = 0;
  std::optional<double> friction;
  std::vector<char> present;
  int moved = -1, drops = 0, met = 0;
  std::vector<JointRecord> joints;
  std::vector<std::vector<Pose>> frames;  // by body of the model
};

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

Record read_record(const std::filesystem::path& file, const Model& model) {
  std::ifstream in(file);
  const json j = json::parse(in);
  if (j.at("format") != "recorded motion") throw std::runtime_error("not a recorded motion");
  Record r;
  r.case_id = j.at("case").at("id").get<std::string>();
  r.ending = j.at("ending").get<std::string>();
  const json& scene = j.at("scene");
  r.load_factor = scene.at("load_factor").get<double>();
  if (!scene.at("friction").is_null()) r.friction = scene.at("friction").get<double>();
  r.present.assign(model.bodies.size(), 1);
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

PointMass whole(const Body& body) {
  PointMass sum;
  for (const PointMass& m : body.masses) {
    sum.kg += m.kg;
    sum.at += m.kg * m.at;
  }
  if (sum.kg > 0)
    sum.at /= sum.kg;
  else
    sum.at = body.masses.front().at;
  return sum;
}

struct Check {
  const Model& model;
  const std::vector<Contact>& contacts;
  const Record& record;
  const LoadSet& loads;
  EvidenceVerdict& verdict;
  double mean_weight = 0;
  std::vector<PointMass> masses;  // at the start

  [[nodiscard]] bool is_free(std::size_t i) const {
    return !model.bodies[i].fixed && record.present[i] != 0;
  }
  [[nodiscard]] const Pose& last(int body) const {
    return record.frames.back()[static_cast<std::size_t>(body)];
  }
  [[nodiscard]] double gone(std::size_t frame, int body) const {
    const auto i = static_cast<std::size_t>(body);
    return (record.frames[frame][i].at - record.frames.front()[i].at).norm();
  }
};

void check_frames(const Check& check) {
  for (std::size_t i = 0; i < check.model.bodies.size(); ++i) {
    const Body& body = check.model.bodies[i];
    const double off = (check.record.frames.front()[i].at - check.masses[i].at).norm();
    if (!body.fixed && off > kPlace)
      give_reason(check.verdict, body.id + ": the first frame has it " + number(1e3 * off) +
                                     " mm off its centre of gravity");
    for (const auto& frame : check.record.frames)
      if (std::abs(frame[i].q.norm() - 1) > 1e-9)
        return give_reason(check.verdict, body.id + ": a turn whose quaternion is not of length 1");
  }
}

void check_farthest(const Check& check) {
  double most = 0;
  for (std::size_t i = 0; i < check.model.bodies.size(); ++i)
    if (check.is_free(i))
      most = std::max(most, check.gone(check.record.frames.size() - 1, static_cast<int>(i)));
  if (std::abs(most - check.record.moved_max) > kPlace)
    give_reason(check.verdict, "the farthest block has gone " + number(most) + " m, not " +
                                   number(check.record.moved_max) + " m");
}

/// Where the force of a joint acts, as block a is drawn; the force there.
struct Drawn {
  Vec3 at, force;
};

std::optional<Drawn> drawn(const Check& check, const JointRecord& joint, const Vec3& normal) {
  const Pose& pose = check.last(joint.a);
  const Eigen::Quaterniond back = pose.q.conjugate();
  const Vec3 force = back * joint.force, moment = back * joint.moment;
  const double n = force.dot(normal);
  if (std::abs(n) <= kPress * check.mean_weight) return {};
  const Vec3 origin =
      check.masses[static_cast<std::size_t>(joint.a)].at + back * (joint.origin - pose.at);
  return Drawn{origin + normal.cross(moment) / n, force};
}

/// Of this contact: what is wrong with the force, empty for nothing.
std::string fault_of(const Check& check, const JointRecord& joint, const Contact& contact) {
  const bool same = contact.a == joint.a;
  const Vec3 normal = same ? contact.normal : Vec3(-contact.normal);
  const auto force = drawn(check, joint, normal);
  const double slack = kPress * check.mean_weight;
  if (!force) return (joint.force.norm() > 2 * slack) ? "it rubs without pressing" : "";
  const double n = force->force.dot(normal), along = (force->force - n * normal).norm();
  const double mu = check.record.friction.value_or(contact.friction_low);
  if (n < 0) return "pulls with " + number(-n) + " N";
  if (along > mu * n * (1 + 1e-6) + slack)
    return number(along) + " N along the joint is more than " + number(mu) + " times the " +
           number(n) + " N across it";
  if (contact.outside(force->at) > kLever + joint.slid)
    return "the force acts " + number(1e3 * contact.outside(force->at)) + " mm outside the faces";
  if (contact.off_plane(force->at) > kLever) return "the force acts off the plane of the joint";
  return "";
}

void check_joint(const Check& check, const JointRecord& joint) {
  const std::string where = "contact " + check.model.bodies[static_cast<std::size_t>(joint.a)].id +
                            " | " + check.model.bodies[static_cast<std::size_t>(joint.b)].id;
  if (joint.force.norm() <= kPress * check.mean_weight) return;
  std::string worst = "no faces of these blocks meet";
  for (const Contact& c : check.contacts) {
    if (!((c.a == joint.a && c.b == joint.b) || (c.a == joint.b && c.b == joint.a))) continue;
    worst = fault_of(check, joint, c);
    if (worst.empty()) return;
  }
  give_reason(check.verdict, where + ": " + worst);
}

void check_balance(const Check& check) {
  std::vector<Wrench> sums(check.model.bodies.size());
  for (const JointRecord& j : check.record.joints) {
    for (const int body : {j.a, j.b}) {
      const double sign = body == j.b ? 1 : -1;
      Wrench& on = sums[static_cast<std::size_t>(body)];
      on.add(sign * j.force, j.origin - check.last(body).at);
      on.moment += sign * j.moment;
    }
  }
  for (std::size_t i = 0; i < check.model.bodies.size(); ++i) {
    if (!check.is_free(i)) continue;
    const Body& body = check.model.bodies[i];
    const Pose& pose = check.last(static_cast<int>(i));
    Wrench& on = sums[i];
    on.add(check.masses[i].kg *
               (check.loads.gravity + check.record.load_factor * check.loads.live_acceleration),
           Vec3::Zero());
    for (const Load& live : check.loads.live)
      if (live.body == static_cast<int>(i))
        on.add(check.record.load_factor * live.newtons, pose.q * (live.at - check.masses[i].at));
    const double off =
        std::max(on.force.norm(), on.moment.norm() / body.radius()) / check.mean_weight;
    check.verdict.residual_rel = std::max(check.verdict.residual_rel, off);
    if (off > check.record.rest_share * 1.01)
      give_reason(check.verdict,
                  body.id + ": out of balance by " + number(off) + " of a mean block weight");
  }
}

void check_rest(const Check& check) {
  if (check.record.rest_share > kRestMost)
    give_reason(check.verdict, "rest is taken for up to " + number(check.record.rest_share) +
                                   " of a block's weight out of balance");
  for (const JointRecord& joint : check.record.joints) check_joint(check, joint);
  check_balance(check);
}

void check_moving(const Check& check) {
  const int body = check.record.moved;
  if (body < 0) return give_reason(check.verdict, "no block is said to have gone");
  const double last = check.gone(check.record.frames.size() - 1, body),
               before = check.gone(check.record.frames.size() - 2, body);
  if (last <= before)
    give_reason(check.verdict, check.model.bodies[static_cast<std::size_t>(body)].id +
                                   ": no longer going when the record ends");
}

std::string not_written(const Record& record) {
  if (record.ending == "not settled") return "claims nothing: not settled";
  if (record.ending != "at rest") return "";
  if (record.drops > 0) return "claims nothing: what a fallen load presses with is not written";
  if (record.met > 0) return "claims nothing: forces between faces that met are not written";
  return "";
}

void check_record(const Record& record, const Model& model, const std::vector<Contact>& contacts,
                  EvidenceVerdict& verdict) {
  const auto loads = model.cases.find(record.case_id);
  if (loads == model.cases.end())
    return give_reason(verdict, "the assembly has no case \"" + record.case_id + "\"");
  Check check{model, contacts, record, loads->second, verdict, 0, {}};
  double weight = 0;
  int count = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    check.masses.push_back(whole(model.bodies[i]));
    if (model.bodies[i].fixed) continue;
    weight += check.masses[i].kg * loads->second.gravity.norm();
    ++count;
  }
  if (count == 0 || !(weight > 0)) return give_reason(verdict, "no block that weighs anything");
  check.mean_weight = weight / count;
  verdict.ok = true;
  check_frames(check);
  check_farthest(check);
  if (!(std::abs(record.error) <= kMissing))
    give_reason(verdict, "the ledger misses " + number(record.error) + " of the energy");
  if (record.ending == "at rest")
    check_rest(check);
  else if (record.ending == "moving off")
    check_moving(check);
  else
    give_reason(verdict, "an ending that nobody knows: " + record.ending);
}

}  // namespace

EvidenceVerdict check_motion(const std::filesystem::path& file, const Model& model,
                             const std::vector<Contact>& contacts) {
  EvidenceVerdict verdict;
  try {
    const Record record = read_record(file, model);
    verdict.case_id = record.case_id;
    verdict.load_factor = record.load_factor;
    if (const std::string why = not_written(record); !why.empty()) {
      verdict.kind = "none";
      verdict.reasons.push_back(why);
      return verdict;
    }
    verdict.kind = "motion";
    if (record.friction)
      verdict.assumes.push_back("friction " + number(*record.friction) + " in every joint");
    check_record(record, model, contacts, verdict);
  } catch (const std::exception& e) {
    give_reason(verdict, std::string("cannot be read: ") + e.what());
  }
  return verdict;
}

}  // namespace skewback::audit
