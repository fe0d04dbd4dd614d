#include "motion/looks.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace skewback::motion {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double angle_of(const Quaternion& d) {
  return 2 * std::atan2(Vec3(d.x(), d.y(), d.z()).norm(), std::abs(d.w()));
}

/// The way that all of the ground has gone; none where its parts part or turn.
std::optional<Vec3> way_of_ground(const World& world, const Mark& mark) {
  constexpr double kSame = 1e-9;  // m
  for (const Moving& m : world.moving)
    if (m.turn.norm() > 0) return std::nullopt;
  std::optional<Vec3> way;
  for (std::size_t i = 0; i < mark.centres.size(); ++i) {
    const Body& body = world.bodies[i];
    if (body.free || !body.there) continue;
    const Vec3 own = body.centre - mark.centres[i];
    if (way && (own - *way).norm() > kSame) return std::nullopt;
    way = own;
  }
  return way ? way : Vec3(Vec3::Zero());
}

}  // namespace

Look look(const World& world) {
  Look seen;
  for (int i = 0; i < world.blocks_of_assembly; ++i) {
    const Body& body = world.bodies[at(i)];
    if (!body.free) continue;
    const double moved = (body.centre - body.start).norm();
    if (moved > seen.moved || seen.block < 0) {
      seen.moved = moved;
      seen.block = i;
    }
    seen.turned = std::max(seen.turned, angle_of(body.q * body.q_start.conjugate()));
    seen.speed = std::max(seen.speed, body.v.norm());
  }
  for (const Body& body : world.bodies) {  // a load that falls too
    if (!body.free) continue;
    const double force = body.out_of_balance.norm(), moment = body.turning.norm();
    seen.unbalanced = std::max({seen.unbalanced, force / world.mean_weight,
                                moment / (world.mean_weight * world.mean_size)});
    seen.finite = seen.finite && std::isfinite(force + moment) && body.centre.allFinite() &&
                  body.v.allFinite() && body.q.coeffs().allFinite();
  }
  return seen;
}

Mark mark_of(const World& world) {
  Mark mark;
  mark.time_s = world.time_s;
  for (int i = 0; i < world.blocks_of_assembly; ++i) {
    mark.centres.push_back(world.bodies[at(i)].centre);
    mark.turns.push_back(world.bodies[at(i)].q);
  }
  return mark;
}

double gone_since(const World& world, const Mark& mark) {
  const Vec3 with = way_of_ground(world, mark).value_or(Vec3(Vec3::Zero()));
  double most = 0;
  for (std::size_t i = 0; i < mark.centres.size(); ++i)
    if (world.bodies[i].free)
      most = std::max(most, (world.bodies[i].centre - mark.centres[i] - with).norm());
  return most;
}

double turned_since(const World& world, const Mark& mark) {
  double most = 0;
  for (std::size_t i = 0; i < mark.turns.size(); ++i)
    if (world.bodies[i].free)
      most = std::max(most, angle_of(world.bodies[i].q * mark.turns[i].conjugate()));
  return most;
}

double ground_may_part(const World& world, const Mark& mark) {
  if (way_of_ground(world, mark)) return 0;
  std::vector<double> each(world.bodies.size(), 0);
  for (const Moving& m : world.moving) {
    const Body& body = world.bodies[at(m.body)];
    const double left = 1 - eased(mark.time_s, m.from_s, m.over_s);
    each[at(m.body)] += left * (m.shift.norm() + m.turn.norm() * (body.start - m.about).norm());
  }
  return each.empty() ? 0 : *std::max_element(each.begin(), each.end());
}

double ground_turns(const World& world, const Mark& mark) {
  double most = 0;
  for (const Moving& m : world.moving)
    most = std::max(most, (1 - eased(mark.time_s, m.from_s, m.over_s)) * m.turn.norm());
  return most;
}

}  // namespace skewback::motion
