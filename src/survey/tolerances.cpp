#include "survey/tolerances.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

constexpr int kAtOnce = 256;       // draws between two looks at a request to stop
constexpr int kTradeDraws = 2000;  // most that each change of a trade is tried on

/// body(i) for i in [0, n), side by side, with progress from `from` to `to`.
template <class Body>
void for_each_draw(int n, const Progress& progress, double from, double to, Body body) {
  for (int first = 0; first < n; first += kAtOnce) {
    progress.checkpoint("tolerances", from + (to - from) * first / n);
    const int count = std::min(kAtOnce, n - first);
    for_each_index(static_cast<std::size_t>(count),
                   [&](std::size_t i) { body(static_cast<std::size_t>(first) + i); });
  }
}

struct KeyGap {
  double min_m = 0, max_m = 0;
  [[nodiscard]] double worst_m() const { return std::max(std::abs(min_m), std::abs(max_m)); }
};
KeyGap key_gap(const std::vector<JointLie>& lies, const std::vector<int>& joints) {
  if (joints.empty()) return {};
  KeyGap gap{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  for (const int j : joints) {
    gap.min_m = std::min(gap.min_m, lies[static_cast<std::size_t>(j)].gap_min_m());
    gap.max_m = std::max(gap.max_m, lies[static_cast<std::size_t>(j)].gap_max_m());
  }
  return gap;
}

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

BareDraws bare_draws(const Brief& brief, const StackModel& model, int draws,
                     const std::vector<double>& scale, const Progress& progress, double from,
                     double to) {
  const std::vector<int> joints = key_joints(model.assembly(), model.order());
  std::vector<char> in(static_cast<std::size_t>(draws), 0);
  std::vector<double> worst(in.size(), 0.0);
  for_each_draw(draws, progress, from, to, [&](std::size_t i) {
    const Stack stack = stack_up(model, draw_errors(brief, model, i, scale), brief.packing);
    in[i] = stack.key_goes_in ? 1 : 0;
    worst[i] = key_gap(stack.joints, joints).worst_m();
  });
  BareDraws out{draws, 0, 0};
  double squares = 0;
  for (std::size_t i = 0; i < in.size(); ++i) {
    out.hits += in[i];
    squares += worst[i] * worst[i];
  }
  out.misfit_rms_m = draws > 0 ? std::sqrt(squares / draws) : 0;
  return out;
}

DrawResult try_draw(const Brief& brief, const StackModel& model, std::uint64_t draw,
                    const std::vector<double>& scale) {
  const AsMade made = draw_errors(brief, model, draw, scale);
  const Stack stack = stack_up(model, made, brief.packing);
  const KeyGap gap = key_gap(stack.joints, key_joints(model.assembly(), model.order()));
  const Packed packed = pack_up(model, made, brief.packing, {.springers = false});
  DrawResult result;
  result.key_by_itself = stack.key_goes_in;
  result.key_gap_min_m = gap.min_m;
  result.key_gap_max_m = gap.max_m;
  result.goes_in = packed.goes_in;
  result.packed_joints = packed.packed_joints;
  result.thickest_m = packed.thickest_m;
  result.packers_m = packed.packers_m;
  return result;
}

ToleranceReport judge_tolerances(const Brief& brief, const Assembly& assembly, const StandOptions&,
                                 const Progress& progress) {
  constexpr double kDrawn = 0.6, kTried = 1.0;  // of the progress
  const StackModel model(assembly);
  ToleranceReport report;
  const Stopwatch watch;
  std::vector<DrawResult> results(static_cast<std::size_t>(std::max(0, brief.tolerances.draws)));
  for_each_draw(static_cast<int>(results.size()), progress, 0, kDrawn,
                [&](std::size_t i) { results[i] = try_draw(brief, model, i); });
  add_draws(results, report);
  judge_trades(brief, model, std::min(report.draws, kTradeDraws), progress, kDrawn, kTried, report);
  report.seconds = watch.seconds();
  if (brief.tolerances.proof_draws > 0)
    report.remarks.emplace_back("no draw was proved to stand: that is not built yet");
  progress.checkpoint("tolerances", 1);
  return report;
}

}  // namespace skewback
