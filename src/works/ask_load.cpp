#include "works/ask_load.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/constants.hpp"
#include "geometry/simplify.hpp"
#include "ground/reactions.hpp"
#include "loads/shares.hpp"

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// As many corners as a clock has minutes, and the circle's own area.
Region disc(const Vec2& middle, double radius_m) {
  constexpr int kCorners = 60;
  const double turn = 2 * kPi / kCorners;
  const double reach = radius_m * std::sqrt(turn / std::sin(turn));
  Region out;
  for (int i = 0; i < kCorners; ++i)
    out.outer.emplace_back(middle + reach * Vec2(std::cos(i * turn), std::sin(i * turn)));
  return out;
}

double distance_to(const Regions& regions, const Vec2& p) {
  double best = HUGE_VAL;
  for (const Region& region : regions) {
    if (contains(region, p)) return 0;
    for (std::size_t i = 0; i < region.outer.size(); ++i) {
      const Vec2 &a = region.outer[i], &b = region.outer[(i + 1) % region.outer.size()];
      best = std::min(best, off_segment(p, a, b));
    }
  }
  return best;
}

/// The block whose outline a place lies in; in the slit of a joint, the nearest. -1: none.
int block_under(const std::vector<Regions>& outlines, const Vec2& p) {
  int best = -1;
  double least = HUGE_VAL;
  for (std::size_t b = 0; b < outlines.size() && least > 0; ++b) {
    const double off = distance_to(outlines[b], p);
    if (off >= least) continue;
    least = off;
    best = static_cast<int>(b);
  }
  return best;
}

/// Puts forces of the bridge on the blocks that are there; returns what went with the others, N.
double put_on(const std::vector<LiveForce>& forces, double factor, const AskedBlocks& blocks,
              LoadCase& load) {
  double lost = 0;
  for (const LiveForce& live : forces) {
    const Vec3 force = factor * live.force;
    if (force.isZero(0)) continue;
    const int block = blocks.now[at(live.block)];
    if (block < 0) {
      lost += force.norm();
    } else {
      load.live.push_back({block, live.point, force});
    }
  }
  return lost;
}

std::vector<LiveForce> crowd_on(const AskedBridge& bridge, const Question::Crowd& crowd,
                                double& area_m2) {
  const Regions where = intersect({disc(crowd.at, crowd.radius_m)}, bridge.surface);
  area_m2 = area(where);
  std::vector<LiveForce> out;
  for (const Share& share : shares(bridge.assembly(), bridge.outlines, where))
    out.push_back({share.block, share.point, Vec3(0, 0, -crowd.pressure_pa * share.area_m2)});
  return out;
}

}  // namespace

std::string figure_as(const char* format, double value) {
  char text[64];
  std::snprintf(text, sizeof text, format, value);
  return text;
}

const LoadCase* case_of(const Assembly& assembly, const std::string& id) {
  const auto it = std::ranges::find(assembly.cases, id, &LoadCase::id);
  return it == assembly.cases.end() ? nullptr : &*it;
}

AskedBridge asked_bridge(std::shared_ptr<const Dossier> dossier) {
  AskedBridge out;
  out.dossier = std::move(dossier);
  out.surface = walking_surface(out.brief());
  out.outlines = shared_outlines(out.assembly());
  out.ground = ground_blocks(out.brief(), out.assembly());
  out.ties = out.dossier->ground ? out.dossier->ground->laid : out.brief().ground.ties;
  return out;
}

AskedBlocks blocks_of(const AskedBridge& bridge, const Question& question) {
  const Assembly& all = bridge.assembly();
  AskedBlocks out;
  out.now.assign(all.blocks.size(), -1);
  for (std::size_t b = 0; b < all.blocks.size(); ++b) {
    const auto& gone = question.without_blocks;
    if (std::ranges::find(gone, all.blocks[b].id) != gone.end()) continue;
    out.now[b] = static_cast<int>(out.block_of.size());
    out.block_of.push_back(static_cast<int>(b));
    out.assembly.blocks.push_back(all.blocks[b]);
  }
  for (std::size_t j = 0; j < all.joints.size(); ++j) {
    Joint joint = all.joints[j];
    joint.a = out.now[at(joint.a)];
    joint.b = out.now[at(joint.b)];
    if (joint.a < 0 || joint.b < 0) continue;
    if (question.friction) joint.friction = *question.friction;
    out.joint_of.push_back(static_cast<int>(j));
    out.assembly.joints.push_back(std::move(joint));
  }
  return out;
}

AskedLoad load_of(const AskedBridge& bridge, const AskedBlocks& blocks, const Question& question) {
  const LoadCase& given = *case_of(bridge.assembly(), question.case_id);
  AskedLoad out;
  out.load.id = given.id;
  out.load.gravity = given.gravity;
  out.load.live_acceleration = question.live_factor * given.live_acceleration;
  double lost = put_on(given.live, question.live_factor, blocks, out.load);
  for (const Question::Crowd& crowd : question.crowds) {
    double area_m2 = 0;
    lost += put_on(crowd_on(bridge, crowd, area_m2), 1, blocks, out.load);
    out.words.push_back(
        "The crowd at (" + figure_as("%.2f", crowd.at.x()) + ", " +
        figure_as("%.2f", crowd.at.y()) + ") stands on " + figure_as("%.2f m2", area_m2) +
        " of the walking surface: " + figure_as("%.2f kN.", crowd.pressure_pa * area_m2 / 1e3));
  }
  for (const Question::Person& person : question.persons) {
    const int block = block_under(bridge.outlines, person.at);
    if (block < 0) continue;
    const double top = top_at(bridge.assembly().blocks[at(block)].solid, person.at);
    lost += put_on({{block, Vec3(person.at.x(), person.at.y(), top), {0, 0, -person.force_n}}}, 1,
                   blocks, out.load);
  }
  if (lost > 0)
    out.words.push_back("What would stand on blocks taken away is left out: " +
                        figure_as("%.2f kN.", lost / 1e3));
  return out;
}

std::vector<BlockMove> pushed_feet(const AskedBridge& bridge, const AskedBlocks& blocks,
                                   const std::vector<Question::Push>& pushes) {
  std::vector<BlockMove> out;
  for (const Question::Push& push : pushes) {
    BlockMove move;
    move.block = blocks.now[at(bridge.ground[at(push.support)])];
    move.shift = push.shift_m;
    move.turn = {0, 0, push.turn_rad};
    move.about = springing_middle(bridge.brief().plan.supports[at(push.support)]);
    out.push_back(move);
  }
  return out;
}

}  // namespace skewback
