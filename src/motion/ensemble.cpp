#include "motion/ensemble.hpp"

#include <algorithm>
#include <atomic>
#include <boost/math/special_functions/beta.hpp>

#include "base/parallel.hpp"
#include "base/random.hpp"

namespace skewback {
namespace {

enum Stream : std::uint32_t { kFriction, kStiffness, kGap };

double draw_of(const Between& drawn, const EnsembleOptions& wanted, int draw, Stream stream,
               std::size_t joint) {
  const auto place = drawn.together ? 0U : static_cast<std::uint32_t>(joint);
  const double u = even(wanted.seed, static_cast<std::uint64_t>(draw), stream, place);
  return drawn.low + (drawn.high - drawn.low) * u;
}

OneDraw summary_of(const DrawnScene& drawn, const Motion& motion) {
  OneDraw d;
  d.ending = motion.ending;
  d.time_s = motion.time_s;
  d.moved_max_m = motion.moved_max_m;
  d.moved_block = motion.moved_block;
  double sum = 0;
  for (const Joint& joint : drawn.assembly.joints) {
    sum += joint.friction;
    d.friction_least =
        d.friction_least > 0 ? std::min(d.friction_least, joint.friction) : joint.friction;
  }
  if (!drawn.assembly.joints.empty())
    d.friction_mean = sum / static_cast<double>(drawn.assembly.joints.size());
  for (const double gap : drawn.scene.gap_m) d.gap_max_m = std::max(d.gap_max_m, gap);
  return d;
}

bool worse(const OneDraw& a, const OneDraw& b) {
  const auto rank = [](Ending e) {
    return e == Ending::kMovingOff ? 2 : (e == Ending::kNotSettled ? 1 : 0);
  };
  if (rank(a.ending) != rank(b.ending)) return rank(a.ending) > rank(b.ending);
  if (a.ending == Ending::kMovingOff) return a.time_s < b.time_s;
  return a.moved_max_m > b.moved_max_m;
}

void count(double confidence, Ensemble& e) {
  for (std::size_t i = 0; i < e.draws.size(); ++i) {
    const OneDraw& d = e.draws[i];
    (d.ending == Ending::kAtRest      ? e.at_rest
     : d.ending == Ending::kMovingOff ? e.moving_off
                                      : e.not_settled)++;
    if (e.worst < 0 || worse(d, e.draws[static_cast<std::size_t>(e.worst)]))
      e.worst = static_cast<int>(i);
  }
  const int all = static_cast<int>(e.draws.size()), told = e.at_rest + e.moving_off;
  if (told > 0) e.probability = static_cast<double>(e.moving_off) / told;
  if (all == 0) return;
  e.low = share_interval(e.moving_off, all, confidence).low;
  e.high = share_interval(e.moving_off + e.not_settled, all, confidence).high;
}

}  // namespace

Interval share_interval(int k, int n, double confidence) {
  const double tail = (1 - confidence) / 2;
  Interval interval;
  if (n <= 0) return interval;
  if (k > 0) interval.low = boost::math::ibeta_inv(k, n - k + 1, tail);
  if (k < n) interval.high = boost::math::ibeta_inv(k + 1, n - k, 1 - tail);
  return interval;
}

DrawnScene drawn_scene(const Assembly& assembly, const Scene& scene, const MotionOptions& options,
                       const EnsembleOptions& wanted, int draw) {
  DrawnScene drawn{assembly, scene};
  drawn.scene.friction.reset();
  const bool gaps = wanted.gap_m.low != 0 || wanted.gap_m.high != 0;
  if (gaps) drawn.scene.gap_m.resize(assembly.joints.size(), 0);
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    Joint& joint = drawn.assembly.joints[j];
    joint.friction = scene.friction.value_or(joint.friction) *
                     draw_of(wanted.friction, wanted, draw, kFriction, j);
    const double stiffness = draw_of(wanted.stiffness, wanted, draw, kStiffness, j);
    const bool soft = joint.pad && joint.pad->kn > 0;
    if (!soft) joint.pad = Pad{0, options.dry_kn, options.dry_ks};
    joint.pad->kn *= stiffness;
    joint.pad->ks *= stiffness;
    if (gaps) drawn.scene.gap_m[j] += draw_of(wanted.gap_m, wanted, draw, kGap, j);
  }
  return drawn;
}

Ensemble let_go_many(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                     const MotionOptions& options, const EnsembleOptions& wanted,
                     const Progress& progress) {
  MotionOptions alone = options;
  alone.threads = 1;  // the draws share the cores
  alone.frames = 0;
  Ensemble e;
  e.draws.resize(static_cast<std::size_t>(std::max(0, wanted.draws)));
  std::atomic<std::size_t> done{0};
  for_each_index(e.draws.size(), [&](std::size_t i) {
    progress.checkpoint("motion: draws",
                        static_cast<double>(done) / static_cast<double>(e.draws.size()));
    const DrawnScene drawn = drawn_scene(assembly, scene, options, wanted, static_cast<int>(i));
    e.draws[i] = summary_of(drawn, let_go(drawn.assembly, load, drawn.scene, alone));
    ++done;
  });
  count(wanted.confidence, e);
  return e;
}

}  // namespace skewback
