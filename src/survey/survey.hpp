#pragma once
// The bridge as its footings really are: fit, stack, prove again. Theory: docs/theory/survey.md.

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct RigidFit {
  Rigid X;  // measured ~ X(designed); no reflection
  double rms_m = 0, worst_m = 0;
  int worst = -1;
  bool determined = false;  // false: fewer than 3 points or all on a line
  std::string reason;
};
/// Least squares (Kabsch 1976; Umeyama 1991): det R = +1 always.
[[nodiscard]] RigidFit fit_rigid(const std::vector<Vec3>& designed,
                                 const std::vector<Vec3>& measured);

struct Mark {
  std::string support, name;
  Vec3 designed = Vec3::Zero();
};
/// Three marks per support: "right" and "left" end of the springing line, "back" behind its middle.
[[nodiscard]] std::vector<Mark> setting_out(const Brief& brief);

struct JointMisfit {
  int joint = -1;
  double gap_min_m = 0, gap_max_m = 0;           // beyond the designed pad, < 0: too tight
  double step_m = 0;                             // sideways, in the joint plane
  std::vector<std::pair<Vec3, double>> packers;  // corner, thickness beyond the pad
};

struct Refit {
  RigidFit whole;  // of all marks: the bridge shifted to share the error
  std::vector<std::string> supports;
  std::vector<RigidFit> footings;    // per support, after the shift
  std::vector<JointMisfit> misfits;  // joints that do not close by themselves
  bool key_goes_in = false;
  std::string finding;  // in words
  double offset_max_m = 0;
  int packers = 0;
  Assembly as_built;                        // packed; joints listed
  std::vector<CaseProof> proofs;            // of as_built, same cases
  std::optional<double> load_factor_after;  // least over the cases
};

[[nodiscard]] Result<Refit> refit(const Brief& brief, const Assembly& assembly,
                                  const StandOptions& options, const Progress& progress = {});

}  // namespace skewback
