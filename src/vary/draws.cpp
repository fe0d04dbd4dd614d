#include <algorithm>
#include <memory>

#include "base/timing.hpp"
#include "brief/by_key.hpp"
#include "survey/tolerances.hpp"
#include "vary/run.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

struct Bridge {
  Brief brief;
  Assembly assembly;
  std::unique_ptr<StackModel> model;  // points to the assembly
};

Figure yes(bool value) { return {{}, value ? "yes" : "no"}; }

std::vector<Figure> row_of(const DrawResult& draw) {
  return {
      yes(draw.key_by_itself), yes(draw.goes_in),    {static_cast<double>(draw.packed_joints), ""},
      {draw.thickest_m, ""},   {draw.packers_m, ""}, {draw.key_gap_min_m, ""},
      {draw.key_gap_max_m, ""}};
}

}  // namespace

Result<Runner> make_draws_runner(const VaryPlan& plan, const Progress& progress) {
  Result<Brief> brief = read_brief_text(plan.brief_text, plan.brief_file);
  if (!brief) return brief.faults();
  WorksOptions options;
  options.until = "cut";
  Result<Dossier> dossier = run_works(*brief, options, progress);
  if (!dossier) return dossier.faults();
  const auto bridge = std::make_shared<Bridge>();
  bridge->brief = std::move(brief).value();
  bridge->assembly = std::move(dossier.value().cut->assembly);
  bridge->model = std::make_unique<StackModel>(bridge->assembly);

  const std::uint64_t chunk = plan.draws->chunk;
  const std::uint64_t draws = plan.draws->draws > 0
                                  ? plan.draws->draws
                                  : static_cast<std::uint64_t>(bridge->brief.tolerances.draws);
  Runner runner;
  runner.runs = (draws + chunk - 1) / chunk;
  runner.columns = {"key_by_itself", "goes_in",       "packed_joints", "thickest_m",
                    "packers_m",     "key_gap_min_m", "key_gap_max_m"};
  runner.run = [bridge, chunk, draws](std::uint64_t run, const Progress& inner) {
    const Stopwatch watch;
    RunFound found;
    found.run = run;
    const std::uint64_t end = std::min(draws, (run + 1) * chunk);
    for (std::uint64_t draw = run * chunk; draw < end; ++draw) {
      inner.checkpoint("draws", 0);
      found.rows.push_back(row_of(try_draw(bridge->brief, *bridge->model, draw)));
    }
    found.seconds = watch.seconds();
    return found;
  };
  return runner;
}

}  // namespace skewback
