// Striking that goes unevenly: every foot by itself ahead of its row, or behind it.

#include "erect/uneven.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <map>

#include "base/parallel.hpp"
#include "erect/lowering.hpp"
#include "erect/sequence.hpp"

namespace skewback {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

struct Trial {
  int stage = -1;
  const LoweringFoot* foot = nullptr;
  bool lags = false;
};

std::string worded(const char* form, double value) {
  char text[32];
  std::snprintf(text, sizeof text, form, value);
  return text;
}

const PadState* pads_of(const Programme& programme, int stage) {
  if (stage < 0 || !by_pads(programme.stages[at(stage)])) return nullptr;
  return &*programme.stages[at(stage)].proof.pads;
}

/// Upward, of the seats that stand on this foot: its share of each.
double on_foot(const LoweringFoot& foot, const std::vector<Vec3>& seat_force_n) {
  double sum = 0;
  for (std::size_t s = 0; s < seat_force_n.size(); ++s) sum += foot.share[s] * seat_force_n[s].z();
  return sum;
}

std::vector<Vec3> by_seat(const Programme& programme, const StageState& state,
                          const std::vector<PropForce>& props) {
  std::vector<Vec3> force(programme.seats.size(), Vec3::Zero());
  const std::vector<int> in = seats_in(state, true);
  for (const PropForce& seat : props) force[at(in[at(seat.prop)])] = seat.force;
  return force;
}

/// A foot under which nothing lay before the step changes nothing by going first.
bool bears(const LoweringFoot& foot, const std::vector<Vec3>& seat_force_n) {
  for (std::size_t s = 0; s < seat_force_n.size(); ++s)
    if (foot.share[s] != 0 && seat_force_n[s].norm() > 0) return true;
  return false;
}

std::vector<Trial> trials_of(const Programme& programme, const std::vector<LoweringRow>& rows) {
  std::vector<Trial> trials;
  std::size_t step = 0;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    if (programme.stages[i].what != "lower") continue;
    const LoweringRow& row = rows[step++ % rows.size()];
    const int stage = static_cast<int>(i);
    const PadState* before = pads_of(programme, stage - 1);
    if (before == nullptr || pads_of(programme, stage) == nullptr || row.feet.size() < 2) continue;
    const std::vector<Vec3> force =
        by_seat(programme, programme.stages[i - 1].state, before->forces.props);
    for (const LoweringFoot& foot : row.feet) {
      if (std::ranges::none_of(foot.share, [](double share) { return share != 0; })) continue;
      if (bears(foot, force)) trials.push_back({stage, &foot, false});
      trials.push_back({stage, &foot, true});
    }
  }
  return trials;
}

/// View 1 holds with more seats wherever it holds with fewer; true where these are all there.
bool has_seats_of(const StageState& state, const StageState& other) {
  return std::ranges::includes(seats_in(state, false), seats_in(other, false));
}

UnevenStep tried(const Brief& brief, const Assembly& assembly, const Programme& programme,
                 const LoadCase& dead, const Trial& trial) {
  const Stage &before = programme.stages[at(trial.stage - 1)],
              &after = programme.stages[at(trial.stage)];
  StageState state = trial.lags ? after.state : before.state;
  const double step = (trial.lags ? -1 : 1) * brief.centring.strike_step_m;
  for (std::size_t s = 0; s < state.lowered_m.size(); ++s)
    state.lowered_m[s] += step * trial.foot->share[s];
  UnevenStep out;
  out.stage = trial.stage;
  out.foot = trial.foot->id;
  out.lags = trial.lags;
  const Assembly there = stage_assembly(assembly, programme, at(trial.stage));
  const PadState& beside = trial.lags ? *after.proof.pads : *before.proof.pads;
  const PadState pads = PadModel(there, options_in(brief, programme, state, true))
                            .solve(dead, {}, &before.proof.pads->after, &beside);
  out.reason = pads.reason;
  if (!pads.found) return out;
  out.stands = after.proof.verdict == Verdict::kStands && has_seats_of(state, after.state);
  if (!out.stands) {
    const CaseProof limit = limit_load(there, dead, options_in(brief, programme, state, false));
    out.stands = limit.verdict == Verdict::kStands;
    out.reason = limit.reason;
  }
  out.seat_force_n = by_seat(programme, state, pads.forces.props);
  out.foot_n = on_foot(*trial.foot, out.seat_force_n);
  for (const Vec3& force : out.seat_force_n)
    out.seat_force_max_n = std::max(out.seat_force_max_n, force.norm());
  out.opening_max_m = pads.opening_max_m;
  out.opening_joint = joint_words(assembly, pads.opening_joint);
  out.pad_peak_pa = pads.peak_pa;
  return out;
}

std::string kilonewtons(double n) { return worded("%.1f kN", n / 1e3); }
std::string millimetres(double m) { return worded("%.2f mm", 1e3 * m); }

/// "R3-2 still up while its row goes down (step 52)".
std::string place_of(const Programme& programme, const UnevenStep& step) {
  return step.foot + (step.lags ? " still up when its row has gone down" : " gone before its row") +
         " (step " + std::to_string(programme.stages[at(step.stage)].step) + ")";
}

void say_falls(const Programme& programme, UnevenStriking& uneven) {
  std::string list;
  int more = -4;
  for (const UnevenStep& step : uneven.steps) {
    if (step.stands) continue;
    if (++more <= 0) list += (list.empty() ? "" : "; ") + place_of(programme, step);
  }
  if (list.empty()) return;
  uneven.words.push_back("Not proved to stand: " + list +
                         (more > 0 ? "; and " + std::to_string(more) + " more" : "") + ".");
}

/// Most on a foot, against the most that even striking and placing bring to it.
void say_hardest(const Programme& programme, const std::vector<LoweringRow>& rows,
                 UnevenStriking& uneven) {
  const UnevenStep* worst = nullptr;
  for (const UnevenStep& step : uneven.steps)
    if (worst == nullptr || step.foot_n > worst->foot_n) worst = &step;
  if (worst == nullptr || !(worst->foot_n > 0)) return;
  double even_n = 0;
  for (const LoweringRow& row : rows)
    for (const LoweringFoot& foot : row.feet) {
      if (foot.id != worst->foot) continue;
      for (const Stage& stage : programme.stages)
        if (by_pads(stage))
          even_n = std::max(even_n, on_foot(foot, by_seat(programme, stage.state,
                                                          stage.proof.pads->forces.props)));
    }
  uneven.words.push_back("Most on one foot: " + kilonewtons(worst->foot_n) + ", " +
                         place_of(programme, *worst) + "; while all goes evenly it carries " +
                         kilonewtons(even_n) + " at most" +
                         (worst->foot_n > even_n ? "." : ", so unevenness asks no more of it."));
}

void say_opening(const Programme& programme, UnevenStriking& uneven) {
  const UnevenStep* worst = nullptr;
  double most = 0;
  int over = 0;
  for (const UnevenStep& step : uneven.steps) {
    const double share = step.opening_max_m / stop_limits(programme, at(step.stage)).opening_m;
    over += share > 1 ? 1 : 0;
    if (!(share > most)) continue;
    most = share;
    worst = &step;
  }
  if (worst == nullptr) return;
  const double limit = stop_limits(programme, at(worst->stage)).opening_m;
  uneven.words.push_back(
      "Joint " + worst->opening_joint + " opens by " + millimetres(worst->opening_max_m) +
      ", stop limit " + millimetres(limit) + ": " + place_of(programme, *worst) +
      (over > 1 ? "; " + std::to_string(over) + " such states are over the limit of their step."
                : "."));
}

}  // namespace

std::vector<const UnevenStep*> hardest_on_each_foot(const UnevenStriking& uneven) {
  std::map<std::string, const UnevenStep*> worst;
  for (const UnevenStep& step : uneven.steps) {
    const UnevenStep*& held = worst[step.foot];
    if (step.foot_n > (held == nullptr ? 0 : held->foot_n)) held = &step;
  }
  std::vector<const UnevenStep*> out;
  for (const auto& [foot, step] : worst)
    if (step != nullptr) out.push_back(step);
  return out;
}

std::vector<SeatLoads> uneven_seat_loads(const Programme& programme) {
  std::vector<SeatLoads> all;
  for (const UnevenStep* step : hardest_on_each_foot(programme.uneven)) {
    const Stage& stage = programme.stages[at(step->stage)];
    all.push_back({"lower " + step->foot + (step->lags ? " after" : " before") +
                       " the rest of its row (step " + std::to_string(stage.step) + ")",
                   false, step->seat_force_n});
  }
  return all;
}

namespace {

/// How far ribs sink for a moment harms nothing.
bool too_much(const CentringCheck& check) { return check.utilisation > 1 && check.unit != "m"; }

}  // namespace

std::string over_in_words(const Centring& judged) {
  const CentringCheck* worst = nullptr;
  std::string others;
  for (const CentringCheck& check : judged.checks) {
    if (!too_much(check)) continue;
    if (worst == nullptr || check.utilisation > worst->utilisation) worst = &check;
  }
  if (worst == nullptr) return "";
  for (const CentringCheck& check : judged.checks)
    if (too_much(check) && &check != worst) others += (others.empty() ? "" : ", ") + check.name;
  return "More than the centring is held to when a foot is out of step by a whole step: " +
         worst->name + ", " + worst->place + ", " +
         (worst->unit == "N" ? kilonewtons(worst->demand) + " of " + kilonewtons(worst->resistance)
                             : worded("%.0f %%", 100 * worst->utilisation)) +
         ", " + worst->stage + (others.empty() ? "" : "; over theirs too: " + others) +
         ". Ribs, posts and ground are taken as stiff there, true forces are less; keep the feet "
         "of "
         "a row together, or take smaller steps (centring.strike_step).";
}

void prove_uneven(const Brief& brief, const Assembly& assembly, const Centring* centring,
                  Programme& programme, const Progress& progress) {
  const std::vector<LoweringRow> rows = lowering_rows(assembly, centring, programme.seats);
  const std::vector<Trial> trials = trials_of(programme, rows);
  const LoadCase dead = dead_load(assembly);
  UnevenStriking& uneven = programme.uneven;
  uneven = {};
  uneven.steps.resize(trials.size());
  std::atomic<std::size_t> done = 0;
  for_each_index(trials.size(), [&](std::size_t i) {
    uneven.steps[i] = tried(brief, assembly, programme, dead, trials[i]);
    progress.checkpoint("erect: uneven striking",
                        static_cast<double>(++done) / static_cast<double>(trials.size()));
  });
  uneven.standing =
      static_cast<int>(std::ranges::count_if(uneven.steps, [](const auto& s) { return s.stands; }));
  say_falls(programme, uneven);
  say_hardest(programme, rows, uneven);
  say_opening(programme, uneven);
}

}  // namespace skewback
