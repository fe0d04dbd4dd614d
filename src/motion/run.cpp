#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "motion/looks.hpp"
#include "motion/team.hpp"
#include "motion/world.hpp"

namespace skewback {

using motion::Body;
using motion::Look;
using motion::Mark;
using motion::Touch;
using motion::World;

namespace motion {
namespace {

/// First of each share of the work, by points; one more at the end.
std::vector<std::size_t> shares(const World& world, int count) {
  double whole = 0, so_far = 0;
  for (const Touch& touch : world.touches) whole += touch.gone ? 0 : touch.padded + 8;
  std::vector<std::size_t> first{0};
  for (std::size_t t = 0; t < world.touches.size(); ++t) {
    so_far += world.touches[t].gone ? 0 : world.touches[t].padded + 8;
    if (so_far >= whole * static_cast<double>(first.size()) / count &&
        first.size() < static_cast<std::size_t>(count))
      first.push_back(t + 1);
  }
  while (first.size() <= static_cast<std::size_t>(count)) first.push_back(world.touches.size());
  return first;
}

}  // namespace

void step_on(World& world, long steps) {
  constexpr double kWorthAThread = 2000;  // points
  double points = 0;
  for (const Touch& touch : world.touches) points += touch.gone ? 0 : touch.points;
  const int count =
      std::clamp(static_cast<int>(points / kWorthAThread), 1, std::max(1, world.options.threads));
  const std::vector<std::size_t> first = shares(world, count);
  const TouchKernel& kernel = best_touch_kernel();
  const std::size_t bodies = world.bodies.size();
  Gate pushed(count), advanced(count);
  const double from = world.time_s;
  together(count, [&](int k) {
    const auto part = static_cast<std::size_t>(k), of = static_cast<std::size_t>(count);
    for (long step = 0; step < steps; ++step) {
      push(world, kernel, first[part], first[part + 1]);
      pushed.wait();
      advance(world, bodies * part / of, bodies * (part + 1) / of);
      advanced.wait();
      // others read the time only after the next gate
      if (k == 0) world.time_s = from + static_cast<double>(step + 1) * world.step_s;
    }
  });
  world.steps += steps;
  world.updates += points * static_cast<double>(steps);
}

bool happen(World& world) {
  bool did = false;
  for (const Removal& removal : world.scene.removals) {
    Body& body = world.bodies[static_cast<std::size_t>(removal.block)];
    if (!body.there || world.time_s < removal.at_s) continue;
    body.there = body.free = false;
    for (Touch& touch : world.touches) {
      if (touch.gone || (touch.a != removal.block && touch.b != removal.block)) continue;
      push_one(world, best_touch_kernel(), touch);
      world.found_again_j += touch.strain;
      touch.gone = true;
    }
    did = true;
  }
  for (std::size_t i = 0; i < world.scene.drops.size(); ++i) {
    const Drop& drop = world.scene.drops[i];
    const std::size_t at = world.bodies.size() - world.scene.drops.size() + i;
    Body& ball = world.bodies[at];
    if (ball.there || world.time_s < drop.at_s) continue;
    ball.there = ball.free = true;
    const Body& block = world.bodies[static_cast<std::size_t>(drop.block)];
    ball.centre += block.centre - block.start;
    for (Touch& touch : world.touches)
      if (static_cast<std::size_t>(touch.b) == at) touch.gone = !block.there;
    did = true;
  }
  if (did) {
    index_sides(world);
    put_step(world);
  }
  return did;
}

/// When the next block is taken away or load let fall; later than all time if none is.
double next_event_s(const World& world) {
  double next = HUGE_VAL;
  const auto sooner = [&](double at_s) {
    if (at_s > world.time_s) next = std::min(next, at_s);
  };
  for (const Removal& removal : world.scene.removals) sooner(removal.at_s);
  for (const Drop& drop : world.scene.drops) sooner(drop.at_s);
  return next;
}

double eventful_until(const World& world) {
  double last = world.put_on_s;
  last = std::max(last, world.factor_at_s + world.factor_over_s);
  for (const Moving& m : world.moving) last = std::max(last, m.from_s + m.over_s);
  for (const Removal& r : world.scene.removals) last = std::max(last, r.at_s + world.put_on_s);
  for (const Drop& d : world.scene.drops)
    last = std::max(last, d.at_s + std::sqrt(2 * d.height_m / kGravity) + world.put_on_s);
  if (!world.scene.shaking.time_s.empty())
    last = std::max(last, world.scene.shaking.time_s.back() + world.put_on_s);
  return last;
}

}  // namespace motion

namespace {

constexpr long kCheck = 50;              // steps between looks
constexpr double kQuick = 0.05;          // of sqrt(g size): a block that goes far so fast, goes
constexpr double kSlow = 0.005;          // of the same: faster is not at rest, balanced or not
constexpr double kTurnedOver = kPi / 4;  // more than any block that still stands leans
constexpr double kEnergyTrusted = 0.01;  // of what was turned over, that may be missing

MotionFrame frame_of(const World& world) {
  MotionFrame frame;
  frame.time_s = world.time_s;
  for (int i = 0; i < world.blocks_of_assembly; ++i) {
    const Body& body = world.bodies[static_cast<std::size_t>(i)];
    frame.blocks.push_back({body.centre, body.q * body.q_start.conjugate()});
  }
  return frame;
}

std::string text(const char* format, double x) {
  char out[64];
  std::snprintf(out, sizeof out, format, x);
  return out;
}

}  // namespace

const char* word(Ending ending) {
  switch (ending) {
    case Ending::kAtRest:
      return "at rest";
    case Ending::kMovingOff:
      return "moving off";
    case Ending::kNotSettled:
      break;
  }
  return "not settled";
}

const char* word(Damping damping) {
  switch (damping) {
    case Damping::kSettling:
      return "settling";
    case Damping::kRocking:
      return "rocking";
    case Damping::kNone:
      break;
  }
  return "none";
}

struct MotionRun::Inside {
  World world;
  std::vector<MotionFrame> frames;
  double frame_every_s = 0, next_frame_s = 0;
  double turned_over = 0;
  Mark mark;

  void put_mark() { mark = motion::mark_of(world); }

  void keep_frame() {
    if (world.options.frames <= 0) return;
    if (frame_every_s <= 0) frame_every_s = kCheck * world.step_s;
    if (world.time_s < next_frame_s) return;
    frames.push_back(frame_of(world));
    if (frames.size() >= 2 * static_cast<std::size_t>(world.options.frames)) {
      for (std::size_t k = 0; 2 * k < frames.size(); ++k) frames[k] = frames[2 * k];
      frames.resize((frames.size() + 1) / 2);
      frame_every_s *= 2;
    }
    next_frame_s = frames.back().time_s + frame_every_s;
  }

  EnergyLedger balance() {
    EnergyLedger e = motion::ledger(world);
    turned_over = std::max({turned_over, std::abs(e.brought) + std::abs(e.ground),
                            e.kinetic + e.strain + e.rubbed + e.dashed + e.settled});
    const double missing = e.kinetic + e.strain + e.rubbed + e.dashed + e.settled + e.found_again -
                           e.brought - e.ground;
    e.error = turned_over > 0 ? std::abs(missing) / turned_over : 0;
    return e;
  }

  Motion report(Ending ending, std::string reason) {
    const Look seen = motion::look(world);
    Motion m;
    m.ending = ending;
    m.reason = std::move(reason);
    m.time_s = world.time_s;
    m.step_s = world.step_s;
    m.steps = world.steps;
    m.contact_updates = world.updates;
    for (const Touch& touch : world.touches) m.points += touch.gone ? 0 : touch.points;
    m.moved_max_m = seen.moved;
    m.moved_block = seen.block;
    m.turned_max_rad = seen.turned;
    m.speed_max = seen.speed;
    m.unbalanced = seen.unbalanced;
    m.found_again = world.found_again;
    m.new_contacts = world.new_contacts;
    m.joints = motion::joint_motions(world);
    m.pushers = motion::pusher_motions(world);
    m.slips = std::any_of(m.joints.begin(), m.joints.end(),
                          [](const JointMotion& j) { return j.slipping_share > 1e-9; });
    m.frames = frames;
    if (world.options.frames > 0 && (frames.empty() || frames.back().time_s < world.time_s))
      m.frames.push_back(frame_of(world));
    m.energy = balance();
    return m;
  }

  /// On by up to kCheck steps, to `until_s` or the next event at most.
  void on(double until_s, const Progress& progress) {
    progress.checkpoint("motion", std::min(1.0, world.time_s / world.options.time_most_s));
    motion::happen(world);
    keep_frame();
    const double stop_s = std::min(until_s, motion::next_event_s(world));
    const auto left = static_cast<long>(std::ceil((stop_s - world.time_s) / world.step_s - 1e-9));
    if (world.options.find_again) motion::find_again(world);
    const long most = world.options.find_again ? motion::steps_to_look(world, kCheck) : kCheck;
    motion::step_on(world, std::clamp(left, 1L, most));
    if (world.steps % (20 * kCheck) < kCheck) (void)balance();
  }
};

MotionRun::MotionRun(const Assembly& assembly, const LoadCase& load, const Scene& scene,
                     const MotionOptions& options)
    : inside_(std::make_unique<Inside>()) {
  inside_->world = motion::build_world(assembly, load, scene, options);
  inside_->put_mark();
}
MotionRun::~MotionRun() = default;
MotionRun::MotionRun(const MotionRun& other) : inside_(std::make_unique<Inside>(*other.inside_)) {}
MotionRun& MotionRun::operator=(const MotionRun& other) {
  if (this != &other) *inside_ = *other.inside_;
  return *this;
}
MotionRun::MotionRun(MotionRun&&) noexcept = default;
MotionRun& MotionRun::operator=(MotionRun&&) noexcept = default;

Motion MotionRun::go(const Progress& progress) {
  Inside& in = *inside_;
  const World& world = in.world;
  const double until = world.time_s + world.options.time_most_s;
  const long last = world.steps + world.options.steps_most;
  int quiet = 0;
  while (world.time_s < until && world.steps < last) {
    in.on(until, progress);
    const Look seen = motion::look(world);
    if (!seen.finite)
      return in.report(Ending::kNotSettled,
                       "numbers grew out of all measure: the motion says nothing");
    const double far = world.options.far_m + motion::ground_may_part(world, in.mark);
    const double gone = motion::gone_since(world, in.mark);
    const double size = kGravity * world.mean_size;
    if (gone > far && (seen.speed > kQuick * std::sqrt(size) || gone > 4 * far))
      return in.report(Ending::kMovingOff, "a block has gone " + text("%.3f m", gone) +
                                               " and goes at " + text("%.2f m/s", seen.speed));
    const double turned = motion::turned_since(world, in.mark);
    if (turned > kTurnedOver + motion::ground_turns(world, in.mark))
      return in.report(Ending::kMovingOff,
                       "a block has turned over by " + text("%.0f degrees", turned * 180 / kPi));
    quiet = seen.unbalanced < world.options.rest_share && seen.speed < kSlow * std::sqrt(size)
                ? quiet + 1
                : 0;
    if (quiet >= 3 && world.time_s > motion::eventful_until(world)) {
      Motion rest = in.report(Ending::kAtRest, "");
      // settling claims the place of rest, which is in balance, and not the way there
      if (world.options.damping == Damping::kSettling || rest.energy.error <= kEnergyTrusted) {
        in.put_mark();
        return rest;
      }
      rest.ending = Ending::kNotSettled;
      rest.reason = "the blocks lie still, but " + text("%.2g %%", 100 * rest.energy.error) +
                    " of the energy is missing, over 1 %: not to be trusted; shorter steps miss "
                    "less";
      return rest;
    }
  }
  const Look seen = motion::look(world);
  return in.report(Ending::kNotSettled,
                   "out of balance by " + text("%.2g", seen.unbalanced) +
                       " of a block's weight after " + text("%.3g s", world.time_s) + " and " +
                       text("%.0f", static_cast<double>(world.steps)) + " steps");
}

Motion MotionRun::go_for(double seconds, const Progress& progress) {
  Inside& in = *inside_;
  const double until = in.world.time_s + seconds;
  while (in.world.time_s < until - 1e-9 * in.world.step_s) in.on(until, progress);
  return in.report(Ending::kNotSettled, "stopped at the time asked for");
}

void MotionRun::set_load_factor(double factor, double over_s) {
  World& world = inside_->world;
  world.factor_from = motion::load_factor_at(world, world.time_s);
  world.factor_to = factor;
  world.factor_at_s = world.time_s;
  world.factor_over_s = over_s > 0 ? over_s : world.put_on_s;
}

void MotionRun::move_ground(const GroundMove& move) {
  World& world = inside_->world;
  world.moving.push_back({move.block, move.shift, move.turn, move.about, world.time_s + move.from_s,
                          move.over_s > 0 ? move.over_s : world.put_on_s});
  motion::index_moves(world);
}

void MotionRun::set_velocity(int block, const Vec3& v, const Vec3& w) {
  Body& body = inside_->world.bodies[static_cast<std::size_t>(block)];
  const auto energy = [&] { return (body.heft * body.v.squaredNorm() + body.L.dot(body.w)) / 2; };
  body.brought -= energy();
  body.v = v;
  body.w = w;
  body.L = body.R * (body.R.transpose() * w).cwiseProduct(body.inertia);
  body.brought += energy();
}

void MotionRun::place(int block, const BlockPose& pose) {
  World& world = inside_->world;
  Body& body = world.bodies[static_cast<std::size_t>(block)];
  body.centre = pose.centre;
  body.q = pose.turn * body.q_start;
  body.R = body.q.toRotationMatrix();
  for (const motion::Side& side : world.sides[static_cast<std::size_t>(block)])
    motion::rest_anchors(world, world.touches[static_cast<std::size_t>(side.touch)]);
}

BlockPose MotionRun::pose(int block) const {
  const Body& body = inside_->world.bodies[static_cast<std::size_t>(block)];
  return {body.centre, body.q * body.q_start.conjugate()};
}
Vec3 MotionRun::velocity(int block) const {
  return inside_->world.bodies[static_cast<std::size_t>(block)].v;
}
Vec3 MotionRun::turning(int block) const {
  return inside_->world.bodies[static_cast<std::size_t>(block)].w;
}
double MotionRun::stable_step_s() const { return motion::longest_step(inside_->world); }
double MotionRun::time_s() const { return inside_->world.time_s; }

Motion let_go(const Assembly& assembly, const LoadCase& load, const Scene& scene,
              const MotionOptions& options, const Progress& progress) {
  return MotionRun(assembly, load, scene, options).go(progress);
}

}  // namespace skewback
