#include <algorithm>

#include "survey/finding.hpp"
#include "survey/poses.hpp"
#include "survey/survey.hpp"

namespace skewback {
namespace {

constexpr double kDryTightness = 1e-3;  // what a dry joint may be tight and still be eased in
constexpr double kOtherDatum = 0.1;     // shifts beyond this are the survey's own coordinates

struct Measured {
  std::vector<Vec3> designed, measured;
};

/// Marks of one support, or of all (`support` empty), that were measured.
Measured measured_marks(const Brief& brief, const std::string& support) {
  Measured out;
  for (const Mark& mark : springing_marks(brief)) {
    if (!support.empty() && mark.of != support) continue;
    for (const SurveyPoint& point : brief.survey->points) {
      if (point.support + " " + point.mark != mark.name) continue;
      out.designed.push_back(mark.designed);
      out.measured.push_back(point.measured);
    }
  }
  return out;
}

Faults faults_of(const Brief& brief) {
  Faults faults;
  if (!brief.survey || brief.survey->points.empty()) {
    faults.push_back({.key = "survey",
                      .found = "no measured points",
                      .expected = "three marks of every support",
                      .change = "add [[survey.point]] for left, right and back"});
    return faults;
  }
  for (const Support& support : brief.plan.supports) {
    const Measured marks = measured_marks(brief, support.id);
    const RigidFit fit = fit_rigid(marks.designed, marks.measured);
    if (fit.determined) continue;
    faults.push_back({.key = "survey: support " + support.id,
                      .found = std::to_string(marks.designed.size()) + " marks: " + fit.reason,
                      .expected = "left, right and back",
                      .change = "measure all three marks of " + support.id});
  }
  return faults;
}

double largest_shift(const Measured& marks, const Rigid& X) {
  double largest = 0;
  for (const Vec3& p : marks.designed) largest = std::max(largest, (X(p) - p).norm());
  return largest;
}

Rigid inverse(const Rigid& X) { return {X.R.transpose(), -(X.R.transpose() * X.t)}; }

bool loose_enough(const Assembly& assembly, const JointMisfit& m) {
  const auto& pad = assembly.joints[m.joint].pad;
  return m.gap_min_m >= -(pad ? pad->thickness_m / 2 : kDryTightness);
}

void close_joints(const Assembly& assembly, const std::vector<Rigid>& poses, Refit& found) {
  found.key_goes_in = true;
  for (const int joint : parted_joints(assembly, poses)) {
    found.misfits.push_back(misfit(assembly, joint, poses));
    const JointMisfit& m = found.misfits.back();
    found.packers += static_cast<int>(m.packers.size());
    found.key_goes_in = found.key_goes_in && loose_enough(assembly, m);
  }
  found.as_built = rebuilt(assembly, poses);
}

void prove_again(const StandOptions& options, const Progress& progress, Refit& found) {
  found.proofs = prove_all(found.as_built, options, progress);
  for (std::size_t i = 0; i < found.proofs.size(); ++i) {
    const auto& factor = found.proofs[i].load_factor;
    if (!found.as_built.cases[i].has_live() || !factor) continue;
    found.load_factor_after = std::min(found.load_factor_after.value_or(*factor), *factor);
  }
}

}  // namespace

Result<Refit> refit(const RefitInput& input, const StandOptions& options,
                    const Progress& progress) {
  const Brief& brief = *input.brief;
  const Assembly& assembly = *input.assembly;
  if (Faults faults = faults_of(brief); !faults.empty()) return faults;
  Refit found;
  const Measured all = measured_marks(brief, "");
  found.whole = fit_rigid(all.designed, all.measured);
  found.offset_max_m = found.whole.worst_m;
  std::vector<Rigid> motion, from_plan;
  const bool other_datum = largest_shift(all, found.whole.X) > kOtherDatum;
  for (const Support& support : brief.plan.supports) {
    Measured marks = measured_marks(brief, support.id);
    for (Vec3& p : marks.designed) p = found.whole.X(p);
    found.supports.push_back(support.id);
    found.footings.push_back(fit_rigid(marks.designed, marks.measured));
    motion.push_back(after(found.footings.back().X, found.whole.X));
    from_plan.push_back(other_datum ? after(inverse(found.whole.X), motion.back()) : motion.back());
  }
  close_joints(assembly, block_poses(assembly, motion), found);
  const double packer_max = brief.packing.most_m;
  found.finding = footings_in_words(brief, from_plan) + "; " + closing_in_words(found, packer_max);
  progress.checkpoint("survey", 0.2);
  prove_again(options, progress, found);
  return found;
}

}  // namespace skewback
