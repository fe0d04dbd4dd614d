#include <algorithm>

#include "stand/pad_state.hpp"

namespace skewback {
namespace {

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

}  // namespace

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

PadHistory open_joints(const Assembly& assembly, const std::vector<Vec3>& gap) {
  PadHistory before;
  before.placed.assign(assembly.blocks.size(), 0);
  before.moves.resize(assembly.blocks.size());
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    PadHistory::Mark mark{static_cast<int>(j), joint.b, joint.frame.origin, Vec6::Zero(), {}};
    // movement at which there is no pressure: b nearer to a by the gap
    mark.datum[2] = -gap[j][0];
    mark.datum[3] = -gap[j][2];
    mark.datum[4] = gap[j][1];
    before.marks.push_back(std::move(mark));
  }
  return before;
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

}  // namespace skewback
