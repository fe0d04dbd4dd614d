#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "verify/absorb.hpp"

namespace skewback::audit {

Wrench load_on(const Model& model, const Evidence& evidence, int body, const LoadSet& loads,
               double load_factor, const Vec3& about) {
  Wrench total;
  for (const PointMass& m : masses_of(model, evidence, body)) {
    total.add(m.kg * (loads.gravity + load_factor * loads.live_acceleration), m.at - about);
  }
  for (const Load& live : loads.live) {
    if (live.body == body) total.add(load_factor * live.newtons, live.at - about);
  }
  return total;
}

double largest_weight(const Model& model, const Evidence& evidence, const LoadSet& loads) {
  double weight = 0, load = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    if (model.bodies[i].fixed || evidence.present[i] == 0) continue;
    double kg = 0;
    for (const PointMass& m : masses_of(model, evidence, static_cast<int>(i))) kg += m.kg;
    weight = std::max(weight, kg * loads.gravity.norm());
    load = std::max(
        load, load_on(model, evidence, static_cast<int>(i), loads, 1, Vec3::Zero()).force.norm());
  }
  return weight > 0 ? weight : load;
}

void give_reason(EvidenceVerdict& verdict, const std::string& reason) {
  verdict.ok = false;
  if (verdict.reasons.size() < kReasonsAtMost) verdict.reasons.push_back(reason);
}

std::string number(double x) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", x);
  return text;
}

namespace {

// |t| - mu n, and whether the force pushes within its cone.
double beyond_cone(const Vec3& force, const Vec3& normal, double mu) {
  const double n = force.dot(normal);
  return (force - n * normal).norm() - mu * n;
}
bool within_cone(const Vec3& force, const Vec3& normal, double mu, double weight) {
  const double n = force.dot(normal), slack = kTolerance * weight;
  return n >= -slack && beyond_cone(force, normal, mu) <= kTolerance * mu * std::abs(n) + slack;
}

struct Check {
  const Model& model;
  const std::vector<Contact>& contacts;
  const Evidence& evidence;
  double weight;
  EvidenceVerdict& verdict;

  void note_cone(double beyond) const {
    verdict.worst_cone = std::max(verdict.worst_cone, beyond / weight);
  }
  void check_cone(const Vec3& force, const Vec3& normal, double mu,
                  const std::string& where) const {
    note_cone(beyond_cone(force, normal, mu));
    if (within_cone(force, normal, mu, weight)) return;
    const double n = force.dot(normal);
    give_reason(verdict, where + (n < 0 ? ": pulls with " + number(-n) + " N"
                                        : ": " + number((force - n * normal).norm()) +
                                              " N along the joint is more than " + number(mu) +
                                              " times the " + number(n) + " N across it"));
  }
};

void check_contact(const Check& check, const Evidence::Force& force) {
  const std::string where =
      "contact " + check.model.bodies[force.a].id + " | " + check.model.bodies[force.b].id;
  const Contact* contact = contact_of(check.contacts, check.evidence, force, check.weight);
  if (contact == nullptr) {
    give_reason(check.verdict, where + ": no faces of these blocks meet");
    return;
  }
  if (contact->outside(force.at) > kOnFace) {
    give_reason(check.verdict, where + ": the force acts " +
                                   number(contact->outside(force.at) * 1e3) +
                                   " mm outside the faces");
  }
  if (contact->off_plane(force.at) > kOnPlane) {
    give_reason(check.verdict, where + ": the force acts " +
                                   number(contact->off_plane(force.at) * 1e3) +
                                   " mm off the plane of the joint");
  }
  const Vec3 on_b = contact->b == force.b ? force.newtons : Vec3(-force.newtons);
  check.check_cone(on_b, contact->normal, check.evidence.friction.value_or(contact->friction_low),
                   where);
}

}  // namespace

const Contact* contact_of(const std::vector<Contact>& contacts, const Evidence& evidence,
                          const Evidence::Force& force, double weight) {
  const Contact* best = nullptr;
  double best_miss = 1e300;
  for (const Contact& c : contacts) {
    const bool same = (c.a == force.a && c.b == force.b) || (c.a == force.b && c.b == force.a);
    if (!same) continue;
    const double miss = std::max(c.outside(force.at) / kOnFace, c.off_plane(force.at) / kOnPlane);
    const Vec3 on_b = c.b == force.b ? force.newtons : Vec3(-force.newtons);
    const double mu = evidence.friction.value_or(c.friction_low);
    // In the corner of two contacts the point lies on both; the one that can carry the force
    // counts.
    const double rank = miss <= 1 ? (within_cone(on_b, c.normal, mu, weight) ? 0 : 1) : miss;
    if (rank < best_miss) {
      best = &c;
      best_miss = rank;
    }
  }
  return best;
}

void check_forces(const Model& model, const std::vector<Contact>& contacts,
                  const Evidence& evidence, const LoadSet& loads, double load_factor,
                  EvidenceVerdict& verdict) {
  const Check check{model, contacts, evidence, largest_weight(model, evidence, loads), verdict};
  verdict.worst_cone = -1e300;
  std::vector<Wrench> sums(model.bodies.size());
  const auto act = [&](int body, const Vec3& force, const Vec3& at) {
    if (evidence.present[body] == 0)
      give_reason(verdict, "a force on " + model.bodies[body].id + ", which is not there");
    sums[body].add(force, at - model.bodies[body].middle());
  };
  for (const Evidence::Force& f : evidence.contacts) {
    check_contact(check, f);
    act(f.b, f.newtons, f.at);
    act(f.a, -f.newtons, f.at);
  }
  for (const auto& [index, force] : evidence.prop_forces) {
    const Prop& prop = evidence.props[index];
    check.check_cone(force, prop.direction, prop.friction,
                     "prop under " + model.bodies[prop.body].id);
    act(prop.body, force, prop.at);
  }
  if (evidence.contacts.empty() && evidence.prop_forces.empty()) verdict.worst_cone = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    const Body& body = model.bodies[i];
    if (body.fixed || evidence.present[i] == 0) continue;
    const Wrench load =
        load_on(model, evidence, static_cast<int>(i), loads, load_factor, body.middle());
    const double off = std::max((sums[i].force + load.force).norm(),
                                (sums[i].moment + load.moment).norm() / body.radius()) /
                       check.weight;
    verdict.residual_rel = std::max(verdict.residual_rel, off);
    if (off <= kTolerance) continue;
    give_reason(verdict,
                body.id + ": out of balance by " + number(off) + " of the largest block weight");
  }
}

}  // namespace skewback::audit
