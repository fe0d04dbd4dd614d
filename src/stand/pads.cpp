#include "stand/pads.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "stand/mechanism.hpp"
#include "stand/pad_system.hpp"

namespace skewback {
namespace {

constexpr int kRoundsMost = 400;
constexpr double kShortMost = 1e-6;  // of the largest block weight: friction left unused by slip
constexpr double kShareLeast = 1.0 / 256;  // of the way to the bound that the pressure gives

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

VectorX loads_on(const Assembly& assembly, const LoadCase& load, const PadSystem& system,
                 const std::vector<BlockVelocity>* moves, double factor) {
  VectorX rows = VectorX::Zero(6 * static_cast<Eigen::Index>(system.blocks.size()));
  for (std::size_t s = 0; s < system.blocks.size(); ++s) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(system.blocks[s])];
    rows.segment<3>(6 * static_cast<Eigen::Index>(s)) +=
        mass_kg(block) * (load.gravity + factor * load.live_acceleration);
  }
  for (const LiveForce& live : load.live) {
    const int slot = system.slot[static_cast<std::size_t>(live.block)];
    if (slot < 0) continue;
    Vec3 p = live.point;
    if (moves != nullptr) p += velocity_at((*moves)[static_cast<std::size_t>(live.block)], p);
    const Vec3 arm = p - system.centre[static_cast<std::size_t>(slot)];
    rows.segment<3>(6 * slot) += factor * live.force;
    rows.segment<3>(6 * slot + 3) += arm.cross(factor * live.force) / system.length_unit;
  }
  return rows;
}

/// Displacement of the fixed blocks, and what warmth adds to the others, at a joint.
Vec6 given_movement(const PadSystem& system, const PadPlace& place, const PadOptions& pads) {
  Vec3 shift = Vec3::Zero(), turn = Vec3::Zero();
  for (const auto& [block, slot, sign] :
       {std::tuple{place.a, place.slot_a, -1.0}, {place.b, place.slot_b, 1.0}}) {
    if (block < 0) continue;
    if (slot >= 0) {
      shift += sign * pads.expansion * pads.warmer_k *
               (place.frame.origin - system.centre[static_cast<std::size_t>(slot)]);
      continue;
    }
    for (const BlockMove& move : pads.moves) {
      if (move.block != block) continue;
      shift += sign * (move.shift + move.turn.cross(place.frame.origin - move.about));
      turn += sign * move.turn;
    }
  }
  Vec6 d;
  d << shift.dot(place.frame.x), shift.dot(place.frame.y), shift.dot(place.frame.z),
      turn.dot(place.frame.x), turn.dot(place.frame.y), turn.dot(place.frame.z);
  return d;
}

const PadHistory::Mark* mark_of(const PadHistory* before, const PadPlace& place) {
  if (before == nullptr) return nullptr;
  for (const PadHistory::Mark& mark : before->marks) {
    if (place.joint >= 0
            ? mark.joint == place.joint
            : mark.joint < 0 && mark.block == place.b && mark.point == place.frame.origin) {
      return &mark;
    }
  }
  return nullptr;
}

/// Greatest |t| - mu n, N.
double beyond_friction(const PadSystem& system, const PadWork& work) {
  double worst = 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      worst = std::max(worst, r.tangential[k].norm() - system.places[i].friction * r.normal[k]);
    }
  }
  return worst;
}

/// Greatest mu n - bound where a point slips under a bound that its pressure has outgrown, N.
double short_of_friction(const PadSystem& system, const PadWork& work) {
  double worst = 0;
  if (work.bound.empty()) return worst;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double bound = work.bound[i][k];
      if (r.tangential[k].norm() < bound * (1 - 1e-9)) continue;
      worst = std::max(worst, system.places[i].friction * r.normal[k] - bound);
    }
  }
  return worst;
}

using Bounds = std::vector<std::vector<double>>;

/// What the pressure allows, mixed with the bounds there were.
Bounds next_bounds(const PadSystem& system, const PadWork& work, const Bounds& now, double share) {
  Bounds next(system.places.size());
  for (std::size_t i = 0; i < next.size(); ++i) {
    const PadResponse& r = work.response[i];
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double allowed = system.places[i].friction * r.normal[k];
      next[i].push_back(now.empty() ? std::max(allowed, r.tangential[k].norm())
                                    : now[i][k] + share * (allowed - now[i][k]));
    }
  }
  return next;
}

enum class Settled { kYes, kSlides, kWanders };

/// Rounds on the bounds of friction, from a state that sticks everywhere.
Settled settle_friction(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  double share = 1, least = 1e300;
  int stalled = 0;
  while (state.rounds < kRoundsMost) {
    const double over = beyond_friction(system, work) / system.force_unit,
                 under = short_of_friction(system, work) / system.force_unit;
    if (over <= tolerance && under <= kShortMost) return Settled::kYes;
    const double beyond = std::max(over, under);
    stalled = beyond < 0.9 * least ? 0 : stalled + 1;
    least = std::min(least, beyond);
    if (stalled > 12) {
      share = std::max(share / 2, 2 * kShareLeast);
      stalled = 0;
    }
    ++state.rounds;
    PadWork trial = work;
    trial.bound = next_bounds(system, work, work.bound, share);
    const double aim = std::clamp(0.01 * beyond, 0.3 * tolerance, 1e-4);
    if (balance(system, aim, state.steps, trial) == PadOutcome::kBalanced) {
      work = std::move(trial);
      continue;
    }
    share /= 2;
    if (share < kShareLeast) return Settled::kSlides;
  }
  return Settled::kWanders;
}

/// The state under the loads in `work`, from work.u.
void find_state(const PadSystem& system, double tolerance, PadState& state, PadWork& work) {
  work.bound.clear();
  const PadOutcome stuck = balance(system, 0.3 * tolerance, state.steps, work);
  if (stuck != PadOutcome::kBalanced) {
    state.reason = stuck == PadOutcome::kRunsAway
                       ? "blocks move away without end even where friction never gives"
                   : stuck == PadOutcome::kTooFar
                       ? "the pads would have to give by more than the size of a block"
                       : "the solver of the pads stopped short";
    return;
  }
  state.sticks = beyond_friction(system, work) <= tolerance * system.force_unit;
  switch (settle_friction(system, tolerance, state, work)) {
    case Settled::kSlides:
      state.reason = "no state found in which friction stays within its bound: blocks slide";
      return;
    case Settled::kWanders:
      state.reason = "the bound of friction did not settle in " + std::to_string(state.rounds) +
                     " rounds; |t| over its bound by " +
                     number(beyond_friction(system, work) / system.force_unit) +
                     " of the largest block weight";
      return;
    case Settled::kYes:
      break;
  }
  // the last rounds were balanced loosely; here to the end, bounds as they are
  if (balance(system, 0.3 * tolerance, state.steps, work) != PadOutcome::kBalanced) {
    state.reason = "the solver of the pads stopped short";
    return;
  }
  state.found = true;
}

JointPad summary_of(const PadPlace& place, const Vec6& movement, const PadResponse& r) {
  JointPad out;
  Vec2 shear = Vec2::Zero();
  double slipping = 0, closed = 0, all = 0;
  for (std::size_t k = 0; k < r.normal.size(); ++k) {
    const Vec2& p = place.law.mesh.points[k];
    const double closing = closing_at(movement, p);
    out.normal_n += r.normal[k];
    shear += r.tangential[k];
    all += place.law.share[k];
    if (closing > 0) closed += place.law.share[k];
    out.opening_max_m = std::max(out.opening_max_m, -closing);
    out.closing_max_m = std::max(out.closing_max_m, closing);
    if (place.law.kn * closing > out.peak_pa) {
      out.peak_pa = place.law.kn * closing;
      out.peak_at = p;
    }
    const double bound = place.friction * r.normal[k];
    if (r.normal[k] > 0 && r.tangential[k].norm() >= bound * (1 - 1e-6)) slipping += r.normal[k];
  }
  out.shear_n = shear.norm();
  out.closed_share = all > 0 ? closed / all : 0;
  out.slipping_share = out.normal_n > 0 ? slipping / out.normal_n : 0;
  return out;
}

void report_joints(const Assembly& assembly, const PadSystem& system, const PadWork& work,
                   PadState& state) {
  state.joints.assign(assembly.joints.size(), {});
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const PadResponse& r = work.response[i];
    Vec3 prop = Vec3::Zero();
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const Vec3 force = r.tangential[k].x() * place.frame.x + r.tangential[k].y() * place.frame.y +
                         r.normal[k] * place.frame.z;
      prop += force;
      if (place.joint >= 0 && force.norm() > 0) {
        state.forces.contacts.push_back(
            {place.joint, place.frame.to_world(place.law.mesh.points[k]), force});
      }
    }
    if (place.prop >= 0) {
      state.forces.props.push_back({place.prop, prop});
      continue;
    }
    const JointPad joint = summary_of(place, movement_of(place, work.u, work.given[i]), r);
    state.joints[static_cast<std::size_t>(place.joint)] = joint;
    if (joint.peak_pa > state.peak_pa) {
      state.peak_pa = joint.peak_pa;
      state.peak_joint = place.joint;
    }
    if (joint.opening_max_m > state.opening_max_m) {
      state.opening_max_m = joint.opening_max_m;
      state.opening_joint = place.joint;
    }
    if (joint.normal_n > 0.01 * system.force_unit &&
        joint.shear_n / joint.normal_n > state.friction_used) {
      state.friction_used = joint.shear_n / joint.normal_n;
      state.friction_joint = place.joint;
    }
  }
}

std::vector<BlockVelocity> moves_of(const Assembly& assembly, const PadSystem& drawn,
                                    const PadOptions& pads, const VectorX& u) {
  std::vector<BlockVelocity> moves(assembly.blocks.size());
  for (std::size_t s = 0; s < drawn.blocks.size(); ++s) {
    BlockVelocity& move = moves[static_cast<std::size_t>(drawn.blocks[s])];
    const auto row = 6 * static_cast<Eigen::Index>(s);
    move.w = u.segment<3>(row + 3) / drawn.length_unit;
    move.v = u.segment<3>(row) - move.w.cross(drawn.centre[s]);
  }
  for (const BlockMove& move : pads.moves) {
    BlockVelocity& block = moves[static_cast<std::size_t>(move.block)];
    block.w += move.turn;
    block.v += move.shift - move.turn.cross(move.about);
  }
  return moves;
}

PadHistory history_of(const PadSystem& system, const PadWork& work, const std::vector<Vec6>& datum,
                      const PadState& state) {
  PadHistory after;
  after.moves = state.moves;
  after.placed.assign(system.slot.size(), 0);
  for (std::size_t b = 0; b < system.slot.size(); ++b) after.placed[b] = system.slot[b] >= 0;
  for (std::size_t i = 0; i < system.places.size(); ++i) {
    const PadPlace& place = system.places[i];
    const PadResponse& r = work.response[i];
    const Vec6 d = movement_of(place, work.u, work.given[i]);
    PadHistory::Mark mark{place.joint, place.b, place.frame.origin, datum[i], {}};
    for (std::size_t k = 0; k < r.normal.size(); ++k) {
      const double stiffness = place.law.ks * place.law.share[k];
      Vec2 drift = slip_at(d, place.law.mesh.points[k]);
      if (stiffness > 0) drift += r.tangential[k] / stiffness;
      mark.drift.push_back(drift);
    }
    after.marks.push_back(std::move(mark));
  }
  return after;
}

double furthest(const PadSystem& system, const VectorX& u) {
  double most = 0;
  for (std::size_t s = 0; s < system.blocks.size(); ++s) {
    most = std::max(most, u.segment<3>(6 * static_cast<Eigen::Index>(s)).norm());
  }
  return most;
}

/// Goes on from the state on the drawn shape to that on the moved one: levers from where things
/// have gone, again until they no longer move. False, with the reason, where there is none.
bool on_moved_shape(const Assembly& assembly, const LoadCase& load, const PadOptions& pads,
                    const PadSystem& drawn, PadSystem& shape, PadState& state, PadWork& work) {
  constexpr int kPassesMost = 30;
  constexpr double kStill = 1e-7;
  const std::vector<Vec6> warmth_and_datum = [&] {
    std::vector<Vec6> rest = work.given;  // without what fixed blocks do: that is in the places
    for (std::size_t i = 0; i < rest.size(); ++i) {
      PadOptions still = pads;
      still.warmer_k = 0;
      rest[i] -= given_movement(drawn, drawn.places[i], still);
    }
    return rest;
  }();
  const double first = state.move_max_m;
  VectorX last = work.u;
  state.found = false;
  for (int pass = 0; pass < kPassesMost; ++pass) {
    const std::vector<Vec6> beyond = put_moved(drawn, state.moves, work.u, shape);
    for (std::size_t i = 0; i < beyond.size(); ++i) work.given[i] = warmth_and_datum[i] + beyond[i];
    work.loads = loads_on(assembly, load, shape, &state.moves, pads.load_factor);
    find_state(shape, pads.tolerance, state, work);
    if (!state.found) {
      state.reason = "on the moved shape: " + state.reason;
      return false;
    }
    state.moves = moves_of(assembly, drawn, pads, work.u);
    state.move_max_m = furthest(drawn, work.u);
    const double change = (work.u - last).lpNorm<Eigen::Infinity>();
    last = work.u;
    if (change <= kStill * last.lpNorm<Eigen::Infinity>()) {
      if (first > 0) state.flattening = state.move_max_m / first;
      return true;
    }
    state.found = false;
  }
  state.reason = "the moved shape did not come to rest";
  return false;
}

}  // namespace

struct PadModel::State {
  const Assembly& assembly;
  StandOptions options;
  PadSystem system;
};

PadModel::PadModel(const Assembly& assembly, const StandOptions& options, const PadOptions& pads,
                   double edge_share)
    : state_(new State{assembly, options, pad_system(assembly, options, pads, edge_share)}) {}
PadModel::~PadModel() = default;
PadModel::PadModel(PadModel&&) noexcept = default;

PadState PadModel::solve(const LoadCase& load, const PadOptions& pads,
                         const PadHistory* before) const {
  const Assembly& assembly = state_->assembly;
  const PadSystem& system = state_->system;
  PadState state;
  state.moves.resize(assembly.blocks.size());
  for (const PadPlace& place : system.places) {
    if (place.law.mesh.points.empty()) {
      const Joint& joint = assembly.joints[static_cast<std::size_t>(place.joint)];
      state.reason = "the contact of joint " +
                     assembly.blocks[static_cast<std::size_t>(joint.a)].id + "/" +
                     assembly.blocks[static_cast<std::size_t>(joint.b)].id +
                     " has outlines that touch or cross";
      return state;
    }
  }
  PadWork work;
  work.u = VectorX::Zero(6 * static_cast<Eigen::Index>(system.blocks.size()));
  if (before != nullptr) {
    for (std::size_t s = 0; s < system.blocks.size(); ++s) {
      const auto block = static_cast<std::size_t>(system.blocks[s]);
      if (before->placed[block] == 0) continue;
      const BlockVelocity& move = before->moves[block];
      const auto row = 6 * static_cast<Eigen::Index>(s);
      work.u.segment<3>(row) = velocity_at(move, system.centre[s]);
      work.u.segment<3>(row + 3) = move.w * system.length_unit;
    }
  }
  std::vector<Vec6> datum;
  for (const PadPlace& place : system.places) {
    const Vec6 given = given_movement(system, place, pads);
    const PadHistory::Mark* mark = mark_of(before, place);
    if (mark != nullptr) {
      datum.push_back(mark->datum);
      work.drift.push_back(mark->drift);
    } else {
      datum.push_back(before == nullptr ? Vec6(Vec6::Zero()) : movement_of(place, work.u, given));
      work.drift.emplace_back();
    }
    work.given.push_back(given - datum.back());
  }
  work.response.resize(system.places.size());
  work.loads = loads_on(assembly, load, system, nullptr, pads.load_factor);
  find_state(system, pads.tolerance, state, work);
  if (!state.found) return state;
  PadSystem shape = system;
  state.moves = moves_of(assembly, system, pads, work.u);
  state.move_max_m = furthest(system, work.u);
  if (pads.moved_shape && !on_moved_shape(assembly, load, pads, system, shape, state, work)) {
    return state;
  }
  state.forces.load_factor = pads.load_factor;
  report_joints(assembly, shape, work, state);
  state.residual_rel =
      pads.moved_shape
          ? work.gradient.lpNorm<Eigen::Infinity>() / system.force_unit
          : residual_of(assembly, load, state_->options, state.forces, system.length_unit);
  state.beyond_friction_rel = beyond_friction(system, work) / system.force_unit;
  if (!pads.moved_shape) state.after = history_of(system, work, datum, state);
  return state;
}

PadState pad_state(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                   const PadOptions& pads) {
  return PadModel(assembly, options, pads).solve(load, pads);
}

}  // namespace skewback
