#include "stand/motion_view.hpp"

#include <algorithm>

#include "stand/joint_movement.hpp"

namespace skewback {
namespace {

std::string id_of(const Assembly& assembly, int block) {
  return block < 0 ? "a block" : assembly.blocks[static_cast<std::size_t>(block)].id;
}

}  // namespace

Scene scene_of(const StandOptions& options, const PadOptions& pads) {
  Scene scene;
  scene.load_factor = pads.load_factor;
  scene.present = options.present;
  scene.friction = options.friction;
  for (const Prop& prop : options.props)
    scene.pushers.push_back(
        {prop.block, prop.point, prop.direction, prop.friction, prop.lowered_m});
  for (const BlockMove& move : pads.moves)
    scene.moves.push_back({move.block, move.shift, move.turn, move.about, 0, 0});
  return scene;
}

ThirdView third_view_called(const std::string& word) {
  if (word == "always") return ThirdView::kAlways;
  return word == "never" ? ThirdView::kNever : ThirdView::kWhenNeeded;
}

MotionOptions motion_options_of(const PadOptions& pads) {
  MotionOptions options;
  options.dry_kn = pads.dry_kn;
  options.dry_ks = pads.dry_ks;
  options.prop_kn = pads.prop_kn;
  options.creep = pads.creep;
  options.edge_share = 1;
  options.rest_share = 1e-3;
  options.frames = 8;
  return options;
}

bool slips_somewhere(const PadState& state) {
  constexpr double kSlips = 0.01;
  return std::ranges::any_of(state.joints,
                             [](const JointPad& joint) { return joint.slipping_share > kSlips; });
}

bool motion_is_needed(const Assembly& assembly, const CaseProof& proof) {
  if (proof.verdict == Verdict::kUndecided) return true;
  if (proof.limit_mechanism && slides(assembly, *proof.limit_mechanism)) return true;
  return proof.pads && slips_somewhere(*proof.pads);
}

void add_third_view(const Assembly& assembly, const LoadCase& load, const StandOptions& options,
                    const PadOptions& pads, CaseProof& proof) {
  if (options.third_view == ThirdView::kNever) return;
  if (options.third_view == ThirdView::kWhenNeeded && !motion_is_needed(assembly, proof)) return;
  join_motion(assembly, let_go(assembly, load, scene_of(options, pads), motion_options_of(pads)),
              proof);
}

void join_motion(const Assembly& assembly, Motion motion, CaseProof& proof) {
  const auto words = [&] {
    return "let go in time, " + id_of(assembly, motion.moved_block) +
           " moves off: " + motion.reason;
  };
  proof.views.push_back("motion");
  switch (motion.ending) {
    case Ending::kAtRest:
      if (proof.verdict == Verdict::kUndecided)
        proof.reason += "; let go in time, the blocks come to rest";
      break;
    case Ending::kMovingOff:
      if (proof.verdict != Verdict::kFalls) {
        proof.reason = words() + (proof.reason.empty() ? "" : "; " + proof.reason);
        proof.verdict = Verdict::kFalls;
      }
      break;
    case Ending::kNotSettled:
      if (proof.verdict == Verdict::kStands) {
        proof.verdict = Verdict::kUndecided;
        proof.reason = "let go in time, the blocks do not come to rest: " + motion.reason;
      }
      break;
  }
  proof.motion = std::move(motion);
}

}  // namespace skewback
