#pragma once
// Runs spread over the processes of one MPI job, where the program was built with MPI and started
// by a launcher of it; else one process alone. MPI Forum 2015, MPI 3.1.

#include "vary/run.hpp"

namespace skewback {

/// Joined at the start of the command, left at its end.
class Ranks {
 public:
  Ranks();
  ~Ranks();
  Ranks(const Ranks&) = delete;
  Ranks& operator=(const Ranks&) = delete;
  [[nodiscard]] int rank() const { return rank_; }
  [[nodiscard]] int count() const { return count_; }

 private:
  int rank_ = 0, count_ = 1;
  bool joined_ = false;
};

[[nodiscard]] bool built_with_mpi();

using TakeFound = std::function<void(const std::vector<RunFound>& found)>;
using Stop = std::function<bool()>;

/// Rank 0: deals these runs to whoever asks, does some itself, and hands what comes back to
/// `take`, all that came meanwhile together, on the calling thread. Those who ask are answered
/// first. Returns the seconds spent on dealing. After a stop no run is dealt; those begun are left.
double deal_runs(const Ranks& ranks, const Runner& runner, const std::vector<std::uint64_t>& todo,
                 const Progress& progress, const TakeFound& take, const Stop& stop);
/// The others: asks for runs until there are none.
void serve_runs(const Ranks& ranks, const Runner& runner, const Progress& progress);
/// Rank 0, when there is nothing to deal for a fault of its own: lets the others go.
void dismiss(const Ranks& ranks);

}  // namespace skewback
