#include "works/tie_spread.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "ground/holding.hpp"
#include "works/feet_system.hpp"
#include "works/states.hpp"

namespace skewback {
namespace {

using Eigen::VectorXd;

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

double greatest_spread(const std::vector<Vec2>& middles, const Eigen::VectorXd& u) {
  double most = 0;
  for (std::size_t a = 0; a < middles.size(); ++a) {
    for (std::size_t b = a + 1; b < middles.size(); ++b) {
      const Vec2 way = (middles[b] - middles[a]).normalized();
      const Vec2 apart = u.segment<2>(3 * static_cast<Eigen::Index>(b)) -
                         u.segment<2>(3 * static_cast<Eigen::Index>(a));
      const double change = way.dot(apart);
      if (std::abs(change) > std::abs(most)) most = change;
    }
  }
  return most;
}

std::vector<std::vector<double>> per_tie(const FeetSystem& feet, const VectorXd& pull) {
  std::vector<std::vector<double>> out(feet.diameter_m.size());
  for (std::size_t k = 0; k < feet.rods.size(); ++k)
    out[static_cast<std::size_t>(feet.rods[k].tie)].push_back(pull[static_cast<Eigen::Index>(k)]);
  return out;
}

/// What the rods leave to the ground, per foot.
std::vector<Vec3> left_to_ground(const FeetSystem& feet, const FeetAnswer& answer) {
  const VectorXd left = answer.state.needed - feet.columns * answer.pull_n;
  std::vector<Vec3> out;
  for (Eigen::Index i = 0; i < left.size(); i += 3) out.emplace_back(left.segment<3>(i));
  return out;
}

FeetLoad load_of(const FeetSystem& feet, const LoadCase& load, const SpreadOptions& options) {
  FeetLoad out;
  out.load = &load;
  out.pads.tolerance = options.tolerance;
  out.pretension_n = out.elongation_m = VectorXd::Zero(static_cast<Eigen::Index>(feet.rods.size()));
  return out;
}

}  // namespace

SpreadModel::SpreadModel(const Brief& brief, const Assembly& assembly, const StandOptions& options,
                         const Groundworks& ground, const SpreadOptions& wanted)
    : brief_(brief),
      assembly_(assembly),
      wanted_(wanted),
      model_(assembly, options),
      feet_(std::make_unique<FeetSystem>(feet_system(brief, assembly, ground))),
      limit_pa_(joint_limits(brief, assembly, Situation::kLasting)) {
  const LoadCase* dead = dead_case(assembly);
  if (dead == nullptr || feet_->rods.empty()) return;
  const FeetLoad load = load_of(*feet_, *dead, wanted);
  bridge_ = bridge_stiffness(brief, assembly, model_, *feet_, load);
  const FeetState still =
      feet_state(brief, assembly, model_, *feet_, load, VectorXd::Zero(feet_->relative.rows()));
  if (!still.pads.found) return;
  const FootingBalance held = hold_in_plan(still.supports, feet_->rods, 0);
  dead_pull_n_ =
      VectorXd::Map(held.rod_force.data(), static_cast<Eigen::Index>(held.rod_force.size()));
}

SpreadModel::~SpreadModel() = default;

SpreadState SpreadModel::spread(const LoadCase& load, Tightened tightened, double warmer_k) const {
  SpreadState out;
  out.case_id = load.id;
  out.tightened = tightened;
  out.warmer_k = warmer_k;
  if (!bridge_) {
    out.reason = "no state of the pads under dead load to start from";
    return out;
  }
  FeetLoad asked = load_of(*feet_, load, wanted_);
  asked.pads.warmer_k = warmer_k;
  if (tightened == Tightened::kAtStriking) asked.pretension_n = dead_pull_n_;
  for (std::size_t k = 0; k < feet_->rods.size(); ++k)
    asked.elongation_m[static_cast<Eigen::Index>(k)] =
        kSteelExpansion * warmer_k * feet_->rods[k].length();
  const FeetState still =
      feet_state(brief_, assembly_, model_, *feet_, asked, VectorXd::Zero(feet_->relative.rows()));
  const FeetAnswer answer = settle_feet(brief_, assembly_, model_, *feet_, asked, *bridge_,
                                        wanted_.still_m, wanted_.rounds_most);
  out.settled = answer.settled;
  out.reason = answer.reason;
  out.rounds = answer.rounds;
  if (!answer.state.pads.found) return out;
  out.moves = block_moves(brief_, *feet_, answer.movement);
  out.spread_m = greatest_spread(feet_->middles, answer.movement);
  out.rod_force_n = per_tie(*feet_, answer.pull_n);
  out.ground_n = left_to_ground(*feet_, answer);
  out.supports = answer.state.supports;
  TriedState judged;
  take_state(assembly_, answer.state.pads, limit_pa_, judged);
  out.move_max_m = judged.move_max_m;
  out.pressed = judged.pressed;
  if (!judged.holds) out.over = judged.reason;
  out.peak_pa = answer.state.pads.peak_pa;
  out.opening_max_m = answer.state.pads.opening_max_m;
  out.crown_drop_m = drop(assembly_, answer.state.pads);
  if (still.pads.found) out.crown_drop_spread_m = out.crown_drop_m - drop(assembly_, still.pads);
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
  out.states.resize(runs.size());
  const SpreadModel model(brief, assembly, options, ground, wanted);
  std::atomic<std::size_t> done{0};
  for_each_index(runs.size(), [&](std::size_t i) {
    out.states[i] = model.spread(assembly.cases[runs[i].load], runs[i].tightened, runs[i].warmer_k);
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

std::vector<TriedState> tried_on_ties(const std::vector<SpreadState>& states) {
  std::vector<TriedState> out;
  for (const SpreadState& s : states) {
    if (s.tightened != Tightened::kAtStriking) continue;
    TriedState state;
    state.what = kFeetOnTies;
    if (s.warmer_k != 0) {
      char text[40];
      std::snprintf(text, sizeof text, ", %.3g K %s", std::abs(s.warmer_k),
                    s.warmer_k > 0 ? "warmer" : "colder");
      state.what += text;
    }
    state.case_id = s.case_id;
    state.holds = s.settled && s.over.empty();
    state.reason = s.settled ? s.over : s.reason;
    if (s.settled) {
      state.peak_pa = s.peak_pa;
      state.opening_max_m = s.opening_max_m;
      state.move_max_m = s.move_max_m;
      state.pressed = s.pressed;
    }
    out.push_back(std::move(state));
  }
  return out;
}

std::vector<TieState> held_by_rods(const TieSpread& spread, Tightened tightened) {
  std::vector<TieState> out;
  for (const SpreadState& s : spread.states) {
    if (s.tightened != tightened || s.warmer_k != 0 || !s.settled) continue;
    TieState state;
    state.case_id = s.case_id;
    state.supports = s.supports;
    state.rod_force_n = s.rod_force_n;
    state.ground_shear_n = s.ground_n;
    state.balanced = true;
    double largest = 1;
    for (const SupportReaction& r : s.supports) largest = std::max(largest, r.thrust_n);
    for (std::size_t i = 0; i < s.ground_n.size(); ++i) {
      const double rel = s.ground_n[i].cwiseAbs().maxCoeff() / largest;
      state.residual_rel = std::max(state.residual_rel, rel);
      const double most = kTrifle * s.supports[i].force.z();
      if (s.ground_n[i].head<2>().norm() > most || std::abs(s.ground_n[i].z()) > most)
        state.balanced = false;
    }
    if (!state.balanced) state.reason = "the load pushes the whole sideways; ties cannot hold that";
    out.push_back(std::move(state));
  }
  return out;
}

}  // namespace skewback
