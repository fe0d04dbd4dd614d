#include "verify/check_motion.hpp"

#include <algorithm>
#include <cmath>

#include "verify/motion_record.hpp"

namespace skewback::audit {
namespace {

PointMass whole(const Model& model, const MotionRecord& record, std::size_t i) {
  const Body& body = model.bodies[i];
  std::vector<PointMass> masses = body.masses;
  if (record.carried) {
    masses.resize(1);
    masses.insert(masses.end(), (*record.carried)[i].begin(), (*record.carried)[i].end());
  }
  PointMass sum;
  for (const PointMass& m : masses) {
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
  const MotionRecord& record;
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

void check_prop(const Check& check, const PropRecord& p) {
  const double slack = kPress * check.mean_weight;
  if (p.force.norm() <= slack) return;
  const auto i = static_cast<std::size_t>(p.prop.body);
  const std::string where = "prop under " + check.model.bodies[i].id + ": ";
  const double n = p.force.dot(p.prop.direction);
  if (!check.is_free(i)) return give_reason(check.verdict, where + "the block is not there");
  if (n < 0) return give_reason(check.verdict, where + "pulls with " + number(-n) + " N");
  const double along = (p.force - n * p.prop.direction).norm();
  if (along > p.prop.friction * n * (1 + 1e-6) + slack)
    give_reason(check.verdict, where + number(along) + " N along it is more than " +
                                   number(p.prop.friction) + " times the " + number(n) +
                                   " N across it");
  const Pose& pose = check.last(p.prop.body);
  const Vec3 there = pose.at + pose.q * (p.prop.at - check.masses[i].at);
  if ((there - p.at).norm() > kLever)
    give_reason(check.verdict, where + "the force does not act where the block lies on it");
  const Vec3 top = p.prop.at - p.lowered * Vec3::UnitZ();
  if ((there - top).dot(p.prop.direction) > kLever)
    give_reason(check.verdict, where + "presses though the block lies clear of it");
}

void check_balance(const Check& check) {
  std::vector<Wrench> sums(check.model.bodies.size());
  for (const PropRecord& p : check.record.props)
    sums[static_cast<std::size_t>(p.prop.body)].add(p.force, p.at - check.last(p.prop.body).at);
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
  for (const PropRecord& prop : check.record.props) check_prop(check, prop);
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

std::string not_written(const MotionRecord& record) {
  if (record.ending == "not settled") return "claims nothing: not settled";
  if (record.ending != "at rest") return "";
  if (record.drops > 0) return "claims nothing: what a fallen load presses with is not written";
  if (record.met > 0) return "claims nothing: forces between faces that met are not written";
  return "";
}

void check_record(const MotionRecord& record, const Model& model,
                  const std::vector<Contact>& contacts, EvidenceVerdict& verdict) {
  const auto loads = model.cases.find(record.case_id);
  if (loads == model.cases.end())
    return give_reason(verdict, "the assembly has no case \"" + record.case_id + "\"");
  Check check{model, contacts, record, loads->second, verdict, 0, {}};
  double weight = 0;
  int count = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    check.masses.push_back(whole(model, record, i));
    if (model.bodies[i].fixed || record.there[i] == 0) continue;
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
    const MotionRecord record = read_motion_record(file, model);
    verdict.case_id = record.case_id;
    verdict.load_factor = record.load_factor;
    if (const std::string why = not_written(record); !why.empty()) {
      verdict.kind = "none";
      verdict.reasons.push_back(why);
      return verdict;
    }
    verdict.kind = "motion";
    const auto there = std::ranges::count(record.there, 1);
    if (static_cast<std::size_t>(there) < model.bodies.size())
      verdict.assumes.push_back(std::to_string(there) + " of " +
                                std::to_string(model.bodies.size()) + " blocks there");
    if (!record.props.empty())
      verdict.assumes.push_back(std::to_string(record.props.size()) + " props");
    if (record.friction)
      verdict.assumes.push_back("friction " + number(*record.friction) + " in every joint");
    check_record(record, model, contacts, verdict);
  } catch (const std::exception& e) {
    give_reason(verdict, std::string("cannot be read: ") + e.what());
  }
  return verdict;
}

}  // namespace skewback::audit
