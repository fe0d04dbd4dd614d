#pragma once
// How likely it is that the key goes in, before anything is built.

#include <string>
#include <vector>

#include "base/progress.hpp"
#include "stand/stand.hpp"
#include "survey/packing.hpp"

namespace skewback {

/// Errors of draw 0, 1, 2, ...: the same whoever asks. `scale`: per error_names(), on its figure.
/// Which number moves what: docs/theory/tolerances.md.
[[nodiscard]] AsMade draw_errors(const Brief& brief, const StackModel& model, std::uint64_t draw,
                                 const std::vector<double>& scale = {});
[[nodiscard]] const std::vector<std::string>& error_names();  // as the keys: "footing_plan", ...

struct DrawResult {            // of one draw
  bool key_by_itself = false;  // stacked without packers
  bool goes_in = false;        // with packers of the stock
  int packed_joints = 0;
  double thickest_m = 0, packers_m = 0;
  // stacked without packers, at the joints of the keys and of the ring round them
  double key_gap_min_m = 0, key_gap_max_m = 0;
  std::optional<double> load_factor;  // where it was proved
  std::optional<bool> stands;
};
[[nodiscard]] DrawResult try_draw(const Brief& brief, const StackModel& model, std::uint64_t draw,
                                  const std::vector<double>& scale = {});

struct Chance {  // share of draws, and its standard error (of (hits + 1) / (draws + 2), never 0)
  double share = 0, error = 0;
};
struct TightenedTrade {
  std::string error;  // "footing_level"
  double now = 0;     // its figure, m, rad or share
  Chance halved;      // key by itself, this error halved
  Chance gone;        // and without it
  double budget = 0;  // its figure that, with all others scaled alike, leaves the chance asked
  // root mean square, by this error alone, of the worst gap and of the worst step at those joints
  double alone_m = 0, step_alone_m = 0;
  // mean sum of packers of a draw with this error halved and gone: ToleranceReport::packed_draws
  double packers_halved_m = 0, packers_gone_m = 0;
};
struct ToleranceReport {
  int draws = 0, proved = 0;
  Chance key_by_itself, goes_in, stands;  // `stands` of those proved, packed, with the live factor
  // per draw, for the plots; key_gap: the one further off of the least and the greatest
  std::vector<double> packers_m, thickest_m, key_gap_m, load_factor;
  std::vector<TightenedTrade> trades;  // most worth tightening first
  double budget_scale = 0;  // on all figures together, that leaves the chance asked; 0: none does
  double seconds = 0;       // of the draws, not of the proofs
  std::vector<std::string> remarks;
  int trade_draws = 0;              // the first draws, on which trades are halved and budgets found
  Chance on_trade_draws;            // key by itself, of those
  int packed_draws = 0;             // of them, those packed for each trade and for the budget
  double packers_mean_m = 0;        // sum of packers of a draw, of those, as the figures are
  double budget_scale_packed = 0;   // as budget_scale, for the key with packers
  std::vector<int> load_factor_of;  // draw of each load_factor: of those proved, where there is one
};
/// `drawn`: proofs of the cases as drawn, which say what case governs; none: view 1 of all of them
/// is run. The first `proof_draws` draws are proved as packed, dead and that case, by view 1.
[[nodiscard]] ToleranceReport judge_tolerances(const Brief& brief, const Assembly& assembly,
                                               const StandOptions& options,
                                               const Progress& progress = {},
                                               const std::vector<CaseProof>& drawn = {});

}  // namespace skewback
