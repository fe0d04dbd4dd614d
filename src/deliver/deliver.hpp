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
#include "stand/stand.hpp"
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

/// All that a run found; a stage that was not run is empty.
struct Dossier {
  Brief brief;
  std::optional<Form> form;
  double form_move_m = 0;  // largest move of a vertex in the last weight round
  std::optional<Body> body;
  std::optional<Cut> cut;         // assembly with carried masses and cases
  std::vector<CaseProof> proofs;  // per assembly case
  StandOptions stand_options;
  std::optional<DepthNeeds> depth_needed;          // all cases, live load times the factor required
  std::optional<DepthReserve> dead_depth_reserve;  // the dead load by itself
  std::vector<JointResultant> dead_resultants;     // per joint, view 1, dead load
  double joint_angle_median_deg = 0, joint_angle_max_deg = 0;
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
