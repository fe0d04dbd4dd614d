#include "survey/gaps_close.hpp"

#include <algorithm>
#include <cstdio>

#include "base/parallel.hpp"
#include "survey/joint_rows.hpp"
#include "survey/packing_beds.hpp"
#include "survey/poses.hpp"
#include "survey/survey.hpp"

namespace skewback {

double further_down(const Assembly& assembly, const std::vector<DeadMoves>& dead,
                    const std::vector<CaseProof>& plain) {
  double most = 0;
  for (const DeadMoves& gaps : dead) {
    const std::optional<PadState>& without = plain[gaps.load].pads;
    if (!without || !without->found) continue;
    for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
      const Vec3 at = centre_of_gravity(assembly.blocks[b]);
      const auto rise = [&](const BlockVelocity& move) {
        return move.v.z() + move.w.cross(at).z();
      };
      most = std::max(most, rise(without->moves[b]) - rise(gaps.moves[b]));
    }
  }
  return most;
}

std::vector<Vec3> gaps_left(const StackModel& model, const Refit& found, const Assembly& built) {
  const Assembly& drawn = model.assembly();
  const std::vector<Rigid> poses = poses_of(drawn, found.packed.moves, found.axes);
  std::vector<Vec3> out;
  for (std::size_t j = 0; j < drawn.joints.size(); ++j) {
    const Joint& joint = drawn.joints[j];
    JointCorners corners = model.corners()[j];
    std::array<double, 4> left = found.packed.joints[j].gap_m;
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec3 p = joint.frame.to_world(corners[k]);
      const Vec3 laid = (poses[static_cast<std::size_t>(joint.a)](p) +
                         poses[static_cast<std::size_t>(joint.b)](p)) /
                        2;
      corners[k] = built.joints[j].frame.to_local(laid).head<2>();
      left[k] -= found.packed.held_m[j][k];
    }
    const BedError plane = bed_through(corners, left);
    out.emplace_back(plane.height_m, plane.slope.x(), plane.slope.y());
  }
  return out;
}

GapsClosing close_gaps(const Assembly& assembly, const std::vector<Vec3>& gaps,
                       const std::vector<CaseProof>& plain, const StandOptions& options,
                       const Progress& progress, std::vector<DeadMoves>* dead) {
  GapsClosing out;
  out.peaks_pa.assign(assembly.joints.size(), 0.0);
  const PadHistory before = open_joints(assembly, gaps);
  const PadModel model(assembly, options);
  std::vector<PadState> states(assembly.cases.size());
  for_each_index(states.size(), [&](std::size_t i) {
    progress.checkpoint("survey: gaps", 0);
    states[i] = model.solve(assembly.cases[i], {}, &before);
  });
  std::vector<DeadMoves> mine;
  if (dead == nullptr) dead = &mine;
  for (std::size_t i = 0; i < states.size(); ++i) {
    const PadState& state = states[i];
    ++out.cases;
    if (!state.found) {
      if (out.reason.empty()) out.reason = "case " + assembly.cases[i].id + ": " + state.reason;
      continue;
    }
    ++out.balanced;
    for (std::size_t j = 0; j < state.joints.size(); ++j)
      out.peaks_pa[j] = std::max(out.peaks_pa[j], state.joints[j].peak_pa);
    if (state.peak_pa > out.peak_pa) {
      out.peak_pa = state.peak_pa;
      out.peak_joint = joint_name(assembly, state.peak_joint);
    }
    if (!assembly.cases[i].has_live()) dead->push_back({i, state.moves});
  }
  if (!plain.empty()) out.drop_m = further_down(assembly, *dead, plain);
  return out;
}

std::string over_limit(const Refit& found, const JointLimit& limit_pa) {
  if (!limit_pa) return "";
  double most = 1;
  std::size_t worst = 0;
  for (std::size_t j = 0; j < found.gaps.peaks_pa.size(); ++j) {
    const double use = found.gaps.peaks_pa[j] / limit_pa(found.as_built.joints[j]);
    if (use <= most) continue;
    most = use;
    worst = j;
  }
  if (most <= 1) return "";
  char text[80];
  std::snprintf(text, sizeof text, "%.1f MPa as gaps close, where %.1f are allowed, at ",
                found.gaps.peaks_pa[worst] / 1e6, limit_pa(found.as_built.joints[worst]) / 1e6);
  return text + joint_name(found.as_built, static_cast<int>(worst));
}

}  // namespace skewback
