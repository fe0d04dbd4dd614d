#include "survey/tolerances.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

constexpr int kTradeDraws = 2000;  // most that each change of a trade is tried on

void add_draws(const std::vector<DrawResult>& results, ToleranceReport& report) {
  int by_itself = 0, packed = 0;
  for (const DrawResult& r : results) {
    by_itself += r.key_by_itself ? 1 : 0;
    packed += r.goes_in ? 1 : 0;
    report.packers_m.push_back(r.packers_m);
    report.thickest_m.push_back(r.thickest_m);
    const bool tight = -r.key_gap_min_m > r.key_gap_max_m;
    report.key_gap_m.push_back(tight ? r.key_gap_min_m : r.key_gap_max_m);
  }
  report.draws = static_cast<int>(results.size());
  report.key_by_itself = chance_of(by_itself, report.draws);
  report.goes_in = chance_of(packed, report.draws);
}

}  // namespace

Chance chance_of(int hits, int draws) {
  if (draws <= 0) return {};
  const double smoothed = (hits + 1.0) / (draws + 2.0);
  return {static_cast<double>(hits) / draws, std::sqrt(smoothed * (1 - smoothed) / draws)};
}

KeyLie key_lie(const std::vector<JointLie>& lies, const std::vector<int>& joints) {
  if (joints.empty()) return {};
  KeyLie out{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(), 0};
  for (const int j : joints) {
    const JointLie& lie = lies[static_cast<std::size_t>(j)];
    out.gap_min_m = std::min(out.gap_min_m, lie.gap_min_m());
    out.gap_max_m = std::max(out.gap_max_m, lie.gap_max_m());
    out.step_m = std::max(out.step_m, lie.step_max_m());
  }
  return out;
}

DrawResult try_draw(const Brief& brief, const StackModel& model, std::uint64_t draw,
                    const std::vector<double>& scale) {
  const AsMade made = draw_errors(brief, model, draw, scale);
  const Stack stack = stack_up(model, made, brief.packing);
  const KeyLie key = key_lie(stack.joints, key_joints(model.assembly(), model.order()));
  const Packed packed = pack_up(model, made, brief.packing, {.springers = false});
  DrawResult result;
  result.key_by_itself = stack.key_goes_in;
  result.key_gap_min_m = key.gap_min_m;
  result.key_gap_max_m = key.gap_max_m;
  result.goes_in = packed.goes_in;
  result.packed_joints = packed.packed_joints;
  result.thickest_m = packed.thickest_m;
  result.packers_m = packed.packers_m;
  return result;
}

ToleranceReport judge_tolerances(const Brief& brief, const Assembly& assembly,
                                 const StandOptions& options, const Progress& progress,
                                 const std::vector<CaseProof>& drawn) {
  constexpr double kDrawn = 0.4, kTried = 0.7;  // of the progress
  const StackModel model(assembly);
  ToleranceReport report;
  const Stopwatch watch;
  std::vector<DrawResult> results(static_cast<std::size_t>(std::max(0, brief.tolerances.draws)));
  for_each_draw(static_cast<int>(results.size()), progress, 0, kDrawn,
                [&](std::size_t i) { results[i] = try_draw(brief, model, i); });
  add_draws(results, report);
  judge_trades(brief, model, std::min(report.draws, kTradeDraws), progress, kDrawn, kTried, report);
  report.seconds = watch.seconds();
  prove_draws(brief, model, options, drawn, progress, kTried, 1, report);
  progress.checkpoint("tolerances", 1);
  return report;
}

}  // namespace skewback
