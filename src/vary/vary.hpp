#pragma once
// Many runs of one brief with some of its quantities varied: split over cores, machines and days,
// with the same results to the byte. docs/vary.md.

#include "vary/journal.hpp"
#include "vary/ranks.hpp"

namespace skewback {

struct VaryOptions {
  std::filesystem::path out;
  std::uint64_t shard = 1, shards = 1;  // runs with number % shards == shard - 1
  bool resume = false;                  // go on with the journal in `out`
  int jobs = 0;                         // runs at once, and threads; 0: all cores, one under MPI
};

struct VaryDone {
  std::map<std::uint64_t, RunFound> found;  // of this part: those in the journal
  std::uint64_t wanted = 0;                 // runs of this part
  std::uint64_t fresh = 0;                  // done now; the others were in the journal
  bool interrupted = false;
  double seconds = 0;          // of the fresh runs, wall
  double run_seconds = 0;      // of the fresh runs, all added up
  double dealing_seconds = 0;  // rank 0, under MPI
  double journal_seconds = 0;  // writing lines, all added up
  std::filesystem::path journal;
};

/// Runs done of this part, runs of this part, seconds left (less than 0: not known yet).
using TellRuns = std::function<void(std::uint64_t done, std::uint64_t of, double left_s)>;

/// Does all runs of this part that the journal in `out` does not hold. On ranks other than 0 an
/// empty value. An interruption is no fault: what is done is in the journal.
[[nodiscard]] Result<VaryDone> do_runs(const VaryPlan& plan, const Runner& runner,
                                       const Ranks& ranks, const VaryOptions& options,
                                       const Progress& progress, const TellRuns& tell);

[[nodiscard]] JournalHead head_of(const VaryPlan& plan, const Runner& runner,
                                  const VaryOptions& options);

/// One row for each run, or each draw, in their order: values, figures, verdict, failing checks,
/// exit code, note; and whether it lies on the front. RFC 4180.
[[nodiscard]] std::string results_csv(const VaryPlan& plan, const Runner& runner,
                                      const std::map<std::uint64_t, RunFound>& found);

/// results.csv, histograms.svg, scatter.svg, front.svg and plots.pdf in `out`, each moved into
/// place whole; the names of those written.
[[nodiscard]] Result<std::vector<std::string>> write_results(
    const VaryPlan& plan, const Runner& runner, const std::map<std::uint64_t, RunFound>& found,
    const std::filesystem::path& out);

}  // namespace skewback
