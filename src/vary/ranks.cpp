#include "vary/ranks.hpp"

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdlib>
#include <deque>
#include <exception>
#include <mutex>
#include <thread>

#include "base/timing.hpp"
#include "vary/journal.hpp"

#ifdef SKEWBACK_MPI
#define OMPI_SKIP_MPICXX 1
#include <mpi.h>
#endif

namespace skewback {

#ifdef SKEWBACK_MPI
namespace {

constexpr int kAsk = 1, kDeal = 2;
constexpr std::uint64_t kNoMore = ~std::uint64_t{0};
constexpr auto kNap = std::chrono::milliseconds(1);  // short against a run, and costs nothing

// Set by the launchers of the usual MPI libraries in every process they start. Joining without one
// would start helpers of its own.
bool launched() {
  for (const char* name : {"OMPI_COMM_WORLD_SIZE", "PMI_SIZE", "PMIX_RANK"})
    if (std::getenv(name) != nullptr) return true;
  return false;
}

void send_run(int rank, std::uint64_t run) {
  MPI_Send(&run, 1, MPI_UINT64_T, rank, kDeal, MPI_COMM_WORLD);
}

std::uint64_t ask(const std::string& line) {  // hands over the last finding with the question
  MPI_Send(line.data(), static_cast<int>(line.size()), MPI_CHAR, 0, kAsk, MPI_COMM_WORLD);
  // Waits without taking a core from those who work.
  MPI_Request request;
  std::uint64_t run = kNoMore;
  MPI_Irecv(&run, 1, MPI_UINT64_T, 0, kDeal, MPI_COMM_WORLD, &request);
  for (int there = 0;;) {
    MPI_Test(&request, &there, MPI_STATUS_IGNORE);
    if (there != 0) return run;
    std::this_thread::sleep_for(kNap);
  }
}

struct Letter {
  int from = -1;
  std::string line;
};
std::optional<Letter> letter() {
  int there = 0, size = 0;
  MPI_Status status;
  MPI_Iprobe(MPI_ANY_SOURCE, kAsk, MPI_COMM_WORLD, &there, &status);
  if (there == 0) return {};
  MPI_Get_count(&status, MPI_CHAR, &size);
  Letter out{status.MPI_SOURCE, std::string(static_cast<std::size_t>(size), ' ')};
  MPI_Recv(out.line.data(), size, MPI_CHAR, status.MPI_SOURCE, kAsk, MPI_COMM_WORLD,
           MPI_STATUS_IGNORE);
  return out;
}

/// Runs on a thread of its own beside the one that deals; both draw from the same runs.
class OwnWorker {
 public:
  OwnWorker(const Runner& runner, const Progress& progress, std::function<std::uint64_t()> next)
      : thread_([this, &runner, progress, next = std::move(next)] {
          try {
            for (std::uint64_t run = next(); run != kNoMore; run = next()) {
              RunFound found = runner.run(run, progress);
              const std::lock_guard guard(lock_);
              found_.push_back(std::move(found));
            }
          } catch (const Interrupted&) {
          } catch (...) {
            failed_ = std::current_exception();
          }
          done_ = true;
        }) {}
  ~OwnWorker() { thread_.join(); }
  OwnWorker(const OwnWorker&) = delete;
  OwnWorker& operator=(const OwnWorker&) = delete;

  std::optional<RunFound> collect() {
    const std::lock_guard guard(lock_);
    if (found_.empty()) return {};
    RunFound found = std::move(found_.front());
    found_.pop_front();
    return found;
  }
  [[nodiscard]] bool done() const { return done_; }
  [[nodiscard]] std::exception_ptr failed() const { return failed_; }

 private:
  std::mutex lock_;
  std::deque<RunFound> found_;
  std::atomic<bool> done_{false};
  std::exception_ptr failed_;
  std::thread thread_;  // last: it uses all of the others
};

}  // namespace

bool built_with_mpi() { return true; }

Ranks::Ranks() {
  if (!launched()) return;
  int level = 0;
  MPI_Init_thread(nullptr, nullptr, MPI_THREAD_FUNNELED, &level);
  joined_ = true;
  MPI_Comm_rank(MPI_COMM_WORLD, &rank_);
  MPI_Comm_size(MPI_COMM_WORLD, &count_);
}

Ranks::~Ranks() {
  if (joined_) MPI_Finalize();
}

double deal_runs(const Ranks& ranks, const Runner& runner, const std::vector<std::uint64_t>& todo,
                 const Progress& progress, const TakeFound& take, const Stop& stop) {
  std::atomic<std::size_t> place{0};
  std::atomic<bool> give_up{false};
  const auto next = [&] {
    if (give_up || stop()) return kNoMore;
    const std::size_t k = place.fetch_add(1);
    return k < todo.size() ? todo[k] : kNoMore;
  };
  int away = ranks.count() - 1;
  double seconds = 0;
  std::exception_ptr failed;
  const auto keep = [&](const std::vector<RunFound>& found) {
    try {
      if (!failed) take(found);
    } catch (...) {
      failed = std::current_exception();  // the others are let go first
      give_up = true;
    }
  };
  {
    OwnWorker own(runner, progress, next);
    for (bool last = false; away > 0 || !last;) {
      last = own.done();  // before collecting: nothing comes after
      const Stopwatch watch;
      std::vector<RunFound> found;
      while (auto one = own.collect()) found.push_back(std::move(*one));
      bool idle = found.empty();
      for (auto asked = letter(); asked; asked = letter()) {
        idle = false;
        const std::uint64_t run = next();
        send_run(asked->from, run);
        if (run == kNoMore) --away;
        if (auto one = from_line(asked->line)) found.push_back(std::move(*one));
      }
      if (!idle) seconds += watch.seconds();
      if (!found.empty()) keep(found);
      if (idle) std::this_thread::sleep_for(kNap);
    }
    if (!failed) failed = own.failed();
  }
  if (failed) std::rethrow_exception(failed);
  return seconds;
}

void serve_runs(const Ranks&, const Runner& runner, const Progress& progress) {
  std::string line = "-";
  for (std::uint64_t run = ask(line); run != kNoMore; run = ask(line)) {
    try {
      line = to_line(runner.run(run, progress));
    } catch (const Interrupted&) {
      line = "-";
    }
  }
}

void dismiss(const Ranks& ranks) {
  for (int away = ranks.count() - 1; away > 0;) {
    if (const auto asked = letter()) {
      send_run(asked->from, kNoMore);
      --away;
    } else {
      std::this_thread::sleep_for(kNap);
    }
  }
}

#else

bool built_with_mpi() { return false; }
Ranks::Ranks() = default;
Ranks::~Ranks() = default;
double deal_runs(const Ranks&, const Runner&, const std::vector<std::uint64_t>&, const Progress&,
                 const TakeFound&, const Stop&) {
  return 0;
}
void serve_runs(const Ranks&, const Runner&, const Progress&) {}
void dismiss(const Ranks&) {}

#endif

}  // namespace skewback
