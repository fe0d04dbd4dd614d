#include <algorithm>
#include <memory>

#include "base/timing.hpp"
#include "brief/by_key.hpp"
#include "survey/draw_proof.hpp"
#include "vary/run.hpp"
#include "works/states.hpp"
#include "works/survey_works.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

struct Bridge {
  Brief brief;
  Assembly assembly;
  std::unique_ptr<StackModel> model;  // points to the assembly
  StandOptions stand;
  CasesProved cases;
  std::uint64_t proofs = 0;
};

Figure yes(bool value) { return {{}, value ? "yes" : "no"}; }

std::vector<Figure> row_of(const Bridge& bridge, std::uint64_t number) {
  const DrawResult draw = try_draw(bridge.brief, *bridge.model, number);
  std::vector<Figure> row = {
      yes(draw.key_by_itself), yes(draw.goes_in),    {static_cast<double>(draw.packed_joints), ""},
      {draw.thickest_m, ""},   {draw.packers_m, ""}, {draw.key_gap_min_m, ""},
      {draw.key_gap_max_m, ""}};
  if (bridge.proofs == 0) return row;
  Figure stands, factor;  // empty where nothing was proved
  if (number < bridge.proofs && draw.goes_in) {
    const ProvedDraw proved =
        prove_draw(bridge.brief, *bridge.model, bridge.stand, bridge.cases, number);
    stands = yes(proved.stands);
    factor = {proved.load_factor, ""};
  }
  row.push_back(stands);
  row.push_back(factor);
  return row;
}

/// As in a whole run: by what the pads give under the dead load.
void limit_squeeze(Bridge& bridge, const StandOptions& options, const Progress& progress) {
  Assembly dead = bridge.assembly;
  std::erase_if(dead.cases, [](const LoadCase& load) { return load.has_live(); });
  if (dead.cases.empty()) return;
  dead.cases.resize(1);
  PackingRequest& packing = bridge.brief.packing;
  packing.squeeze_m = squeeze_there_is_m(packing, dead, prove_all(dead, options, progress));
}

}  // namespace

Result<Runner> make_draws_runner(const VaryPlan& plan, const Progress& progress) {
  Result<Brief> brief = read_brief_text(plan.brief_text, plan.brief_file);
  if (!brief) return brief.faults();
  WorksOptions options;
  // what is proved counts the worst place for people as well, as `run` does
  options.until = plan.draws->proofs > 0 ? "stand" : "loads";
  Result<Dossier> dossier = run_works(*brief, options, progress);
  if (!dossier) return dossier.faults();
  const auto bridge = std::make_shared<Bridge>();
  bridge->brief = std::move(brief).value();
  bridge->assembly = with_patterns_only(*dossier);
  bridge->model = std::make_unique<StackModel>(bridge->assembly);
  limit_squeeze(*bridge, dossier->stand_options, progress);
  bridge->proofs = plan.draws->proofs;
  bridge->stand = dossier->stand_options;
  if (bridge->proofs > 0)
    bridge->cases =
        cases_to_prove(bridge->assembly, limit_loads(bridge->assembly, bridge->stand, progress));

  const std::uint64_t chunk = plan.draws->chunk;
  const std::uint64_t draws = plan.draws->draws > 0
                                  ? plan.draws->draws
                                  : static_cast<std::uint64_t>(bridge->brief.tolerances.draws);
  Runner runner;
  runner.runs = (draws + chunk - 1) / chunk;
  runner.columns = {"key_by_itself", "goes_in",       "packed_joints", "thickest_m",
                    "packers_m",     "key_gap_min_m", "key_gap_max_m"};
  if (bridge->proofs > 0) {
    runner.columns.emplace_back("stands");
    runner.columns.emplace_back("load_factor");
  }
  runner.run = [bridge, chunk, draws](std::uint64_t run, const Progress& inner) {
    const Stopwatch watch;
    RunFound found;
    found.run = run;
    const std::uint64_t end = std::min(draws, (run + 1) * chunk);
    for (std::uint64_t draw = run * chunk; draw < end; ++draw) {
      inner.checkpoint("draws", 0);
      found.rows.push_back(row_of(*bridge, draw));
    }
    found.seconds = watch.seconds();
    return found;
  };
  return runner;
}

}  // namespace skewback
