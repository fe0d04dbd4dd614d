#include <Eigen/Geometry>
#include <algorithm>

#include "verify/check.hpp"

namespace skewback::audit {
namespace {

double largest_speed(const Model& model, const Evidence& evidence) {
  double speed = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    if (evidence.present[i] == 0) continue;
    for (const Vec3& p : model.bodies[i].vertices) {
      speed = std::max(speed, evidence.motions[i].at(p).norm());
    }
  }
  return speed;
}

// Associated flow: whatever force within the cone acts here, it does no positive work.
double penetration(const Vec3& velocity, const Vec3& normal, double mu) {
  const double apart = velocity.dot(normal);
  return mu * (velocity - apart * normal).norm() - apart;
}

// The velocity is affine and the penetration convex in the point, so the hull's corners decide.
double check_contacts(const Model& model, const std::vector<Contact>& contacts,
                      const Evidence& evidence, double speed, EvidenceVerdict& verdict) {
  double worst = -1e300;
  for (const Contact& c : contacts) {
    if (evidence.present[c.a] == 0 || evidence.present[c.b] == 0) continue;
    double here = -1e300;
    for (const Vec2& corner : c.hull) {
      const Vec3 p = c.world(corner);
      here = std::max(here, penetration(evidence.motions[c.b].at(p) - evidence.motions[c.a].at(p),
                                        c.normal, evidence.friction.value_or(c.friction_high)));
    }
    worst = std::max(worst, here);
    if (here <= kPenetration * speed) continue;
    give_reason(verdict, "contact " + model.bodies[c.a].id + " | " + model.bodies[c.b].id +
                             ": the blocks move into each other, or slide without parting, at " +
                             number(here / speed) + " of the largest speed");
  }
  return worst;
}

double check_props(const Model& model, const Evidence& evidence, double speed,
                   EvidenceVerdict& verdict) {
  double worst = -1e300;
  for (const Prop& prop : evidence.props) {
    if (evidence.present[prop.body] == 0) continue;
    const double here =
        penetration(evidence.motions[prop.body].at(prop.at), prop.direction, prop.friction);
    worst = std::max(worst, here);
    if (here > kPenetration * speed) {
      give_reason(verdict, "prop under " + model.bodies[prop.body].id +
                               ": the block moves into it at " + number(here / speed) +
                               " of the largest speed");
    }
  }
  return worst;
}

}  // namespace

void check_mechanism(const Model& model, const std::vector<Contact>& contacts,
                     const Evidence& evidence, const LoadSet& loads, double load_factor,
                     EvidenceVerdict& verdict) {
  const double speed = largest_speed(model, evidence);
  if (!(speed > 0)) {
    give_reason(verdict, "nothing moves");
    return;
  }
  double worst = std::max(check_contacts(model, contacts, evidence, speed, verdict),
                          check_props(model, evidence, speed, verdict));
  worst = std::max(worst, -speed);  // nothing touches
  double power = 0, load_sum = 0;
  for (std::size_t i = 0; i < model.bodies.size(); ++i) {
    if (evidence.present[i] == 0) continue;
    const Evidence::Motion& motion = evidence.motions[i];
    if (model.bodies[i].fixed) {
      for (const Vec3& p : model.bodies[i].vertices) {
        if (motion.at(p).norm() <= kTolerance * speed) continue;
        give_reason(verdict, model.bodies[i].id + " is fixed and moves");
        break;
      }
      continue;
    }
    const Vec3 middle = model.bodies[i].middle();
    const Wrench load = load_on(model, evidence, static_cast<int>(i), loads, load_factor, middle);
    power += load.force.dot(motion.at(middle)) + load.moment.dot(motion.w);
    load_sum += load.force.norm();
  }
  verdict.worst_penetration = worst / speed;
  verdict.power_rel = power / (largest_weight(model, evidence, loads) * speed);
  if (!(power > 0)) {
    give_reason(verdict, "the loads do no work on this motion");
  } else if (power <= std::max(0.0, worst) * load_sum) {
    give_reason(
        verdict,
        "the work of the loads, " + number(verdict.power_rel) +
            " of weight times speed, is no more than what the penetration left in it may explain");
  }
}

}  // namespace skewback::audit
