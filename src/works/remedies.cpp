#include <cstdio>
#include <functional>

#include "works/works.hpp"

namespace skewback {
namespace {

struct Change {
  const char* what;           // "%g": the size of the step
  std::vector<double> steps;  // smallest first
  std::function<void(Brief&, double)> make;
};

std::vector<Change> changes() {
  return {
      {"a section %g %% deeper",
       {10, 25, 50},
       [](Brief& b, double p) {
         b.section.depth_crown_m *= 1 + p / 100;
         b.section.depth_springing_m *= 1 + p / 100;
       }},
      {"a rise %g %% greater",
       {10, 25, 50},
       [](Brief& b, double p) { b.form.rise_m *= 1 + p / 100; }},
      {"parapets %g kN/m heavier",
       {1, 3, 6},
       [](Brief& b, double kn) { b.parapet.weight_n_per_m += 1e3 * kn; }},
      {"a walkway %g kPa heavier",
       {1, 3, 6},
       [](Brief& b, double kpa) { b.walkway.weight_pa += 1e3 * kpa; }},
  };
}

bool meets_live_factor(const Result<Dossier>& run) {
  if (!run) return false;
  for (const RequiredCheck& check : run->required) {
    if (check.name == "live_factor") return check.passes.value_or(false);
  }
  return false;
}

std::string sized(const char* pattern, double size) {
  char text[96];
  std::snprintf(text, sizeof text, pattern, size);
  return text;
}

}  // namespace

std::string changes_that_help(const Brief& brief, const WorksOptions& options,
                              const Progress& progress) {
  std::string help, none;
  for (const Change& change : changes()) {
    bool found = false;
    for (const double step : change.steps) {
      progress.checkpoint("what would make it stand", 0);
      Brief changed = brief;
      change.make(changed, step);
      found = meets_live_factor(run_works(changed, {options.jobs, "stand", false}, progress));
      if (!found) continue;
      help += (help.empty() ? "" : ", or ") + sized(change.what, step);
      break;
    }
    if (!found) none += (none.empty() ? "" : ", ") + sized(change.what, change.steps.back());
  }
  if (help.empty()) return "none of these alone would do: " + none;
  return "each alone would do: " + help + (none.empty() ? "" : "; not even: " + none);
}

}  // namespace skewback
