#include <algorithm>
#include <cmath>

#include "motion/world.hpp"

namespace skewback::motion {
namespace {

/// A point as the loop of the steps sees it.
struct Seen {
  double normal = 0, shear = 0, gap = 0, slid = 0;
  bool slips = false;
};

Seen see(const Touch& touch, const Sight& s, int i) {
  const Vec3 local = touch.at(i), r = s(local);
  Seen seen;
  seen.gap = r.z();
  seen.normal = touch.column(kKn)[i] * std::max(0.0, -r.z());
  const Vec2 d(r.x() - touch.column(kAnchor1)[i], r.y() - touch.column(kAnchor2)[i]);
  seen.shear = touch.column(kKs)[i] * d.norm();
  seen.slid = (r.head<2>() - local.head<2>()).norm();
  seen.slips = seen.normal > 0 && seen.shear >= touch.friction * seen.normal * (1 - 1e-6);
  return seen;
}

}  // namespace

std::vector<JointMotion> joint_motions(const World& world) {
  std::vector<JointMotion> all(static_cast<std::size_t>(world.joints_of_assembly));
  for (const Touch& touch : world.touches) {
    if (touch.joint < 0 || touch.gone) continue;
    JointMotion& joint = all[static_cast<std::size_t>(touch.joint)];
    const Sight s = sight(world, touch);
    const Vec3 normal = s.axes.col(2);
    joint.force += touch.force;
    joint.origin = s.origin;
    const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
    joint.moment += touch.moment_b + (b.centre - joint.origin).cross(touch.force);
    joint.normal_n = joint.force.dot(normal);
    joint.shear_n = (joint.force - joint.normal_n * normal).norm();
    double pressing = 0, slipping = 0;
    for (int i = 0; i < touch.points; ++i) {
      const Seen seen = see(touch, s, i);
      joint.opened_m = std::max(joint.opened_m, seen.gap);
      if (seen.normal > 0) joint.slid_m = std::max(joint.slid_m, touch.slid_before + seen.slid);
      pressing += seen.normal;
      if (seen.slips) slipping += seen.normal;
    }
    joint.slipping_share = pressing > 0 ? slipping / pressing : 0;
  }
  return all;
}

std::vector<PusherMotion> pusher_motions(const World& world) {
  std::vector<PusherMotion> all(world.scene.pushers.size());
  for (const Touch& touch : world.touches) {
    if (touch.pusher < 0 || touch.gone) continue;
    const Sight s = sight(world, touch);
    all[static_cast<std::size_t>(touch.pusher)] = {touch.force, s.origin + s.axes * s(touch.at(0))};
  }
  return all;
}

EnergyLedger ledger(const World& world) {
  EnergyLedger e;
  for (const Body& body : world.bodies) {
    e.contacts += body.contacts;
    e.dashed += body.dashed;
    if (!body.free) {
      e.ground -= body.contacts;
      continue;
    }
    e.kinetic += (body.heft * body.v.squaredNorm() + body.L.dot(body.w)) / 2;
    e.brought += body.brought;
    e.settled += body.settled;
  }
  for (const Touch& touch : world.touches) {
    e.rubbed += touch.rubbed;
    if (touch.gone) continue;
    Touch ahead = touch;  // springs at the places reached: works stand half way between
    push_one(world, best_touch_kernel(), ahead);
    e.strain += (touch.strain + ahead.strain) / 2;
    e.rubbed += (ahead.rubbed - touch.rubbed) / 2;
  }
  e.found_again = world.found_again_j;
  return e;
}

}  // namespace skewback::motion
