// How what is asked of a motion is asked: [raise], [footings], [draws] of a scene (docs/motion.md).
#include "base/constants.hpp"
#include "brief/text.hpp"
#include "works/motion_scene.hpp"
#include "works/scene_file.hpp"

namespace skewback {
namespace {

void raise(SceneFile& file, const toml::table& t, CollapseOptions& out) {
  file.unknown(t, "raise", {"first", "most", "near"});
  file.number(t, "raise", "first", {"", "0.5", 0, 1e6, true}, out.first);
  file.number(t, "raise", "most", {"", "10", 0, 1e6, true}, out.most);
  file.number(t, "raise", "near", {"", "0.01", 1e-4, 1, false}, out.near);
}

void footings(SceneFile& file, const toml::table& t, MotionReachOptions& f) {
  file.unknown(t, "footings", {"ways", "bearings", "shift_most", "turn_most", "near", "slow"});
  file.flag(t, "footings", "ways", f.ways);
  std::int64_t bearings = f.bearings;
  if (file.whole(t, "footings", "bearings", 0, 72, bearings))
    f.bearings = static_cast<int>(bearings);
  file.number(t, "footings", "shift_most", {"m", "0.5 m", 0, 100, true}, f.shift_most_m);
  file.number(t, "footings", "turn_most", {"rad", "15 degrees", 0, kPi, true}, f.turn_most_rad);
  file.number(t, "footings", "near", {"", "0.02", 1e-4, 1, false}, f.near);
  file.number(t, "footings", "slow", {"", "0.01", 1e-4, 1, false}, f.slow);
  if (!f.ways && f.bearings == 0)
    file.fault(&t, "footings", "neither ways nor bearings", "which ways a footing may go",
               "bearings = 8");
}

void between(SceneFile& file, const toml::table& t, const std::string& what, const Wanted& wanted,
             Between& out) {
  file.number(t, "draws", what + "_least", wanted, out.low);
  file.number(t, "draws", what + "_most", wanted, out.high);
  file.flag(t, "draws", what + "_together", out.together);
  if (out.high < out.low)
    file.fault(&t, "draws." + what + "_most", number(out.high) + ", less than " + what + "_least",
               "no less than " + number(out.low));
}

void draws(SceneFile& file, const toml::table& t, EnsembleOptions& out) {
  file.unknown(t, "draws",
               {"seed", "confidence", "friction_least", "friction_most", "friction_together",
                "stiffness_least", "stiffness_most", "stiffness_together", "gap_least", "gap_most",
                "gap_together"});
  std::int64_t seed = 1;
  if (file.whole(t, "draws", "seed", 0, 1LL << 62, seed))
    out.seed = static_cast<std::uint64_t>(seed);
  file.number(t, "draws", "confidence", {"", "0.95", 0.5, 0.9999, false}, out.confidence);
  between(file, t, "friction", {"", "0.8", 0, 100, false}, out.friction);
  between(file, t, "stiffness", {"", "0.5", 0, 1e4, true}, out.stiffness);
  between(file, t, "gap", {"m", "0.2 mm", 0, 0.1, false}, out.gap_m);
}

}  // namespace

void read_motion_questions(SceneFile& file, const toml::table& root, MotionScene& out) {
  if (const auto* t = file.section(root, "raise")) raise(file, *t, out.raise);
  if (const auto* t = file.section(root, "footings")) footings(file, *t, out.footings);
  if (const auto* t = file.section(root, "draws")) draws(file, *t, out.draws);
}

}  // namespace skewback
