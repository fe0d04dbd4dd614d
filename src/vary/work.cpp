#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <atomic>
#include <thread>

#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "vary/vary.hpp"

namespace skewback {
namespace {

/// Counts, keeps and tells; safe from several threads.
class Books {
 public:
  Books(Journal& journal, VaryDone& done, const TellRuns& tell)
      : journal_(journal), done_(done), tell_(tell), before_(journal.found().size()) {
    if (tell_) tell_(before_, done_.wanted, -1);
  }

  void take(const std::vector<RunFound>& found) {
    const Stopwatch watch;
    journal_.add(found);
    const double seconds = watch.seconds();
    const std::lock_guard guard(lock_);
    done_.fresh += found.size();
    for (const RunFound& one : found) done_.run_seconds += one.seconds;
    done_.journal_seconds += seconds;
    const std::uint64_t now = before_ + done_.fresh;
    const double each = since_.seconds() / static_cast<double>(done_.fresh);
    if (tell_) tell_(now, done_.wanted, each * static_cast<double>(done_.wanted - now));
  }

 private:
  Journal& journal_;
  VaryDone& done_;
  const TellRuns& tell_;
  std::uint64_t before_;
  Stopwatch since_;
  std::mutex lock_;
};

std::vector<std::uint64_t> left_to_do(const Runner& runner, const VaryOptions& options,
                                      const std::map<std::uint64_t, RunFound>& there,
                                      std::uint64_t& wanted) {
  std::vector<std::uint64_t> todo;
  wanted = 0;
  for (std::uint64_t run = options.shard - 1; run < runner.runs; run += options.shards) {
    ++wanted;
    if (!there.contains(run)) todo.push_back(run);
  }
  return todo;
}

// As many runs at once as threads; a thread that waits inside a run helps that run only, or runs
// would pile up on its stack. Threads left without a run help those still going.
void on_cores(const Runner& runner, const std::vector<std::uint64_t>& todo, int jobs,
              const Progress& progress, Books& books) {
  std::atomic<std::size_t> place{0};
  for_each_index(static_cast<std::size_t>(jobs), [&](std::size_t) {
    for (std::size_t k = place.fetch_add(1); k < todo.size(); k = place.fetch_add(1))
      tbb::this_task_arena::isolate([&] { books.take({runner.run(todo[k], progress)}); });
  });
}

}  // namespace

JournalHead head_of(const VaryPlan& plan, const Runner& runner, const VaryOptions& options) {
  return {plan.hash, runner.runs, options.shard, options.shards};
}

Result<VaryDone> do_runs(const VaryPlan& plan, const Runner& runner, const Ranks& ranks,
                         const VaryOptions& options, const Progress& progress,
                         const TellRuns& tell) {
  const bool alone = ranks.count() == 1;
  const int cores = static_cast<int>(std::max(1U, std::thread::hardware_concurrency()));
  const int jobs = options.jobs > 0 ? options.jobs : alone ? cores : 1;
  const JobLimit limit(jobs);
  if (ranks.rank() != 0) {
    serve_runs(ranks, runner, progress);
    return VaryDone{};
  }
  VaryDone done;
  const JournalHead head = head_of(plan, runner, options);
  Result<Journal> journal = Journal::open(options.out, head, options.resume);
  if (!journal) {
    dismiss(ranks);
    return journal.faults();
  }
  done.journal = options.out / head.file_name();
  const std::vector<std::uint64_t> todo =
      left_to_do(runner, options, journal->found(), done.wanted);
  Books books(journal.value(), done, tell);
  const Stopwatch watch;
  const auto stopped = [&] {
    try {
      progress.checkpoint("", 0);
      return false;
    } catch (const Interrupted&) {
      return true;
    }
  };
  if (alone) {
    try {
      on_cores(runner, todo, jobs, progress, books);
    } catch (const Interrupted&) {
    }
  } else {
    done.dealing_seconds = deal_runs(
        ranks, runner, todo, progress,
        [&](const std::vector<RunFound>& found) { books.take(found); }, stopped);
  }
  done.interrupted = stopped() && done.fresh < todo.size();
  done.seconds = watch.seconds();
  done.found = journal->found();
  return done;
}

}  // namespace skewback
