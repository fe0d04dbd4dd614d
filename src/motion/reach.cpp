#include "motion/reach.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "motion/walk.hpp"

namespace skewback {
namespace {

struct Footing {
  int block = -1;
  Vec3 middle = Vec3::Zero(), outward = Vec3::UnitX();
  double arm_m = 0;  // from the middle to the furthest corner of its joints
};

bool there(const Scene& scene, int block) {
  return scene.present.empty() || scene.present[static_cast<std::size_t>(block)] != 0;
}

/// Push of the joints on a block.
Vec3 push_on(const Assembly& assembly, const Motion& motion, int block) {
  Vec3 push = Vec3::Zero();
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    if (assembly.joints[j].b == block) push += motion.joints[j].force;
    if (assembly.joints[j].a == block) push -= motion.joints[j].force;
  }
  return push;
}

double thrust_on(const Assembly& assembly, const Motion& motion, int block) {
  return push_on(assembly, motion, block).head<2>().norm();
}

std::optional<Footing> footing_of(const Assembly& assembly, const Motion& rest, int block) {
  Footing f;
  f.block = block;
  double sum = 0;
  std::vector<Vec3> corners;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.a != block && joint.b != block) continue;
    const double force = rest.joints[j].force.norm();
    f.middle += force * joint.frame.origin;
    sum += force;
    for (const auto& part : joint.contact)
      for (const Vec2& p : part.outer) corners.push_back(joint.frame.to_world(p));
  }
  if (sum <= 0) return std::nullopt;
  f.middle /= sum;
  for (const Vec3& corner : corners) f.arm_m = std::max(f.arm_m, (corner - f.middle).norm());
  const Vec3 push = push_on(assembly, rest, block);
  const Vec3 flat(push.x(), push.y(), 0);
  if (flat.norm() > 1e-6 * push.norm()) f.outward = flat.normalized();
  return f;
}

MotionReach way_of(const Footing& f, std::string words, const Vec3& axis, bool is_turn) {
  MotionReach way;
  way.block = f.block;
  way.way = std::move(words);
  way.unit.block = f.block;
  way.unit.about = f.middle;
  way.is_turn = is_turn;
  (is_turn ? way.unit.turn : way.unit.shift) = axis;
  return way;
}

void add_ways(const Footing& f, const MotionReachOptions& wanted, std::vector<MotionReach>& ways) {
  const std::array<std::tuple<const char*, const char*, Vec3>, 3> axes = {
      {{"outward", "inward", f.outward},
       {"left", "right", Vec3::UnitZ().cross(f.outward)},
       {"up", "down", Vec3::UnitZ()}}};
  if (wanted.ways) {
    for (const auto& [plus, minus, axis] : axes) {
      ways.push_back(way_of(f, plus, axis, false));
      ways.push_back(way_of(f, minus, -axis, false));
    }
    for (const auto& [plus, minus, axis] : axes) {
      ways.push_back(way_of(f, std::string("turned + about ") + plus, axis, true));
      ways.push_back(way_of(f, std::string("turned - about ") + plus, -axis, true));
    }
  }
  for (int k = 0; k < wanted.bearings; ++k) {
    const double angle = 2 * kPi * k / wanted.bearings;
    const int degrees = static_cast<int>(std::lround(360.0 * k / wanted.bearings));
    ways.push_back(way_of(f, "bearing " + std::to_string(degrees),
                          Vec3(std::cos(angle), std::sin(angle), 0), false));
    ways.back().bearing_rad = angle;
  }
}

double mean_size(const Assembly& assembly, const Scene& scene) {
  double volume = 0;
  int count = 0;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || !there(scene, static_cast<int>(i))) continue;
    volume += block.mass.volume;
    ++count;
  }
  return count > 0 ? std::cbrt(volume / count) : 1;
}

struct Walker {
  const Assembly& assembly;
  const MotionRun& start;
  const Motion& rest;
  const MotionReachOptions& wanted;
  double speed = 0, step_m = 0;  // of the ground: greatest speed, longest step

  void measure(MotionReach& way, double arm_m, const Progress& progress) const {
    const double metres = way.is_turn ? std::max(arm_m, 1e-3) : 1;  // gone, for 1 of the way
    motion::WalkLimits limits;
    limits.most = way.is_turn ? wanted.turn_most_rad : wanted.shift_most_m;
    limits.step_most = step_m / metres;
    limits.first = std::min(limits.most, limits.step_most) / 4;
    limits.near = wanted.near;
    limits.least = way.is_turn ? wanted.near_rad : wanted.near_m;
    MotionRun run = start;
    const auto go_on = [&](MotionRun& r, double from, double to) {
      GroundMove move = way.unit;
      move.shift *= to - from;
      move.turn *= to - from;
      const double way_m = (to - from) * metres;
      move.over_s =
          std::max(kPi / 2 * way_m / speed, kPi * std::sqrt(way_m / (2 * wanted.slow * kGravity)));
      r.move_ground(move);
    };
    const auto note = [&](double gone, const Motion& m) {
      way.path.push_back({gone, thrust_on(assembly, m, way.block)});
    };
    const motion::Walk w = motion::walk(run, rest, limits, go_on, note, progress);
    way.held = w.held;
    way.moved_off = w.moved_off;
    way.not_settled = w.not_settled;
    way.beyond = w.beyond;
    way.tries = w.tries;
    if (w.moved_off) way.falling_block = w.falling.moved_block;
  }
};

}  // namespace

MotionReaches motion_reach(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                           const MotionOptions& options, const MotionReachOptions& wanted,
                           const Progress& progress) {
  MotionOptions alone = options;
  alone.threads = 1;  // the ways share the cores
  alone.frames = 0;
  MotionRun start(assembly, load, scene, alone);
  MotionReaches all;
  all.start = start.go(progress);
  if (all.start.ending != Ending::kAtRest) return all;
  std::vector<double> arms;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (!assembly.blocks[static_cast<std::size_t>(i)].fixed || !there(scene, i)) continue;
    if (!wanted.only.empty() && std::ranges::find(wanted.only, i) == wanted.only.end()) continue;
    const auto footing = footing_of(assembly, all.start, i);
    if (!footing) continue;
    add_ways(*footing, wanted, all.ways);
    arms.resize(all.ways.size(), footing->arm_m);
  }
  const double size = mean_size(assembly, scene);
  const double far = options.far_m > 0 ? options.far_m : size / 2;
  const Walker walker{assembly, start, all.start, wanted, wanted.slow * std::sqrt(kGravity * size),
                      far / 4};
  std::atomic<std::size_t> done{0};
  const Progress own(  // one way's progress is not the whole's
      [&](const std::string&, double) {
        progress.checkpoint("motion: footings",
                            static_cast<double>(done) / static_cast<double>(all.ways.size()));
      },
      nullptr);
  for_each_index(all.ways.size(), [&](std::size_t i) {
    walker.measure(all.ways[i], arms[i], own);
    ++done;
  });
  return all;
}

}  // namespace skewback
