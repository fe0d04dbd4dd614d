// One step: forces at the contacts, then the bodies on by leap-frog, turns by the half step on the
// angular momentum (Fincham 1992; from memory).
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "motion/world.hpp"

namespace skewback::motion {
namespace {

Quaternion turned(const Vec3& turn) {
  const double angle = turn.norm();
  if (angle < 1e-12) return Quaternion(1, turn.x() / 2, turn.y() / 2, turn.z() / 2).normalized();
  return Quaternion(Eigen::AngleAxisd(angle, turn / angle));
}

/// Own axes to world, turned on by a small vector (Cayley's rule, of second order).
Quaternion turned_on(const Quaternion& q, const Vec3& turn) {
  return (Quaternion(1, turn.x() / 2, turn.y() / 2, turn.z() / 2) * q).normalized();
}

void put_world_forces(const World& world, const Mat3& axes, const Vec3& origin, const TouchStep& s,
                      Touch& touch) {
  const Vec3 moment = axes * Vec3(s.moment[0], s.moment[1], s.moment[2]);
  touch.force = axes * Vec3(s.force[0], s.force[1], s.force[2]);
  const Body& a = world.bodies[static_cast<std::size_t>(touch.a)];
  const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
  touch.moment_b = moment + (origin - b.centre).cross(touch.force);
  touch.moment_a = -moment - (origin - a.centre).cross(touch.force);
  if (touch.dash_s <= 0) return;
  const Vec3 dash = axes * Vec3(s.dash_moment[0], s.dash_moment[1], s.dash_moment[2]);
  touch.dash_force = axes * Vec3(s.dash_force[0], s.dash_force[1], s.dash_force[2]);
  touch.dash_moment_b = dash + (origin - b.centre).cross(touch.dash_force);
  touch.dash_moment_a = -dash - (origin - a.centre).cross(touch.dash_force);
}

void place_moving(const World& world, std::size_t index, double time_s, Body& body) {
  body.centre = body.start;
  body.q = body.q_start;
  for (const int k : world.moves_of[index]) {
    const Moving& m = world.moving[static_cast<std::size_t>(k)];
    const double share = eased(time_s, m.from_s, m.over_s);
    if (share <= 0) continue;
    const Quaternion turn = turned(share * m.turn);
    body.centre = m.about + turn * (body.centre - m.about) + share * m.shift;
    body.q = (turn * body.q).normalized();
  }
  body.R = body.q.toRotationMatrix();
}

struct Wrench {
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();  // about the body's centre
  void add(const Vec3& f, const Vec3& m, double sign) {
    force += sign * f;
    moment += m;
  }
  [[nodiscard]] double power(const Vec3& v, const Vec3& w) const {
    return force.dot(v) + moment.dot(w);
  }
};

/// What the contacts do on a body, and the dashpots' part of it.
struct Contacts {
  Wrench all, dashpots;
};

Contacts contacts_on(const World& world, std::size_t i) {
  Contacts on;
  for (const Side& side : world.sides[i]) {
    const Touch& touch = world.touches[static_cast<std::size_t>(side.touch)];
    const double sign = side.is_b ? 1 : -1;
    on.all.add(touch.force, side.is_b ? touch.moment_b : touch.moment_a, sign);
    if (touch.dash_s > 0)
      on.dashpots.add(touch.dash_force, side.is_b ? touch.dash_moment_b : touch.dash_moment_a,
                      sign);
  }
  return on;
}

/// Works over a step, with the mean of the velocities half a step before and after the forces.
void put_works(const Contacts& on, double dt, const Vec3& v, const Vec3& w, Body& body) {
  body.contacts += dt * on.all.power(v, w);
  body.dashed -= dt * on.dashpots.power(v, w);
}

void advance_ground(World& world, std::size_t i) {
  if (world.moves_of[i].empty()) return;
  const Contacts on = contacts_on(world, i);
  Body& body = world.bodies[i];
  const Vec3 centre = body.centre, v = body.v, w = body.w;
  const Quaternion q = body.q;
  place_moving(world, i, world.time_s + world.step_s, body);
  body.v = (body.centre - centre) / world.step_s;
  const Quaternion d = body.q * q.conjugate();
  body.w = 2 * Vec3(d.x(), d.y(), d.z()) / (d.w() * world.step_s);
  put_works(on, world.step_s, (body.v + v) / 2, (body.w + w) / 2, body);
}

Vec3 against(const Vec3& force, const Vec3& v, double share) {
  return {force.x() - share * std::abs(force.x()) *
                          (v.x() > 0   ? 1
                           : v.x() < 0 ? -1
                                       : 0),
          force.y() - share * std::abs(force.y()) *
                          (v.y() > 0   ? 1
                           : v.y() < 0 ? -1
                                       : 0),
          force.z() - share * std::abs(force.z()) *
                          (v.z() > 0   ? 1
                           : v.z() < 0 ? -1
                                       : 0)};
}

Vec3 spin(const Body& body, const Mat3& R, const Vec3& L) {
  return R * (R.transpose() * L).cwiseQuotient(body.inertia);
}

}  // namespace

double eased(double time_s, double from_s, double over_s) {
  if (time_s >= from_s + over_s) return 1;
  if (time_s <= from_s) return 0;
  return (1 - std::cos(kPi * (time_s - from_s) / over_s)) / 2;
}

double weight_share_at(const World& world, double time_s) {
  return world.options.damping == Damping::kSettling ? eased(time_s, 0, world.put_on_s) : 1;
}

double load_factor_at(const World& world, double time_s) {
  return world.factor_from + (world.factor_to - world.factor_from) *
                                 eased(time_s, world.factor_at_s, world.factor_over_s);
}

Vec3 shaking_at(const Shaking& shaking, double time_s) {
  const auto& t = shaking.time_s;
  if (t.empty() || time_s < t.front() || time_s > t.back()) return Vec3::Zero();
  const auto next = std::upper_bound(t.begin(), t.end(), time_s);
  if (next == t.end()) return shaking.acceleration.back();
  const auto k = static_cast<std::size_t>(next - t.begin());
  const double share = (time_s - t[k - 1]) / (t[k] - t[k - 1]);
  return (1 - share) * shaking.acceleration[k - 1] + share * shaking.acceleration[k];
}

Sight sight(const World& world, const Touch& touch) {
  const Body& a = world.bodies[static_cast<std::size_t>(touch.a)];
  const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
  Sight s;
  s.axes = a.R * touch.axes_a;
  s.origin = a.centre + a.R * touch.origin_a;
  s.turn = s.axes.transpose() * (b.R * touch.axes_b);
  s.shift = s.axes.transpose() * (b.centre + b.R * touch.origin_b - s.origin);
  return s;
}

void push_one(const World& world, const TouchKernel& kernel, Touch& touch) {
  const Body& a = world.bodies[static_cast<std::size_t>(touch.a)];
  const Body& b = world.bodies[static_cast<std::size_t>(touch.b)];
  const auto [axes, origin, turn, shift] = sight(world, touch);
  TouchStep s;
  for (int c = 0; c < kColumns; ++c) s.column[c] = touch.column(c);
  s.padded = touch.padded;
  for (int i = 0; i < 3; ++i) {
    s.shift[i] = shift[i];
    for (int k = 0; k < 3; ++k) s.turn[3 * i + k] = turn(i, k);
  }
  s.friction = touch.friction;
  s.dash_s = touch.dash_s;
  s.step_s = world.step_s;
  const Vec3 v =
      axes.transpose() * (b.v + b.w.cross(origin - b.centre) - a.v - a.w.cross(origin - a.centre));
  const Vec3 w = axes.transpose() * (b.w - a.w);
  for (int i = 0; i < 3; ++i) {
    s.v[i] = v[i];
    s.w[i] = w[i];
  }
  (touch.dash_s > 0 ? kernel.dashpots : kernel.springs)(s);
  touch.strain = s.strain;
  touch.rubbed += s.rubbed;
  put_world_forces(world, axes, origin, s, touch);
}

void push(World& world, const TouchKernel& kernel, std::size_t from, std::size_t to) {
  for (std::size_t t = from; t < to; ++t)
    if (!world.touches[t].gone) push_one(world, kernel, world.touches[t]);
}

void advance(World& world, std::size_t from, std::size_t to) {
  const double dt = world.step_s, weight = weight_share_at(world, world.time_s),
               factor = load_factor_at(world, world.time_s),
               settling = world.options.damping == Damping::kSettling ? world.options.settling : 0;
  const Vec3 fields = weight * world.gravity + factor * world.live_acceleration -
                      shaking_at(world.scene.shaking, world.time_s);
  for (std::size_t i = from; i < to; ++i) {
    Body& body = world.bodies[i];
    if (!body.there) continue;
    if (!body.free) {
      advance_ground(world, i);
      continue;
    }
    const Contacts on = contacts_on(world, i);
    const Vec3 load = body.mass * fields + factor * body.live;
    const Mat3 arms = factor * body.R * body.live_arms;
    const Vec3 load_moment(arms(1, 2) - arms(2, 1), arms(2, 0) - arms(0, 2),
                           arms(0, 1) - arms(1, 0));
    body.out_of_balance = on.all.force + load;
    body.turning = on.all.moment + load_moment;
    const Vec3 net = against(body.out_of_balance, body.v, settling),
               net_moment = against(body.turning, body.w, settling);
    const Vec3 v = body.v, w = body.w;
    body.v += dt / body.heft * net;
    body.L += dt * net_moment;
    const Vec3 guess = spin(body, body.R, body.L);
    const Mat3 half = turned_on(body.q, dt / 2 * guess).toRotationMatrix();
    body.w = spin(body, half, body.L);
    const Vec3 mean_v = (body.v + v) / 2, mean_w = (body.w + w) / 2;
    put_works(on, dt, mean_v, mean_w, body);
    body.brought += dt * (load.dot(mean_v) + load_moment.dot(mean_w));
    body.settled +=
        dt * ((body.out_of_balance - net).dot(mean_v) + (body.turning - net_moment).dot(mean_w));
    body.centre += dt * body.v;
    body.q = turned_on(body.q, dt * body.w);
    body.R = body.q.toRotationMatrix();
  }
}

}  // namespace skewback::motion
