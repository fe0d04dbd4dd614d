#include "vary/run.hpp"

#include <new>
#include <nlohmann/json.hpp>

#include "base/timing.hpp"
#include "brief/by_key.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

RunFound without(RunFound found, std::size_t columns, const char* what, const Faults& faults) {
  found.rows = {std::vector<Figure>(columns)};
  found.exit = 2;
  found.note = what;
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const Fault& f = faults[i];  // not where in the text it is: nobody wrote that text
    found.note += (i == 0 ? ": " : "; ") + describe({"", 0, 0, f.key, f.found, f.expected, ""});
  }
  return found;
}

void read_off(const Dossier& dossier, const std::vector<std::string>& figures, RunFound& found) {
  const auto summary = nlohmann::ordered_json::parse(summary_json(dossier, false));
  std::vector<Figure>& row = found.rows.emplace_back();
  for (const std::string& path : figures) row.push_back(find_figure(summary, path));
  found.verdict = find_figure(summary, "stand.verdict").text;
  for (const RequiredCheck& check : dossier.required)
    if (check.passes && !*check.passes) found.failing.push_back(check.name);
  found.exit = dossier.all_required_pass() ? 0 : 3;
}

RunFound whole_run(const VaryPlan& plan, std::uint64_t run, const Progress& progress) {
  RunFound found;
  found.run = run;
  const std::vector<VaryValue> values = values_of(plan, run);
  for (const VaryValue& v : values) found.values.push_back(v.shown);
  const Result<std::string> text = brief_with(plan, values);
  if (!text) return without(std::move(found), plan.figures.size(), "bad brief", text.faults());
  const Result<Brief> brief = read_brief_text(*text, plan.brief_file);
  if (!brief) return without(std::move(found), plan.figures.size(), "bad brief", brief.faults());
  WorksOptions options;
  options.until = plan.until;
  options.depth = plan.depth;
  const Result<Dossier> dossier = run_works(*brief, options, progress);
  if (!dossier)
    return without(std::move(found), plan.figures.size(), "no structure", dossier.faults());
  read_off(*dossier, plan.figures, found);
  return found;
}

/// A fault of ours in one run is that run's finding; the others go on.
RunFound guarded_run(const VaryPlan& plan, std::uint64_t run, const Progress& progress) {
  try {
    return whole_run(plan, run, progress);
  } catch (const std::bad_alloc&) {
    throw;  // of the machine, not of the run
  } catch (const std::exception& error) {
    RunFound found;
    found.run = run;
    for (const VaryValue& v : values_of(plan, run)) found.values.push_back(v.shown);
    found.rows = {std::vector<Figure>(plan.figures.size())};
    found.exit = 1;
    found.note = std::string("internal fault: ") + error.what();
    return found;
  }
}

}  // namespace

Result<Runner> make_runner(const VaryPlan& plan, const Progress& progress) {
  if (plan.draws) return make_draws_runner(plan, progress);
  Runner runner;
  runner.runs = runs_of(plan);
  for (const Varied& v : plan.varied) runner.keys.push_back(v.key);
  runner.columns = plan.figures;
  runner.run = [plan](std::uint64_t run, const Progress& inner) {
    const Stopwatch watch;
    RunFound found = guarded_run(plan, run, inner);
    found.seconds = watch.seconds();
    return found;
  };
  return runner;
}

}  // namespace skewback
