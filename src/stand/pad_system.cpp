#include "stand/pad_system.hpp"

#include <algorithm>
#include <cmath>

#include "stand/mechanism.hpp"

namespace skewback {
namespace {

constexpr int kStepsMost = 200;
constexpr double kGone = 1e4;         // length units; steps on the way may go far and come back
constexpr double kLongest = 1e3;      // length units, of one step
constexpr double kRegularise = 1e-9;  // of the mean stiffness, so that a loose block has a step

Mat3 cross_matrix(const Vec3& r) {
  Mat3 m;
  m << 0, -r.z(), r.y(), r.z(), 0, -r.x(), -r.y(), r.x(), 0;
  return m;
}

/// Unknowns of a block to the movement of a point and its turn, in the joint's frame.
Mat6 lever(const Frame& frame, const Vec3& centre, double length_unit) {
  Mat3 axes;
  axes << frame.x.transpose(), frame.y.transpose(), frame.z.transpose();
  Mat6 J = Mat6::Zero();
  J.topLeftCorner<3, 3>() = axes;
  J.topRightCorner<3, 3>() = -axes * cross_matrix(frame.origin - centre) / length_unit;
  J.bottomRightCorner<3, 3>() = axes / length_unit;
  return J;
}

void put_levers(const PadSystem& system, PadPlace& place) {
  place.from_a.setZero();
  place.from_b.setZero();
  const auto arm = [&](int slot) {
    return lever(place.frame, system.centre[static_cast<std::size_t>(slot)], system.length_unit);
  };
  if (place.slot_a >= 0) place.from_a = -arm(place.slot_a);
  if (place.slot_b >= 0) place.from_b = arm(place.slot_b);
}

double extent_of(const Regions& contact) {
  Vec2 low(1e300, 1e300), high(-1e300, -1e300);
  for (const Region& region : contact) {
    for (const Vec2& p : region.outer) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
  }
  return std::sqrt(std::max(0.0, (high - low).prod()));
}

bool carried(const Assembly& assembly, const StandOptions& options, int block) {
  return block >= 0 && is_present(options, block) &&
         !assembly.blocks[static_cast<std::size_t>(block)].fixed;
}

void number_blocks(const Assembly& assembly, const StandOptions& options, PadSystem& system) {
  system.slot.assign(assembly.blocks.size(), -1);
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    if (!carried(assembly, options, static_cast<int>(i))) continue;
    system.slot[i] = static_cast<int>(system.blocks.size());
    system.blocks.push_back(static_cast<int>(i));
    system.centre.push_back(centre_of_gravity(assembly.blocks[i]));
  }
}

int slot_of(const PadSystem& system, int block) {
  return block < 0 ? -1 : system.slot[static_cast<std::size_t>(block)];
}

void add_joints(const Assembly& assembly, const StandOptions& options, const PadOptions& pads,
                double edge_share, PadSystem& system) {
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (!is_present(options, joint.a) || !is_present(options, joint.b)) continue;
    if (!carried(assembly, options, joint.a) && !carried(assembly, options, joint.b)) continue;
    PadPlace place;
    place.joint = static_cast<int>(j);
    place.a = joint.a;
    place.b = joint.b;
    place.slot_a = slot_of(system, joint.a);
    place.slot_b = slot_of(system, joint.b);
    place.frame = joint.frame;
    place.friction = options.friction.value_or(joint.friction);
    const bool soft = joint.pad && joint.pad->kn > 0;
    const double give = soft ? 1 + pads.creep : 1;
    const double kn = (soft ? joint.pad->kn : pads.dry_kn) / give;
    const double ks =
        (soft ? (joint.pad->ks > 0 ? joint.pad->ks : joint.pad->kn * 0.4) : pads.dry_ks) / give;
    place.law = pad_law(joint.contact, kn, ks, edge_share * extent_of(joint.contact));
    system.places.push_back(std::move(place));
  }
  for (std::size_t i = 0; i < options.props.size(); ++i) {
    const Prop& prop = options.props[i];
    if (!carried(assembly, options, prop.block)) continue;
    PadPlace place;
    place.prop = static_cast<int>(i);
    place.b = prop.block;
    place.slot_b = slot_of(system, prop.block);
    place.frame = frame_on({prop.point, prop.direction});
    place.friction = prop.friction;
    place.law.mesh.points = {Vec2::Zero()};
    place.law.share = {1.0};
    place.law.kn = pads.prop_kn;
    place.law.ks = pads.prop_kn / 2;
    system.places.push_back(std::move(place));
  }
}

}  // namespace

PadSystem pad_system(const Assembly& assembly, const StandOptions& options, const PadOptions& pads,
                     double edge_share) {
  PadSystem system;
  number_blocks(assembly, options, system);
  add_joints(assembly, options, pads, edge_share, system);
  double square = 0, heaviest = 0;
  int count = 0;
  for (const PadPlace& place : system.places) {
    for (const int slot : {place.slot_a, place.slot_b}) {
      if (slot < 0) continue;
      const double extent =
          place.joint < 0
              ? 0
              : extent_of(assembly.joints[static_cast<std::size_t>(place.joint)].contact);
      square += (place.frame.origin - system.centre[static_cast<std::size_t>(slot)]).squaredNorm() +
                extent * extent / 4;
      ++count;
    }
  }
  system.length_unit = count > 0 && square > 0 ? std::sqrt(square / count) : 1;
  for (const int block : system.blocks) {
    heaviest = std::max(heaviest, mass_kg(assembly.blocks[static_cast<std::size_t>(block)]));
  }
  system.force_unit = heaviest > 0 ? heaviest * 9.81 : 1;
  std::vector<std::array<int, 2>> pairs;
  for (PadPlace& place : system.places) {
    put_levers(system, place);
    if (place.slot_a >= 0 && place.slot_b >= 0) pairs.push_back({place.slot_a, place.slot_b});
  }
  system.pattern = analyse(static_cast<int>(system.blocks.size()), pairs);
  return system;
}

namespace {

Mat3 turned(const Vec3& w) {
  const double angle = w.norm();
  if (angle == 0) return Mat3::Identity();
  return Eigen::AngleAxisd(angle, w / angle).toRotationMatrix();
}

}  // namespace

std::vector<Vec6> put_moved(const PadSystem& drawn, const std::vector<BlockVelocity>& moves,
                            const VectorX& u, PadSystem& moved) {
  const auto place_of = [&](int block, int slot, const Vec3& p) -> Vec3 {
    if (slot < 0) return p + velocity_at(moves[static_cast<std::size_t>(block)], p);
    const Vec3& c = drawn.centre[static_cast<std::size_t>(slot)];
    const Vec3 w = u.segment<3>(6 * slot + 3) / drawn.length_unit;
    return c + u.segment<3>(6 * slot) + turned(w) * (p - c);
  };
  for (std::size_t s = 0; s < drawn.blocks.size(); ++s) {
    moved.centre[s] = drawn.centre[s] + u.segment<3>(6 * static_cast<Eigen::Index>(s));
  }
  std::vector<Vec6> beyond;
  for (std::size_t i = 0; i < drawn.places.size(); ++i) {
    const PadPlace& from = drawn.places[i];
    PadPlace& to = moved.places[i];
    const Vec3& o = from.frame.origin;
    const Vec3 at_b = place_of(from.b, from.slot_b, o),
               turn_b = moves[static_cast<std::size_t>(from.b)].w;
    const Vec3 at_a = from.a < 0 ? o : place_of(from.a, from.slot_a, o);
    const Vec3 turn_a = from.a < 0 ? Vec3(Vec3::Zero()) : moves[static_cast<std::size_t>(from.a)].w;
    const Mat3 R = turned((turn_a + turn_b) / 2);
    to.frame = {(at_a + at_b) / 2, R * from.frame.x, R * from.frame.y, R * from.frame.z};
    put_levers(moved, to);
    const Vec3 apart = at_b - at_a, turn = turn_b - turn_a;
    Vec6 d;
    d << apart.dot(to.frame.x), apart.dot(to.frame.y), apart.dot(to.frame.z), turn.dot(to.frame.x),
        turn.dot(to.frame.y), turn.dot(to.frame.z);
    beyond.push_back(d - movement_of(to, u, Vec6::Zero()));
  }
  return beyond;
}

Vec6 movement_of(const PadPlace& place, const VectorX& u, const Vec6& given) {
  Vec6 d = given;
  if (place.slot_a >= 0) d += place.from_a * u.segment<6>(6 * place.slot_a);
  if (place.slot_b >= 0) d += place.from_b * u.segment<6>(6 * place.slot_b);
  return d;
}

void evaluate(const PadSystem& system, const VectorX& u, PadWork& work) {
  static const std::vector<Vec2> kNoDrift;
  static const std::vector<double> kNoBound;
  work.energy = -work.loads.dot(u);
  work.gradient = -work.loads;
  for_each_place(system, [&](std::size_t i) {
    const PadPlace& place = system.places[i];
    respond(place.law, movement_of(place, u, work.given[i]),
            work.drift.empty() ? kNoDrift : work.drift[i],
            work.bound.empty() ? kNoBound : work.bound[i], work.response[i]);
  });
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const PadResponse& r = work.response[i];
    work.energy += r.energy;
    for (const auto& [slot, lever] :
         {std::pair{place.slot_a, &place.from_a}, {place.slot_b, &place.from_b}}) {
      if (slot >= 0) work.gradient.segment<6>(6 * slot) -= lever->transpose() * r.wrench;
    }
  }
}

namespace {

void form(const PadSystem& system, const PadWork& work, BlockCholesky& K) {
  K.set_zero();
  double trace = 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const Mat6& S = work.response[i].stiffness;
    const Mat6 Sa = S * place.from_a, Sb = S * place.from_b;
    if (place.slot_a >= 0) {
      const Mat6 d = place.from_a.transpose() * Sa;
      trace += d.trace();
      K.add_diagonal(place.slot_a, d);
    }
    if (place.slot_b >= 0) {
      const Mat6 d = place.from_b.transpose() * Sb;
      trace += d.trace();
      K.add_diagonal(place.slot_b, d);
    }
    if (place.slot_a >= 0 && place.slot_b >= 0) {
      K.add_pair(place.slot_a, place.slot_b, place.from_a.transpose() * Sb);
    }
  }
  const auto n = static_cast<double>(system.blocks.size());
  const double shift = std::max(kRegularise * trace / (6 * n), 1e-300);
  for (std::size_t s = 0; s < system.blocks.size(); ++s) {
    K.add_diagonal(static_cast<int>(s), shift * Mat6::Identity());
  }
}

}  // namespace

void start_closed(const PadSystem& system, PadWork& work) {
  if (system.blocks.empty()) return;
  static const std::vector<Vec2> kNoDrift;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadLaw& law = system.places[i].law;
    Vec6 pressed = Vec6::Zero();
    pressed[2] = -1e-9;
    respond(law, pressed, kNoDrift, {}, work.response[i]);
  }
  BlockCholesky K(system.pattern);
  form(system, work, K);
  if (!K.factorise()) return;
  VectorX u = work.loads;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const Vec6 taken = work.response[i].stiffness * work.given[i];
    if (place.slot_a >= 0) u.segment<6>(6 * place.slot_a) -= place.from_a.transpose() * taken;
    if (place.slot_b >= 0) u.segment<6>(6 * place.slot_b) -= place.from_b.transpose() * taken;
  }
  K.solve(u);
  if (u.lpNorm<Eigen::Infinity>() <= system.length_unit) work.u = u;
}

PadOutcome balance(const PadSystem& system, double tolerance, int& steps, PadWork& work) {
  if (system.blocks.empty()) return PadOutcome::kBalanced;
  BlockCholesky K(system.pattern);
  evaluate(system, work.u, work);
  PadWork trial = work;
  for (int step = 0; step < kStepsMost; ++step) {
    const double off = work.gradient.lpNorm<Eigen::Infinity>() / system.force_unit;
    const double gone = work.u.lpNorm<Eigen::Infinity>() / system.length_unit;
    if (off <= tolerance) return gone <= 1 ? PadOutcome::kBalanced : PadOutcome::kTooFar;
    if (gone > kGone) return PadOutcome::kRunsAway;
    ++steps;
    form(system, work, K);
    if (!K.factorise()) return PadOutcome::kStuck;
    VectorX du = -work.gradient;
    K.solve(du);
    // where all is open only the shift resists: the line search would never come back from there
    const double far = du.lpNorm<Eigen::Infinity>() / (kLongest * system.length_unit);
    if (far > 1) du /= far;
    const double slope = work.gradient.dot(du);
    if (!(slope < 0)) return off <= 100 * tolerance ? PadOutcome::kBalanced : PadOutcome::kStuck;
    // near the end the gain is below what the energy is rounded to: less force left over decides
    const double rounding = 1e-14 * (std::abs(work.energy) + std::abs(work.loads.dot(work.u)));
    double s = 1;
    while (true) {
      trial.u = work.u + s * du;
      evaluate(system, trial.u, trial);
      const bool gains = trial.energy <= work.energy + 1e-4 * s * slope;
      const bool even = std::abs(trial.energy - work.energy) <= rounding &&
                        trial.gradient.norm() < work.gradient.norm();
      if (gains || even) break;
      s /= 2;
      if (s < 1e-10) return off <= 100 * tolerance ? PadOutcome::kBalanced : PadOutcome::kStuck;
    }
    std::swap(work.u, trial.u);
    std::swap(work.response, trial.response);
    std::swap(work.gradient, trial.gradient);
    work.energy = trial.energy;
  }
  return PadOutcome::kRunsAway;
}

}  // namespace skewback
