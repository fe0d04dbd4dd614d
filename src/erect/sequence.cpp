#include "erect/sequence.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <tuple>

#include "base/parallel.hpp"
#include "erect/working.hpp"

namespace skewback {

LoadCase dead_load(const Assembly& assembly) {
  const auto it = std::ranges::find_if(assembly.cases, [](const auto& c) { return !c.has_live(); });
  if (it != assembly.cases.end()) return *it;
  LoadCase dead;
  dead.id = "dead";
  return dead;
}

int crown_block(const Assembly& assembly, const std::vector<char>& present) {
  int best = -1;
  double z = 0;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (block.fixed || present[i] == 0) continue;
    if (best >= 0 && block.mass.centroid.z() <= z + 1e-9) continue;
    best = static_cast<int>(i);
    z = block.mass.centroid.z();
  }
  return best;
}

constexpr double kMoved = 1e-9;  // m; less is rounding

std::vector<int> seats_in(const StageState& state, bool pads) {
  std::vector<int> in;
  for (std::size_t s = 0; s < state.seated.size(); ++s) {
    if (state.seated[s] != 0 && (pads || state.lowered_m[s] <= kMoved))
      in.push_back(static_cast<int>(s));
  }
  return in;
}

int laid_how(const Programme& programme, const StageState& state) {
  if (state.laid == static_cast<int>(steps_of(programme, state).size())) return -1;
  return state.laid +
         (state.unlaying && state.laid > 0 ? static_cast<int>(programme.laying.size()) : 0);
}

std::string joint_words(const Assembly& assembly, int joint) {
  if (joint < 0) return "";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  return assembly.blocks[static_cast<std::size_t>(j.a)].id + " | " +
         assembly.blocks[static_cast<std::size_t>(j.b)].id;
}

bool by_pads(const Stage& stage) { return stage.proof.pads && stage.proof.pads->found; }

const Forces* forces_of(const Stage& stage) {
  return by_pads(stage) ? &stage.proof.pads->forces : std::get_if<Forces>(&stage.proof.evidence);
}

namespace {

constexpr double kBearsLeast = 1;  // N; less is no bearing

void weigh_seats(const Assembly& assembly, const Programme& programme, Stage& stage) {
  const Forces* forces = forces_of(stage);
  if (forces == nullptr) return;
  const std::vector<int> in = seats_in(stage.state, by_pads(stage));
  std::map<int, double> legs;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const int arm = assembly.blocks[i].place.arm;
    if (!assembly.blocks[i].fixed && arm >= 0) legs[arm] = 0;
  }
  Vec3 sum = Vec3::Zero();
  for (const PropForce& seat : forces->props) {
    const double n = seat.force.norm();
    if (n <= 0) continue;
    if (n > kBearsLeast) ++stage.seats_bearing;
    stage.seat_force_max_n = std::max(stage.seat_force_max_n, n);
    sum += seat.force;
    const Prop& prop =
        programme.seats[static_cast<std::size_t>(in[static_cast<std::size_t>(seat.prop)])];
    const int arm = assembly.blocks[static_cast<std::size_t>(prop.block)].place.arm;
    if (arm >= 0) legs[arm] += seat.force.z();
  }
  stage.seat_load_n = sum.z();
  stage.seat_sideways_n = sum.head<2>().norm();
  if (legs.empty()) return;
  const auto [least, most] =
      std::ranges::minmax_element(legs, {}, [](const auto& leg) { return leg.second; });
  stage.seat_uneven_n = most->second - least->second;
}

/// What view 1 sees of a state: blocks, seats that were not lowered, what is laid.
using Seen = std::tuple<std::vector<char>, std::vector<int>, int>;
Seen seen(const Programme& programme, const StageState& state) {
  return {state.present, seats_in(state, false), laid_how(programme, state)};
}

}  // namespace

Sequence::Sequence(const Brief& brief, const Assembly& assembly, Programme& programme,
                   const Progress& progress)
    : brief_(brief),
      assembly_(assembly),
      programme_(programme),
      progress_(progress),
      dead_(dead_load(assembly)) {
  for (const Block& block : assembly.blocks) now_.present.push_back(block.fixed);
  now_.seated.assign(programme.seats.size(), 0);
  now_.lowered_m.assign(programme.seats.size(), 0);
  history_.placed.assign(assembly.blocks.size(), 0);
  history_.moves.resize(assembly.blocks.size());
  placed_z_.assign(assembly.blocks.size(), 0);
}

Stage& Sequence::add(const std::string& what, const std::string& words,
                     std::vector<std::string> blocks) {
  const std::size_t index = programme_.stages.size();
  Stage& stage = programme_.stages.emplace_back();
  stage.step = static_cast<int>(index) + 1;
  stage.what = what;
  stage.words = words;
  stage.blocks = std::move(blocks);
  stage.state = now_;
  pads_.emplace_back();
  if (!lost_) settle(stage, index);
  progress_.checkpoint("erect: pads", 0);
  return stage;
}

void Sequence::settle(Stage& stage, std::size_t index) {
  const Assembly there = stage_assembly(assembly_, programme_, index);
  PadState& pads = pads_[index];
  pads =
      PadModel(there, stage_options(brief_, programme_, index, true)).solve(dead_, {}, &history_);
  lost_ = !pads.found;
  if (lost_) return;
  for (std::size_t i = 0; i < assembly_.blocks.size(); ++i) {
    if (now_.present[i] == 0 || history_.placed[i] != 0) continue;
    const BlockVelocity& move = pads.moves[i];
    placed_z_[i] = (move.v + move.w.cross(assembly_.blocks[i].mass.centroid)).z();
  }
  history_ = pads.after;
  left_.push_back(history_);
  measure(stage, pads);
}

void Sequence::measure(Stage& stage, const PadState& pads) const {
  stage.opening_max_m = pads.opening_max_m;
  stage.opening_joint = joint_words(assembly_, pads.opening_joint);
  if (std::ranges::count(now_.present, 0) > 0) return;
  const int crown = crown_block(assembly_, now_.present);
  if (crown < 0) return;
  const auto c = static_cast<std::size_t>(crown);
  const BlockVelocity& move = pads.moves[c];
  stage.crown_drop_m =
      placed_z_[c] - (move.v + move.w.cross(assembly_.blocks[c].mass.centroid)).z();
}

void Sequence::prove() {
  std::map<Seen, std::size_t> first;
  std::vector<std::size_t> alone;
  for (std::size_t i = 0; i < programme_.stages.size(); ++i) {
    const auto [it, fresh] = first.emplace(seen(programme_, programme_.stages[i].state), i);
    if (fresh)
      alone.push_back(i);
    else
      programme_.stages[i].same_as = static_cast<int>(it->second);
  }
  std::atomic<std::size_t> done = 0;
  const auto share = [&](std::size_t all) {
    return static_cast<double>(++done) / static_cast<double>(all);
  };
  for_each_index(alone.size(), [&](std::size_t k) {
    const std::size_t i = alone[k];
    programme_.stages[i].proof = limit_load(stage_assembly(assembly_, programme_, i), dead_,
                                            stage_options(brief_, programme_, i, false));
    progress_.checkpoint("erect: limit", share(alone.size()));
  });
  for (std::size_t i = 0; i < programme_.stages.size(); ++i) {
    Stage& stage = programme_.stages[i];
    if (stage.same_as >= 0)
      stage.proof = programme_.stages[static_cast<std::size_t>(stage.same_as)].proof;
  }
  for (std::size_t i = 0; i < programme_.stages.size(); ++i) {
    Stage& stage = programme_.stages[i];
    const bool tried = i < left_.size() || (i == left_.size() && lost_);
    if (tried) join_views(assembly_, std::move(pads_[i]), stage.proof);
    weigh_seats(assembly_, programme_, stage);
  }
  const BuildingLoads loads(brief_, assembly_);
  std::vector<std::size_t> on;
  for (std::size_t i = 0; i < programme_.stages.size(); ++i) {
    const std::string& what = programme_.stages[i].what;
    if (what != "lower" && what != "raise") on.push_back(i);  // nobody is on it then
  }
  done = 0;
  for_each_index(on.size(), [&](std::size_t k) {
    const std::size_t i = on[k];
    Stage& stage = programme_.stages[i];
    stage.working = under_building_loads(
        stage_assembly(assembly_, programme_, i), stage_options(brief_, programme_, i, true),
        loads.on(stage.state.present), i < left_.size() ? &left_[i] : nullptr);
    progress_.checkpoint("erect: people and wind", share(on.size()));
  });
}

}  // namespace skewback
