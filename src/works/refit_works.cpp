#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "stand/prove_steps.hpp"
#include "survey/as_made.hpp"
#include "survey/footings.hpp"
#include "works/asked_depth.hpp"
#include "works/footing_moves.hpp"
#include "works/put_loads.hpp"
#include "works/required_site.hpp"
#include "works/shape_loop.hpp"
#include "works/site_works.hpp"
#include "works/states.hpp"
#include "works/survey_works.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

std::vector<Mark> all_marks(const Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  std::vector<Mark> marks =
      setting_out(dossier.brief, assembly, dossier.centring ? &*dossier.centring : nullptr);
  const std::vector<Mark> beds = bed_marks(assembly);
  marks.insert(marks.end(), beds.begin(), beds.end());
  return marks;
}

/// A mark by the site's own name of a support: what to write.
void name_as_before(const BlocksAgain& again, Fault& fault) {
  if (fault.key != "mark") return;
  for (const SupportAgain& support : again.supports) {
    const std::string here = '"' + support.here + ' ';
    if (support.here == support.before || !fault.found.starts_with(here)) continue;
    fault.change = support.here + " is \"" + support.before + "\" of " + again.bridge +
                   ", whose names are kept: write \"" + support.before + ' ' +
                   fault.found.substr(here.size());
  }
}

/// The cases of a run, people at the worst place found on the bridge as drawn among them.
void prove_as_drawn(Dossier& dossier, const Progress& progress) {
  put_loads(dossier);
  const Assembly& assembly = dossier.cut->assembly;
  dossier.proofs = prove_without_friction(assembly, dossier.stand_options, progress);
  find_most_friction(assembly, dossier.stand_options, progress, dossier.proofs);
  find_worst_pattern(dossier, dossier.stand_options, progress);
}

/// As in a run, so that both cut the same timber; the order of work itself is planned anew as
/// packed.
void settle_centring_as_drawn(Dossier& dossier, const Progress& progress) {
  dossier.programme = plan_erection(dossier.brief, dossier.cut->assembly, &*dossier.centring,
                                    dossier.access ? &*dossier.access : nullptr, progress);
  settle_drawn(dossier, progress);
  dossier.programme.reset();
}

/// In place of the brief's own, if one is given.
Brief with_survey(Brief brief, const std::filesystem::path& file) {
  if (file.empty()) return brief;
  if (!brief.survey) brief.survey.emplace();
  brief.survey->file = file;
  brief.survey->points.clear();  // another survey, not a part of one
  return brief;
}

std::optional<Faults> lay_scans(Dossier& dossier, const RefitOptions& options,
                                const Progress& progress) {
  const Stopwatch watch;
  Result<std::vector<ComparedScan>> scans =
      compare_scans(dossier.brief, dossier.cut->assembly, options, progress);
  if (!scans) return scans.faults();
  dossier.scans = std::move(scans).value();
  if (auto check = required_scans(dossier)) dossier.required.push_back(*check);
  if (!dossier.scans.empty()) dossier.timings_s["scans"] = watch.seconds();
  return std::nullopt;
}

}  // namespace

std::optional<Faults> faults_of_marks(const Brief& brief, const PointFile* points) {
  const Result<FootingsFound> found = find_footings(brief, points, springing_marks(brief));
  if (found) return std::nullopt;
  return found.faults();
}

std::optional<Faults> faults_of_points(const Brief& brief, const Assembly& assembly,
                                       const PointFile* points) {
  if (auto faults = faults_of_marks(brief, points)) return faults;
  if (points == nullptr) return std::nullopt;
  AsMade made = as_drawn(assembly, brief.plan.supports.size());
  Faults wrong = measure_blocks(assembly, *points, brief.survey->gate, made).wrong;
  if (wrong.empty()) return std::nullopt;
  return wrong;
}

std::optional<Faults> survey_faults(const Brief& brief) {
  if (!brief.survey) return std::nullopt;
  if (brief.survey->file.empty()) return faults_of_marks(brief, nullptr);
  if (auto fault = no_points(brief.survey->file)) return Faults{*fault};
  return std::nullopt;
}

Result<PointFile> read_survey(const Dossier& dossier) {
  const SurveyRequest& survey = *dossier.brief.survey;
  Result<PointFile> read =
      read_points(survey.file, dossier.brief.site, all_marks(dossier), survey.accuracy_m);
  if (read || !dossier.again) return read;
  Faults faults = read.faults();
  for (Fault& fault : faults) name_as_before(*dossier.again, fault);
  return faults;
}

Result<Dossier> run_refit(const Brief& brief, const RefitOptions& options,
                          const Progress& progress) {
  std::optional<JobLimit> limit;
  if (options.jobs > 0) limit.emplace(options.jobs);
  Dossier dossier;
  dossier.brief = with_survey(brief, options.survey);
  if (auto faults = survey_faults(dossier.brief)) return *faults;
  if (auto faults = take_asked_depth(dossier, options.jobs, progress)) return *faults;
  dossier.stand_options.load_factor_cap = brief.loads.cap;
  if (auto faults = find_shape(dossier.brief, dossier, progress)) return *faults;
  Result<Cut> cut = cut_blocks(dossier.brief, *dossier.body, progress);
  if (!cut) return cut.faults();
  dossier.cut = std::move(cut).value();
  if (auto faults = lay_scans(dossier, options, progress)) return *faults;
  if (!dossier.brief.survey) {
    dossier.scope = "scanned blocks alone";
    return dossier;
  }
  if (dossier.brief.centring.wanted) draw_centring(dossier, progress);
  std::optional<PointFile> points;
  if (dossier.brief.survey && !dossier.brief.survey->file.empty()) {
    Result<PointFile> read = read_survey(dossier);
    if (!read) return read.faults();
    points = std::move(read).value();
  }
  if (auto faults =
          faults_of_points(dossier.brief, dossier.cut->assembly, points ? &*points : nullptr))
    return *faults;
  Stopwatch watch;
  prove_as_drawn(dossier, progress);
  dossier.timings_s["stand"] = watch.seconds();
  dossier.ground = hold_feet(dossier.brief, dossier.cut->assembly, pattern_proofs(dossier));
  dossier.access = judge_access(dossier.brief, dossier.cut->assembly);
  if (dossier.centring) settle_centring_as_drawn(dossier, progress);
  watch = {};
  if (auto faults = put_right(dossier, points ? &*points : nullptr, progress)) return *faults;
  dossier.timings_s["survey"] = watch.seconds();
  if (auto check = required_as_built(dossier)) dossier.required.push_back(*check);
  dossier.scope = "the bridge as built; the other required checks are made by a whole run";
  return dossier;
}

Result<Dossier> run_again(const Brief& fresh, OldBlocks old, const RefitOptions& options,
                          const Progress& progress) {
  WorksOptions wanted;
  wanted.jobs = options.jobs;
  wanted.old = std::move(old);
  Result<Dossier> dossier = run_works(with_survey(fresh, options.survey), wanted, progress);
  if (!dossier) return dossier;
  if (auto faults = lay_scans(dossier.value(), options, progress)) return *faults;
  return dossier;
}

}  // namespace skewback
