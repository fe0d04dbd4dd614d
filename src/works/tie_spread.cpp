#include "works/tie_spread.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>

#include "base/parallel.hpp"
#include "ground/holding.hpp"
#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "ground/stretch.hpp"

namespace skewback {
namespace {

using Eigen::VectorXd;

constexpr double kStartsAt = 0.5;  // share of the first round's step
constexpr double kLeastStep = 0.02, kMostStep = 1.0;

struct Feet {
  std::vector<int> block;  // per support
  std::vector<Vec2> middles;
  std::vector<Rod> rods;
  std::vector<double> diameter_m;  // per tie
};

Feet feet_of(const Brief& brief, const Assembly& assembly, const Groundworks& ground) {
  Feet feet;
  feet.block = ground_blocks(brief, assembly);
  for (const Support& s : brief.plan.supports) feet.middles.emplace_back((s.a + s.b) / 2);
  feet.rods = rods_of(brief.plan.supports, ground.laid);
  for (const TieForce& tie : ground.ties) feet.diameter_m.push_back(tie.diameter_m);
  return feet;
}

std::vector<BlockMove> block_moves(const Brief& brief, const Feet& feet,
                                   const std::vector<FootMove>& moved) {
  std::vector<BlockMove> out;
  for (std::size_t s = 0; s < moved.size(); ++s) {
    if (feet.block[s] < 0) continue;
    BlockMove move;
    move.block = feet.block[s];
    move.shift = {moved[s].shift_m.x(), moved[s].shift_m.y(), 0};
    move.turn = {0, 0, moved[s].turn_rad};
    move.about = springing_middle(brief.plan.supports[s]);
    out.push_back(move);
  }
  return out;
}

/// Elongation of every rod under a pad state, and whether it is taut.
struct Pulled {
  std::vector<double> force_n, elongation_m;
  std::vector<char> taut;
  bool balanced = true;
  std::string reason;
};

Pulled pulled_by(const Brief& brief, const Assembly& assembly, const Feet& feet,
                 const PadState& state, double warmer_k) {
  Pulled out;
  const auto supports = reactions(brief, assembly, feet.block, state.forces);
  const FootingBalance found = hold_in_plan(supports, feet.rods, brief.ground.ground_shear_n);
  out.force_n = found.rod_force;
  out.balanced = found.balanced;
  out.reason = found.reason;
  out.elongation_m = elongations(feet.rods, out.force_n, feet.diameter_m, warmer_k);
  for (const double f : out.force_n) out.taut.push_back(f > 0 ? 1 : 0);
  return out;
}

int highest(const Assembly& assembly) {
  int best = -1;
  for (int i = 0; i < static_cast<int>(assembly.blocks.size()); ++i) {
    if (assembly.blocks[i].fixed) continue;
    if (best < 0 || centre_of_gravity(assembly.blocks[i]).z() >
                        centre_of_gravity(assembly.blocks[best]).z() + 1e-9)
      best = i;
  }
  return best;
}

double drop(const Assembly& assembly, const PadState& state) {
  const int crown = highest(assembly);
  if (crown < 0) return 0;
  const BlockVelocity& u = state.moves[crown];
  return -(u.v + u.w.cross(centre_of_gravity(assembly.blocks[crown]))).z();
}

double greatest_spread(const std::vector<Vec2>& middles, const std::vector<FootMove>& moved) {
  double most = 0;
  for (std::size_t a = 0; a < middles.size(); ++a) {
    for (std::size_t b = a + 1; b < middles.size(); ++b) {
      const Vec2 way = (middles[b] - middles[a]).normalized();
      const double change = way.dot(moved[b].shift_m - moved[a].shift_m);
      if (std::abs(change) > std::abs(most)) most = change;
    }
  }
  return most;
}

VectorXd stacked(const std::vector<FootMove>& moved) {
  VectorXd u(3 * static_cast<Eigen::Index>(moved.size()));
  for (std::size_t i = 0; i < moved.size(); ++i)
    u.segment<3>(3 * static_cast<Eigen::Index>(i)) << moved[i].shift_m, moved[i].turn_rad;
  return u;
}

std::vector<FootMove> unstacked(const VectorXd& u) {
  std::vector<FootMove> out;
  for (Eigen::Index i = 0; i < u.size(); i += 3) out.push_back({u.segment<2>(i), u[i + 2]});
  return out;
}

/// Aitken's rule for a vector: the next step from how the last one changed what is left over.
double next_step(double step, const VectorXd& left, const VectorXd& before) {
  const VectorXd change = left - before;
  const double size = change.squaredNorm();
  if (!(size > 0)) return step;
  return std::clamp(std::abs(step * before.dot(change) / size), kLeastStep, kMostStep);
}

void report(const Assembly& assembly, const Feet& feet, const PadState& state, const Pulled& pulled,
            const std::vector<FootMove>& moved, SpreadState& out) {
  out.spread_m = greatest_spread(feet.middles, moved);
  out.rod_force_n.assign(feet.diameter_m.size(), {});
  for (std::size_t k = 0; k < feet.rods.size(); ++k)
    out.rod_force_n[feet.rods[k].tie].push_back(pulled.force_n[k]);
  out.peak_pa = state.peak_pa;
  out.opening_max_m = state.opening_max_m;
  out.crown_drop_m = drop(assembly, state);
  if (!pulled.balanced) out.reason = "rods do not hold all of it: " + pulled.reason;
}

}  // namespace

std::vector<double> dead_elongations(const Brief& brief, const Assembly& assembly,
                                     const PadModel& model, const Groundworks& ground,
                                     const SpreadOptions& options) {
  const LoadCase* dead = dead_case(assembly);
  if (dead == nullptr) return {};
  PadOptions pads;
  pads.tolerance = options.tolerance;
  const PadState state = model.solve(*dead, pads);
  if (!state.found) return {};
  return pulled_by(brief, assembly, feet_of(brief, assembly, ground), state, 0).elongation_m;
}

SpreadState spread_of(const Brief& brief, const Assembly& assembly, const PadModel& model,
                      const Groundworks& ground, const LoadCase& load,
                      const std::vector<double>& taken_out_m, double warmer_k,
                      const SpreadOptions& options) {
  SpreadState out;
  out.case_id = load.id;
  out.tightened = taken_out_m.empty() ? Tightened::kNot : Tightened::kAtStriking;
  out.warmer_k = warmer_k;
  const Feet feet = feet_of(brief, assembly, ground);
  PadOptions pads;
  pads.warmer_k = warmer_k;
  pads.tolerance = options.tolerance;
  VectorXd u = VectorXd::Zero(3 * static_cast<Eigen::Index>(feet.middles.size())), before;
  double step = kStartsAt, still_drop = 0;
  for (out.rounds = 1; out.rounds <= options.rounds_most; ++out.rounds) {
    pads.moves = block_moves(brief, feet, unstacked(u));
    const PadState state = model.solve(load, pads);
    if (!state.found) {
      out.reason = "no state of the pads with the feet so moved: " + state.reason;
      return out;
    }
    if (out.rounds == 1) still_drop = drop(assembly, state);
    Pulled pulled = pulled_by(brief, assembly, feet, state, warmer_k);
    for (std::size_t k = 0; k < taken_out_m.size(); ++k) pulled.elongation_m[k] -= taken_out_m[k];
    const VectorXd left =
        stacked(feet_moved(feet.middles, feet.rods, pulled.elongation_m, pulled.taut)) - u;
    out.moves = pads.moves;
    report(assembly, feet, state, pulled, unstacked(u), out);
    out.crown_drop_spread_m = out.crown_drop_m - still_drop;
    if (left.lpNorm<Eigen::Infinity>() < options.still_m) {
      out.settled = true;
      return out;
    }
    if (before.size() > 0) step = next_step(step, left, before);
    u += step * left;
    before = left;
  }
  out.rounds = options.rounds_most;
  out.reason = "feet, rods and pads did not settle";
  return out;
}

TieSpread tie_spread(const Brief& brief, const Assembly& assembly, const StandOptions& options,
                     const Groundworks& ground, const Progress& progress,
                     const SpreadOptions& wanted) {
  TieSpread out;
  const bool sized =
      std::ranges::all_of(ground.ties, [](const TieForce& tie) { return tie.diameter_m > 0; });
  if (ground.ties.empty() || !sized) {
    out.remarks.emplace_back(ground.ties.empty() ? "no ties: no spread by them"
                                                 : "a tie has no size: spread is not computed");
    return out;
  }
  struct Run {
    std::size_t load;
    Tightened tightened;
    double warmer_k;
  };
  std::vector<Run> runs;
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    runs.push_back({i, Tightened::kAtStriking, 0});
    runs.push_back({i, Tightened::kNot, 0});
    if (brief.loads.warmer_k > 0) runs.push_back({i, Tightened::kAtStriking, brief.loads.warmer_k});
    if (brief.loads.colder_k > 0)
      runs.push_back({i, Tightened::kAtStriking, -brief.loads.colder_k});
  }
  const PadModel model(assembly, options);
  const std::vector<double> dead = dead_elongations(brief, assembly, model, ground, wanted);
  if (dead.empty()) {
    std::erase_if(runs, [](const Run& r) { return r.tightened == Tightened::kAtStriking; });
    out.remarks.emplace_back("no state of the pads under dead load: only rods not tightened");
  }
  out.states.resize(runs.size());
  std::atomic<std::size_t> done{0};
  for_each_index(runs.size(), [&](std::size_t i) {
    out.states[i] = spread_of(brief, assembly, model, ground, assembly.cases[runs[i].load],
                              runs[i].tightened == Tightened::kNot ? std::vector<double>{} : dead,
                              runs[i].warmer_k, wanted);
    progress.checkpoint("ground: spread of the feet",
                        static_cast<double>(++done) / static_cast<double>(runs.size()));
  });
  for (const SpreadState& state : out.states) {
    out.unsettled += state.settled ? 0 : 1;
    if (state.settled && std::abs(state.spread_m) > std::abs(out.spread_m))
      out.spread_m = state.spread_m;
  }
  out.remarks.emplace_back(
      "rods are taken to be as thick as their thread's size over the whole length and as warm as "
      "the bridge; anchors, soil and the shear of the ground against spreading are left out");
  return out;
}

}  // namespace skewback
