#pragma once
// Files: everything a person takes away from a run. Reads stage values, computes none of them.

#include <filesystem>
#include <map>
#include <optional>

#include "cut/cut.hpp"
#include "erect/erect.hpp"
#include "ground/ground.hpp"
#include "loads/loads.hpp"
#include "print/print.hpp"
#include "stand/footing_reach.hpp"
#include "stand/stand.hpp"
#include "stand/worst_pattern.hpp"
#include "survey/survey.hpp"

namespace skewback {

struct RequiredCheck {
  std::string name;
  std::optional<double> value;  // none: not checked
  double limit = 0;
  std::optional<bool> passes;  // none: not checked
  std::string source;          // where the limit comes from
  std::string note;            // why it is not checked, or which case governs
};

/// Every case tried with every footing moved each way, live load times the factor required.
struct MovedFootings {
  double shift_m = 0, live_factor = 0;
  std::vector<std::string> cases;  // those tried
  int states = 0, held = 0;
  double peak_pa = 0;  // greatest over all that held
  std::string worst;   // in words: the case and movement that gave it, or the first not held
};

/// All that a run found; a stage that was not run is empty.
struct Dossier {
  Brief brief;
  std::optional<Form> form;
  double form_move_m = 0;  // largest move of a vertex in the last weight round
  std::optional<Body> body;
  std::optional<Cut> cut;         // assembly with carried masses and cases
  std::optional<Assembly> given;  // an assembly that came by itself: nothing was cut
  std::vector<CaseProof> proofs;  // per assembly case
  StandOptions stand_options;
  std::optional<DepthNeeds> depth_needed;          // all cases, live load times the factor required
  std::optional<DepthReserve> dead_depth_reserve;  // the dead load by itself
  std::vector<JointResultant> dead_resultants;     // per joint, dead load, of the pads
  // across courses that carry a tenth of the greatest force or more; then across the others
  double joint_angle_median_deg = 0, joint_angle_max_deg = 0, joint_angle_light_deg = 0;
  std::vector<FootingReach> reach;  // dead load
  std::optional<MovedFootings> moved;
  std::optional<WorstPattern> worst_pattern;
  std::optional<Groundworks> ground;
  std::optional<PrintSet> print;
  std::optional<Programme> programme;
  std::optional<Refit> refit;
  std::vector<RequiredCheck> required;
  std::map<std::string, double> timings_s;
  [[nodiscard]] bool all_required_pass() const;
};

/// JSON text of summary.json (keys: docs/summary.md). `timings` false leaves timings_s out, so that
/// two runs can be compared byte for byte.
[[nodiscard]] std::string summary_json(const Dossier& dossier, bool timings);

/// Writes the whole folder: built beside `out` under a temporary name and moved into place at the
/// end; an interrupted or failed run leaves `out` as it was. Returns the files written, relative.
[[nodiscard]] Result<std::vector<std::string>> write_folder(const Dossier& dossier,
                                                            const std::filesystem::path& out,
                                                            const Progress& progress = {});

}  // namespace skewback
