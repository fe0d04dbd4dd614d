#include "stand/pads.hpp"

#include <algorithm>
#include <cmath>

#include "stand/mechanism.hpp"
#include "stand/pad_state.hpp"

namespace skewback {
namespace {

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

void put_move(const PadSystem& system, std::size_t slot, const BlockVelocity& move, VectorX& u) {
  const auto row = 6 * static_cast<Eigen::Index>(slot);
  u.segment<3>(row) = velocity_at(move, system.centre[slot]);
  u.segment<3>(row + 3) = move.w * system.length_unit;
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
    find_state(shape, pads.tolerance, state, work, pads.rounds_most);
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

PadState PadModel::solve(const LoadCase& load, const PadOptions& pads, const PadHistory* before,
                         const PadState* near) const {
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
      put_move(system, s, before->moves[block], work.u);
    }
  }
  std::vector<Vec6> datum;
  for (const PadPlace& place : system.places) {
    const Vec6 given = given_movement(system, place, pads);
    const PadHistory::Mark* mark = mark_of(before, place);
    const double lowered =
        place.prop < 0 ? 0 : state_->options.props[static_cast<std::size_t>(place.prop)].lowered_m;
    if (mark != nullptr) {
      datum.push_back(mark->datum);
      work.drift.push_back(mark->drift);
    } else {
      datum.push_back(before == nullptr ? Vec6(Vec6::Zero()) : movement_of(place, work.u, given));
      work.drift.emplace_back();
    }
    work.given.push_back(given - datum.back());
    for (const auto& [row, axis] :
         {std::pair{0, place.frame.x}, {1, place.frame.y}, {2, place.frame.z}})
      work.given.back()[row] += lowered * axis.z();  // of the block against its prop
  }
  work.response.resize(system.places.size());
  work.loads = loads_on(assembly, load, system, nullptr, pads.load_factor);
  if (near != nullptr && near->found) {
    PadWork beside = work;
    for (std::size_t s = 0; s < system.blocks.size(); ++s)
      put_move(system, s, near->moves[static_cast<std::size_t>(system.blocks[s])], beside.u);
    if (find_state_beside(system, pads.tolerance, state, beside)) work = std::move(beside);
  }
  if (!state.found) {
    if (before == nullptr) start_closed(system, work);
    find_state(system, pads.tolerance, state, work, pads.rounds_most);
  }
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
