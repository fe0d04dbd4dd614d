#pragma once
// Runs the stages in order, closes the loops between them, keeps times. Start reading here.

#include <functional>
#include <map>

#include "base/progress.hpp"
#include "deliver/deliver.hpp"

namespace skewback {

/// Blocks of a bridge that was taken down, to be used for the brief of another site.
struct OldBlocks {
  const Brief* of = nullptr;      // the bridge they were cut for; null: blocks are to be made
  std::optional<Stock> stock;     // what its daybook says; none: all count as good
  std::filesystem::path daybook;  // where that was read
};

struct WorksOptions {
  int jobs = 0;            // threads; 0: all cores
  std::string until;       // stage name; empty: all
  bool depth = true;       // look for the least depth of the joints; off where only verdicts matter
  BreakCount breaks = {};  // what daybooks have counted, for the spares
  bool block_remedies = false;  // look for what makes blocks strong enough that are not
  OldBlocks old = {};           // form, body and cut are then of its brief, all else of this one
};

/// brief -> form <-> body -> cut -> loads -> stand -> ground, print, erect, survey.
/// Faults: the first stage that has no answer says why.
[[nodiscard]] Result<Dossier> run_works(const Brief& brief, const WorksOptions& options,
                                        const Progress& progress);

struct ScanWanted {
  std::string block;
  std::filesystem::path file;  // .ply, .obj, .stl
};
struct RefitOptions {
  std::filesystem::path survey;  // measured points; empty: the brief's own
  std::vector<ScanWanted> scans;
  std::string scan_unit;  // "mm", ...
  int jobs = 0;
};
/// As far as a re-fit needs: form to proof, the centring drawn, then survey/. Faults of the point
/// file come before any proof.
[[nodiscard]] Result<Dossier> run_refit(const Brief& brief, const RefitOptions& options,
                                        const Progress& progress);
/// A whole run for the site of `fresh` with the blocks of `old.of`, its survey used; then the
/// scans. Faults besides: not as many supports; the daybook is of other blocks.
[[nodiscard]] Result<Dossier> run_again(const Brief& fresh, OldBlocks old,
                                        const RefitOptions& options, const Progress& progress);
/// Every scan against its block as drawn; of the first that cannot be compared, the faults.
[[nodiscard]] Result<std::vector<ComparedScan>> compare_scans(const Brief& brief,
                                                              const Assembly& assembly,
                                                              const RefitOptions& options,
                                                              const Progress& progress);
/// The point file of the brief, against the marks of the bridge cut.
[[nodiscard]] Result<PointFile> read_survey(const Dossier& dossier);
/// What can be said against a brief's survey before anything is worked out: its file is not there;
/// of points in the brief itself what refit() would refuse.
[[nodiscard]] std::optional<Faults> survey_faults(const Brief& brief);

/// What must pass for exit code 0, each with its limit and source; what is not computed says so.
[[nodiscard]] std::vector<RequiredCheck> required_checks(const Dossier& dossier);

/// For a brief that fails its live factor: which single change of depth, rise, parapets or walkway
/// meets it, found by running form to proof again with each (three sizes, the smallest that does).
/// In words.
[[nodiscard]] std::string changes_that_help(const Brief& brief, const WorksOptions& options,
                                            const Progress& progress);

/// The stage names run_works knows, in order.
[[nodiscard]] const std::vector<std::string>& stage_names();

}  // namespace skewback
