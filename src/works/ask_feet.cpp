#include "works/ask_feet.hpp"

#include <algorithm>
#include <cmath>

#include "ground/bearing.hpp"
#include "ground/footing_checks.hpp"
#include "ground/holding.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "ground/shoes.hpp"

namespace skewback {
namespace {

constexpr double kNoLimit = 1e12;       // N, of shear on the ground: judged afterwards
constexpr double kFirstSlide = 0.2e-3;  // m
constexpr double kSlideMost = 0.1;      // m, as far as a footing's reach is sought
constexpr double kStepMost = 5e-3;      // m at once
constexpr double kRests = 0.01;         // of what the base resists
constexpr int kStepsMost = 80;

/// The brief with these ties, on ground that may be sheared as much as it takes.
Brief on_bare_ground(const AskedBridge& bridge, const std::vector<Tie>& ties) {
  Brief brief = bridge.brief();
  brief.ground.ties = ties;
  brief.ground.ground_shear_n = kNoLimit;
  return brief;
}

TieState held_by(const AskedBridge& bridge, const AskedBlocks& blocks, const Forces& forces,
                 const Brief& brief) {
  std::vector<int> ground;
  for (const int block : bridge.ground)
    ground.push_back(block < 0 ? -1 : blocks.now[static_cast<std::size_t>(block)]);
  return held_state(brief, "", reactions(brief, blocks.assembly, ground, forces),
                    rods_of(brief.plan.supports, brief.ground.ties));
}

FootingSize size_of(const AskedBridge& bridge, std::size_t support) {
  const auto& works = bridge.dossier->ground;
  if (works && support < works->footings.size()) return works->footings[support].size;
  const Brief& brief = bridge.brief();
  return drawn_footing(brief.plan.supports[support], brief.ground,
                       bed_reach(brief, bridge.assembly(), static_cast<int>(support)).x());
}

BareFoot judged(const AskedBridge& bridge, const TieState& state, const std::vector<Tie>& ties,
                std::size_t support) {
  const Support& line = bridge.brief().plan.supports[support];
  const Soil& soil = bridge.brief().soil;
  const FootingSize size = size_of(bridge, support);
  const FootingAction action =
      action_on(bridge.brief().plan.supports, ties, state, static_cast<int>(support));
  const BaseLoad load = on_base(line, size, action, {}, 1, 0);
  const Vec2 plan(size.width_m(), size.length_m);
  BareFoot foot;
  foot.id = line.id;
  foot.vertical_n = load.vertical_n;
  foot.push_n = action.force.head<2>();
  foot.turning_nm = action.moment.z();
  foot.resists_n = sliding_resistance(soil, {}, plan, load);
  foot.beyond_third =
      !(load.vertical_n > 0) || eccentricity(plan, load.eccentricity_m) == Eccentricity::kFar;
  const double bears_n = bearing(soil, {}, plan, load).resistance_n;
  if (bears_n > 0) foot.bears = load.vertical_n / bears_n;
  return foot;
}

}  // namespace

std::vector<BareFoot> bare_feet(const AskedBridge& bridge, const AskedBlocks& blocks,
                                const Forces& forces, const std::vector<Tie>& ties) {
  const TieState state = held_by(bridge, blocks, forces, on_bare_ground(bridge, ties));
  std::vector<BareFoot> out;
  for (std::size_t s = 0; s < bridge.ground.size(); ++s)
    if (bridge.ground[s] >= 0) out.push_back(judged(bridge, state, ties, s));
  return out;
}

std::vector<double> tie_pulls(const AskedBridge& bridge, const AskedBlocks& blocks,
                              const Forces& forces, const std::vector<Tie>& ties) {
  Brief brief = on_bare_ground(bridge, ties);
  brief.ground.ground_shear_n = bridge.brief().ground.ground_shear_n;
  std::vector<double> out;
  for (const auto& rods : held_by(bridge, blocks, forces, brief).rod_force_n) {
    double sum = 0;
    for (const double force : rods) sum += force;
    out.push_back(sum);
  }
  return out;
}

PadHistory guess_from(const Assembly& assembly, const std::vector<BlockVelocity>& moves) {
  PadHistory out;
  out.moves = moves;
  out.placed.assign(moves.size(), 1);
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    PadHistory::Mark mark;
    mark.joint = static_cast<int>(j);
    out.marks.push_back(std::move(mark));
  }
  return out;
}

namespace {

/// One foot on its way: how much less it pushes for each metre, as last seen.
struct Slider {
  Vec2 moved = Vec2::Zero(), step = Vec2::Zero();
  double over = 0;  // push less resistance when last looked at, N
  double give = 0;  // N/m
};

/// Next steps of the feet that push too hard. False where none does.
bool step_on(const std::vector<BareFoot>& feet, std::vector<Slider>& sliders) {
  bool any = false;
  for (std::size_t i = 0; i < feet.size(); ++i) {
    Slider& slider = sliders[i];
    const double over = feet[i].push_n.norm() - feet[i].resists_n, went = slider.step.norm();
    if (went > 0 && slider.over > over) slider.give = (slider.over - over) / went;
    slider.over = over;
    slider.step = Vec2::Zero();
    if (over <= kRests * feet[i].resists_n) continue;
    any = true;
    const double far = slider.give > 0 ? over / slider.give : kFirstSlide;
    slider.step = std::clamp(far, kFirstSlide / 10, kStepMost) * feet[i].push_n.normalized();
  }
  return any;
}

std::vector<BlockMove> with_slides(const AskedBridge& bridge, const AskedBlocks& blocks,
                                   const std::vector<BlockMove>& before,
                                   const std::vector<Slider>& sliders) {
  std::vector<BlockMove> out = before;
  std::size_t i = 0;
  for (const int block : bridge.ground) {
    if (block < 0) continue;
    BlockMove move;
    move.block = blocks.now[static_cast<std::size_t>(block)];
    move.shift.head<2>() = sliders[i].moved + sliders[i].step;
    if (move.shift.norm() > 0) out.push_back(move);
    ++i;
  }
  return out;
}

double furthest(const std::vector<Slider>& sliders) {
  double most = 0;
  for (const Slider& slider : sliders) most = std::max(most, slider.moved.norm());
  return most;
}

}  // namespace

GivingWay give_way(const AskedBridge& bridge, const AskedBlocks& blocks, const PadModel& model,
                   const LoadCase& load, const std::vector<Tie>& ties, const PadState& start,
                   const std::vector<BlockMove>& before) {
  GivingWay out;
  out.state = start;
  out.moves = before;
  out.feet = bare_feet(bridge, blocks, start.forces, ties);
  std::vector<Slider> sliders(out.feet.size());
  PadOptions pads;
  for (int k = 0; k < kStepsMost; ++k) {
    if (!step_on(out.feet, sliders)) {
      out.rests = true;
      break;
    }
    pads.moves = with_slides(bridge, blocks, before, sliders);
    const PadHistory guess = guess_from(blocks.assembly, out.state.moves);
    PadState next = model.solve(load, pads, &guess);
    if (!next.found) {
      out.reason = "with the feet moved on from there the pads have no state: " + next.reason;
      break;
    }
    for (Slider& slider : sliders) slider.moved += slider.step;
    out.moves = pads.moves;
    out.state = std::move(next);
    out.feet = bare_feet(bridge, blocks, out.state.forces, ties);
    out.most_m = furthest(sliders);
    if (out.most_m > kSlideMost) {
      out.reason = "further was not looked at";
      break;
    }
  }
  for (std::size_t i = 0; i < out.feet.size(); ++i) out.feet[i].moved.head<2>() = sliders[i].moved;
  if (!out.rests && out.reason.empty())
    out.reason = "no place of rest was found in " + std::to_string(kStepsMost) + " steps";
  return out;
}

}  // namespace skewback
