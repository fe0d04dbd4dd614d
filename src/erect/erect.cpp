#include "erect/erect.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "centring/soffit.hpp"
#include "erect/laying.hpp"
#include "erect/lowering.hpp"
#include "erect/order.hpp"
#include "erect/sequence.hpp"

namespace skewback {
namespace {

const std::string& id_of(const Assembly& assembly, int block) {
  return assembly.blocks[static_cast<std::size_t>(block)].id;
}

std::vector<std::string> ids_of(const Assembly& assembly, const std::vector<int>& blocks) {
  std::vector<std::string> ids;
  for (const int i : blocks) ids.push_back(id_of(assembly, i));
  return ids;
}

std::vector<Prop> seats_for(const Brief& brief, const Assembly& assembly, const Centring* centring,
                            const std::vector<int>& order) {
  std::vector<Prop> all;
  if (centring != nullptr) {
    for (const Seat& seat : centring->seats) all.push_back(seat.prop);
    return all;
  }
  for (const int i : order) {
    const auto seats = seats_of(assembly, i, brief.centring.friction);
    all.insert(all.end(), seats.begin(), seats.end());
  }
  return all;
}

void set_block(const Programme& programme, int block, bool there, StageState& state) {
  state.present[static_cast<std::size_t>(block)] = there;
  for (std::size_t s = 0; s < programme.seats.size(); ++s) {
    if (programme.seats[s].block == block) state.seated[s] = there;
  }
}

void place_all(const Assembly& assembly, const std::vector<int>& order, Programme& programme,
               Sequence& sequence) {
  const std::vector<Entry> entries = entry_directions(assembly, order);
  for (std::size_t k = 0; k < order.size(); ++k) {
    set_block(programme, order[k], true, sequence.state());
    const std::string& id = id_of(assembly, order[k]);
    sequence.add("place", id, {id}).entry = {entries[k]};
  }
}

/// Largest of the pads' forces on the seats counts as bearing above a thousandth of a block.
bool seats_bear(const PadState& pads, double weight_n) {
  return std::ranges::any_of(pads.forces.props, [&](const PropForce& seat) {
    return seat.force.norm() > 1e-3 * weight_n;
  });
}

constexpr double kStepsOf = 1e-4;  // m: a turn of a jack or a tap on a wedge is no finer

double heaviest_n(const Assembly& assembly) {
  double most = 0;
  for (const Block& block : assembly.blocks) {
    if (!block.fixed) most = std::max(most, 9.81 * mass_kg(block));
  }
  return most;
}

int steps_within(double travel_m, double step_m) {
  return std::max(1, static_cast<int>(travel_m / step_m + 1e-9));  // 0.3 / 0.1 is short of 3
}

/// Travel that every foot has downwards.
double travel_down(const Brief& brief, const Centring* centring) {
  double least = brief.centring.travel_m;
  if (centring != nullptr) {
    for (const CentringFoot& foot : centring->feet) least = std::min(least, foot.down_m);
  }
  return least;
}

/// Round after round, each row by one step, until no seat bears or the travel is used up.
void lower(const Brief& brief, const Assembly& assembly, const Centring* centring,
           Programme& programme, Sequence& sequence) {
  const double step = brief.centring.strike_step_m;
  const int rounds_most = steps_within(travel_down(brief, centring), step);
  const auto rows = lowering_rows(assembly, centring, programme.seats);
  for (int round = 1; round <= rounds_most && !programme.freed; ++round) {
    for (const LoweringRow& row : rows) {
      for (std::size_t s = 0; s < programme.seats.size(); ++s)
        sequence.state().lowered_m[s] += step * row.share[s];
      sequence.add("lower", row.words, ids_of(assembly, row.blocks)).lowered_m = round * step;
      programme.lowering_m = round * step;
      if (!sequence.settled()) continue;
      programme.freed = !seats_bear(sequence.last(), heaviest_n(assembly));
      if (round > 1 && programme.freed) break;
    }
    if (!sequence.settled()) break;
  }
  StageState& state = sequence.state();
  std::ranges::fill(state.seated, 0);
  std::ranges::fill(state.lowered_m, 0);
  sequence.add("clear", "the centring taken away", {});
}

void lay(Programme& programme, Sequence& sequence) {
  for (const LayingStep& step : programme.laying) {
    ++sequence.state().laid;
    sequence.add("lay", step.words, {});
  }
}

/// Friction that the pads' pressure can hold a block by, N.
double held_fast(const Assembly& assembly, const PadState& pads, int block) {
  double pull = 0;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    if (joint.a == block || joint.b == block) pull += joint.friction * pads.joints[j].normal_n;
  }
  return pull;
}

constexpr int kRaisingSteps = 8;  // to one of lowering

/// The centring is put back under the blocks and raised until the first to go, the last that was
/// placed, is held by less than half its weight, or no less than before.
void raise(const Brief& brief, const Assembly& assembly, int first, Programme& programme,
           Sequence& sequence) {
  constexpr double kFree = 0.5, kNoLess = 0.98;
  // small: what is raised too far is pressed harder than its weight
  const double step = brief.centring.strike_step_m / kRaisingSteps;
  const int rounds_most = steps_within(brief.centring.travel_m, step);
  const double weight = 9.81 * mass_kg(assembly.blocks[static_cast<std::size_t>(first)]);
  StageState& state = sequence.state();
  for (std::size_t s = 0; s < programme.seats.size(); ++s)
    state.seated[s] = state.present[static_cast<std::size_t>(programme.seats[s].block)];
  sequence.add("raise", "the centring brought back under the blocks, touching", {});
  if (sequence.settled()) programme.key_pull_n = held_fast(assembly, sequence.last(), first);
  for (int round = 1; round <= rounds_most && sequence.settled(); ++round) {
    std::ranges::fill(state.lowered_m, -round * step);
    sequence.add("raise", "all feet alike", {}).lowered_m = -round * step;
    if (!sequence.settled()) break;
    const double before = programme.key_pull_n;
    programme.raising_m = round * step;
    programme.key_pull_n = held_fast(assembly, sequence.last(), first);
    programme.keys_free = programme.key_pull_n <= kFree * weight;
    if (programme.keys_free || programme.key_pull_n > kNoLess * before) break;
  }
}

void take_down(const Brief& brief, const Assembly& assembly, const std::vector<int>& order,
               Programme& programme, Sequence& sequence) {
  StageState& state = sequence.state();
  state.laid = static_cast<int>(programme.unlaying.size());
  state.unlaying = true;
  for (auto step = programme.unlaying.rbegin(); step != programme.unlaying.rend(); ++step) {
    --state.laid;
    sequence.add("unload", step->words, {});
  }
  raise(brief, assembly, order.back(), programme, sequence);
  for (auto block = order.rbegin(); std::next(block) != order.rend(); ++block) {
    set_block(programme, *block, false, state);
    const std::string& id = id_of(assembly, *block);
    sequence.add("take down", id, {id});
  }
}

OrderTrial measured(const std::string& order, const Programme& programme) {
  OrderTrial trial;
  trial.order = order;
  for (const Stage& stage : programme.stages) {
    if (stage.what != "place") continue;
    ++trial.stages;
    trial.standing += stands(stage);
    trial.seat_force_max_n = std::max(trial.seat_force_max_n, stage.seat_force_max_n);
    trial.seat_load_max_n = std::max(trial.seat_load_max_n, stage.seat_load_n);
    trial.seat_uneven_max_n = std::max(trial.seat_uneven_max_n, stage.seat_uneven_n);
    trial.seat_sideways_max_n = std::max(trial.seat_sideways_max_n, stage.seat_sideways_n);
  }
  return trial;
}

OrderTrial try_order(const Brief& brief, const Assembly& assembly, const Centring* centring,
                     const std::string& way, const Progress& progress) {
  Programme other;
  const std::vector<int> order = order_of_placing(assembly, way);
  other.seats = seats_for(brief, assembly, centring, order);
  other.laying = laying_by_sides(brief, assembly);
  Sequence sequence(brief, assembly, other, progress);
  place_all(assembly, order, other, sequence);
  sequence.prove();
  return measured(way, other);
}

/// The bridge sinks by less than a step: the first rows to go leave all of it to the others.
void remark_on_step(const Brief& brief, Programme& programme) {
  const auto clear = std::ranges::find(programme.stages, "clear", &Stage::what);
  if (!programme.freed || clear == programme.stages.end()) return;
  const double step = brief.centring.strike_step_m, drop = clear->crown_drop_m,
               finer = std::max(std::floor(drop / 4 / kStepsOf), 1.0) * kStepsOf;
  const int rounds = static_cast<int>(std::ceil(drop / finer - 1e-9));
  if (programme.lowering_m > step * (1 + 1e-9) || rounds < 2) return;
  char text[200];
  std::snprintf(text, sizeof text,
                "The first round of lowering, by %.1f mm, frees the bridge, whose crown sinks by "
                "%.2f mm: with centring.strike_step at %.1f mm it is let down in about %d rounds.",
                1e3 * step, 1e3 * drop, 1e3 * finer, rounds);
  programme.remarks.push_back(text);
}

void add_remarks(Programme& programme) {
  const auto mm = [](double m) { return std::to_string(std::lround(1e3 * m)) + " mm"; };
  const bool settled = !programme.stages.empty() && programme.stages.back().proof.pads &&
                       programme.stages.back().proof.pads->found;
  if (!programme.freed)
    programme.remarks.push_back("The seats still bear after the centring was lowered by " +
                                mm(programme.lowering_m) +
                                ", or the pads had no state on the way.");
  const long tenths = std::lround(programme.key_pull_n / 100);  // of a kN
  if (settled && !programme.keys_free)
    programme.remarks.push_back("Taking down: " + programme.order.back() +
                                ", the first to go, is still held by friction of "
                                "up to " +
                                std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) +
                                " kN when the centring is raised; it must be jacked or drawn out.");
}

}  // namespace

const std::vector<LayingStep>& steps_of(const Programme& programme, const StageState& state) {
  return state.unlaying ? programme.unlaying : programme.laying;
}

Assembly stage_assembly(const Assembly& assembly, const Programme& programme, std::size_t stage) {
  const StageState& state = programme.stages[stage].state;
  const std::vector<LayingStep>& steps = steps_of(programme, state);
  Assembly there = assembly;
  if (state.laid == static_cast<int>(steps.size())) return there;
  for (Block& block : there.blocks) {
    std::erase_if(block.carried, [](const CarriedMass& m) { return m.kind != Carried::kOther; });
  }
  for (int k = 0; k < state.laid; ++k) {
    for (const auto& [block, mass] : steps[static_cast<std::size_t>(k)].on)
      there.blocks[static_cast<std::size_t>(block)].carried.push_back(mass);
  }
  return there;
}

StandOptions stage_options(const Brief& brief, const Programme& programme, std::size_t stage,
                           bool pads) {
  return options_in(brief, programme, programme.stages[stage].state, pads);
}

StandOptions options_in(const Brief& brief, const Programme& programme, const StageState& state,
                        bool pads) {
  StandOptions options;
  options.contact_points_max = kStagePoints;
  options.load_factor_cap = brief.loads.cap;
  options.present = state.present;
  options.own_carried = state.laid < static_cast<int>(steps_of(programme, state).size());
  for (const int s : seats_in(state, pads)) {
    options.props.push_back(programme.seats[static_cast<std::size_t>(s)]);
    options.props.back().lowered_m = state.lowered_m[static_cast<std::size_t>(s)];
  }
  return options;
}

Programme plan_erection(const Brief& brief, const Assembly& assembly, const Centring* centring,
                        const AccessReport* access, const Progress& progress) {
  Programme programme;
  const std::string& way = brief.erect.order;
  const std::vector<int> order = order_of_placing(assembly, way);
  programme.order = ids_of(assembly, order);
  programme.seats = seats_for(brief, assembly, centring, order);
  programme.laying = laying_by_parts(brief, assembly, access);
  programme.unlaying = laying_by_sides(brief, assembly);
  if (order.empty()) return programme;
  Sequence sequence(brief, assembly, programme, progress);
  place_all(assembly, order, programme, sequence);
  lower(brief, assembly, centring, programme, sequence);
  lay(programme, sequence);
  take_down(brief, assembly, order, programme, sequence);
  sequence.prove();
  add_remarks(programme);
  remark_on_step(brief, programme);
  if (brief.erect.compare) {
    programme.orders.push_back(measured(way, programme));
    programme.orders.push_back(try_order(brief, assembly, centring,
                                         way == "together" ? "leg by leg" : "together", progress));
  }
  return programme;
}

Struck struck(const Brief& brief, const Programme& programme) {
  const auto clear = std::ranges::find(programme.stages, "clear", &Stage::what);
  const double more = programme.freed ? 0 : brief.centring.strike_step_m;
  return {clear == programme.stages.end() ? 0 : std::max(0.0, clear->crown_drop_m),
          programme.lowering_m + more};
}

std::vector<SeatLoads> seat_loads(const Programme& programme) {
  std::vector<SeatLoads> all;
  for (const Stage& stage : programme.stages) {
    const auto add = [&](const std::string& words, bool people, bool pads,
                         const std::vector<PropForce>& on) {
      const std::vector<int> in = seats_in(stage.state, pads);
      SeatLoads loads{words, people, std::vector<Vec3>(programme.seats.size(), Vec3::Zero())};
      double sum = 0;
      for (const PropForce& seat : on) {
        const int s = in[static_cast<std::size_t>(seat.prop)];
        loads.force[static_cast<std::size_t>(s)] = seat.force;
        sum += seat.force.norm();
      }
      if (sum > 0) all.push_back(std::move(loads));
    };
    // starts with what is done: judge_centring goes by "place"
    const std::string words = stage.what + " " + stage.words.substr(0, stage.words.find(':')) +
                              " (step " + std::to_string(stage.step) + ")";
    if (const Forces* forces = forces_of(stage)) add(words, false, by_pads(stage), forces->props);
    if (!stage.working) continue;
    std::vector<PropForce> with;
    for (const Vec3& force : stage.working->seat_force_n)
      with.push_back({static_cast<int>(with.size()), force});
    add(words + ", " + stage.working->heaviest, true, true, with);
  }
  return all;
}

}  // namespace skewback
