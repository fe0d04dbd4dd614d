#include "erect/working.hpp"

#include <algorithm>
#include <cmath>

#include "stand/motion_view.hpp"
#include "stand/pad_path.hpp"

namespace skewback {
namespace {

std::vector<Vec3> on_seats(const Forces& forces, std::size_t props) {
  std::vector<Vec3> on(props, Vec3::Zero());
  for (const PropForce& seat : forces.props) on[static_cast<std::size_t>(seat.prop)] = seat.force;
  return on;
}

double upward(const std::vector<Vec3>& forces) {
  double sum = 0;
  for (const Vec3& f : forces) sum += f.z();
  return sum;
}

double largest(const Forces& forces) {
  double most = 0;
  for (const PropForce& seat : forces.props) most = std::max(most, seat.force.norm());
  return most;
}

int badness(Verdict verdict) {
  if (verdict == Verdict::kStands) return 0;
  return verdict == Verdict::kUndecided ? 1 : 2;
}

/// Seats that were lowered may have let go: view 1 does without them.
StandOptions without_lowered(StandOptions options) {
  std::erase_if(options.props, [](const Prop& prop) { return prop.lowered_m > 0; });
  return options;
}

struct Trial {
  Verdict verdict = Verdict::kUndecided;
  std::string reason;
  std::optional<CaseProof> limit;  // where it was asked
  double opening_m = 0, seat_n = 0;
  bool slips = false;  // a joint of the pads' state, under more than a hundredth of its pressure
  std::vector<Vec3> on_seats;  // per prop
};

/// A state of the pads is forces that balance inside the cones, so view 1 holds with it; view 1 is
/// asked where there is none.
Trial try_case(const Assembly& assembly, const StandOptions& options, const LoadCase& load,
               const PadModel* model, const PadHistory* weight) {
  Trial out;
  PadState state;
  if (model != nullptr) {
    PadOptions pads;
    pads.tolerance = 1e-7;  // not evidence: verdicts of trials
    state = state_at_once_or_in_steps(*model, load, pads, weight);
    if (state.found) {
      out.verdict = Verdict::kStands;
      out.opening_m = state.opening_max_m;
      out.seat_n = largest(state.forces);
      out.slips = slips_somewhere(state);
      out.on_seats = on_seats(state.forces, options.props.size());
      return out;
    }
  }
  out.limit = limit_load(assembly, load, without_lowered(options));
  if (model != nullptr) join_views(assembly, std::move(state), *out.limit);
  out.verdict = out.limit->verdict;
  out.reason = out.limit->reason;
  const auto* forces = std::get_if<Forces>(&out.limit->evidence);
  if (forces != nullptr) out.seat_n = largest(*forces);
  return out;
}

constexpr double kOpens = 1e-8;  // m; less is no difference

/// Worse verdict first, then the lower load factor, then the wider opening.
bool nearer_to_failing(const Trial& a, const Trial& b) {
  if (a.verdict != b.verdict) return badness(a.verdict) > badness(b.verdict);
  const auto factor = [](const Trial& t) {
    return t.limit && t.limit->load_factor && !t.limit->at_cap ? *t.limit->load_factor : HUGE_VAL;
  };
  if (factor(a) != factor(b)) return factor(a) < factor(b);
  return a.opening_m > b.opening_m + kOpens;
}

}  // namespace

std::optional<WorkingLoads> under_building_loads(const Assembly& assembly,
                                                 const StandOptions& options,
                                                 const std::vector<BuildingCase>& on,
                                                 const PadHistory* weight) {
  if (on.empty()) return std::nullopt;
  WorkingLoads out;
  out.views = {"limit"};
  std::optional<PadModel> model;
  if (weight != nullptr) {
    out.views.emplace_back("pads");
    model.emplace(assembly, options);
  }
  std::optional<Trial> worst;
  const LoadCase* worst_load = nullptr;
  for (const BuildingCase& tried : on) {
    Trial trial = try_case(assembly, options, tried.load, model ? &*model : nullptr, weight);
    ++out.cases;
    if (trial.verdict == Verdict::kStands) {
      ++out.standing;
      out.seat_force_max_n = std::max(out.seat_force_max_n, trial.seat_n);
      if (upward(trial.on_seats) > upward(out.seat_force_n)) {
        out.seat_force_n = trial.on_seats;
        out.heaviest = tried.words;
      }
    }
    if (worst && !nearer_to_failing(trial, *worst)) continue;
    worst = std::move(trial);
    worst_load = &tried.load;
    out.governing = tried.words;
  }
  if (!worst->limit) worst->limit = limit_load(assembly, *worst_load, without_lowered(options));
  out.verdict = worst->verdict;
  out.reason = worst->reason;
  out.load_factor = worst->limit->load_factor;
  out.at_cap = worst->limit->at_cap;
  out.motion_called = worst->slips || motion_is_needed(assembly, *worst->limit);
  return out;
}

}  // namespace skewback
