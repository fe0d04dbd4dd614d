#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "works/blocks_again.hpp"
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

void prove_as_drawn(Dossier& dossier, const Progress& progress) {
  Assembly& assembly = dossier.cut->assembly;
  add_carried(dossier.brief, assembly);
  LoadSet set = load_cases(dossier.brief, assembly);
  assembly.cases = std::move(set.cases);
  dossier.notes = std::move(set.notes);
  dossier.actions = std::move(set.actions);
  dossier.proofs = prove_all(assembly, dossier.stand_options, progress);
}

}  // namespace

Result<PointFile> read_survey(const Dossier& dossier) {
  const SurveyRequest& survey = *dossier.brief.survey;
  return read_points(survey.file, dossier.brief.site, all_marks(dossier), survey.accuracy_m);
}

Result<Dossier> run_refit(const Brief& brief, const RefitOptions& options,
                          const Progress& progress) {
  std::optional<JobLimit> limit;
  if (options.jobs > 0) limit.emplace(options.jobs);
  Dossier dossier;
  dossier.brief = brief;
  if (options.blocks_of != nullptr) {
    Result<Brief> again = blocks_again(*options.blocks_of, brief);
    if (!again) return again.faults();
    dossier.brief = std::move(again).value();
  }
  if (!options.survey.empty()) {
    if (!dossier.brief.survey) dossier.brief.survey.emplace();
    dossier.brief.survey->file = options.survey;
  }
  dossier.stand_options.load_factor_cap = brief.loads.cap;
  if (auto faults = find_shape(dossier.brief, dossier, progress)) return *faults;
  Result<Cut> cut = cut_blocks(dossier.brief, *dossier.body, progress);
  if (!cut) return cut.faults();
  dossier.cut = std::move(cut).value();
  if (dossier.brief.centring.wanted) draw_centring(dossier, progress);
  std::optional<PointFile> points;
  if (dossier.brief.survey && !dossier.brief.survey->file.empty()) {
    Result<PointFile> read = read_survey(dossier);
    if (!read) return read.faults();
    points = std::move(read).value();
  }
  Stopwatch watch;
  prove_as_drawn(dossier, progress);
  dossier.timings_s["stand"] = watch.seconds();
  dossier.ground = hold_feet(dossier.brief, dossier.cut->assembly, dossier.proofs);
  watch = {};
  if (auto faults = put_right(dossier, points ? &*points : nullptr, progress)) return *faults;
  dossier.timings_s["survey"] = watch.seconds();
  if (auto check = required_as_built(dossier)) dossier.required.push_back(*check);
  return dossier;
}

}  // namespace skewback
