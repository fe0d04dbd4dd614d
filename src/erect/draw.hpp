#pragma once
// One draw of a programme at a time. Private to erect/.

#include <memory>
#include <vector>

#include "erect/random.hpp"
#include "erect/schedule.hpp"

namespace skewback {

/// What an activity waits for besides: work, then what runs every day, then work again.
struct Wait {
  double work_s = 0, every_day_s = 0, then_s = 0;
};
/// For a new block; or for the spare to be swapped in.
[[nodiscard]] Wait wait_of(const Breakage& breakage, bool spared);

/// Earliest finishes, s of the calendar. An activity starts when all of `after` are done and its
/// wait is over; what the daybook calls done finished when it says. `waits`: one an activity, or
/// none at all.
void earliest_finishes(const Network& network, const std::vector<double>& duration_s,
                       const std::vector<Wait>& waits, std::vector<double>& finish_s);
[[nodiscard]] double latest(const std::vector<double>& finish_s);

/// Whose own delay would delay the whole: back from the last to finish, along what
/// each one waited for.
void mark_critical(const Network& network, const std::vector<double>& finish_s,
                   std::vector<char>& critical);

/// Durations and breakages of draw 0, 1, 2, ...: the same whoever asks, in whatever order.
class ProgrammeDraws {
 public:
  ProgrammeDraws(const Network& network, std::uint64_t seed);
  void durations(std::uint64_t draw, std::vector<double>& duration_s) const;
  /// One a breakage, in its order; what breaks hangs on the placing, not on that order. Placings
  /// that are done break nothing.
  void broken(std::uint64_t draw, const std::vector<Breakage>& breakages,
              std::vector<char>& is_broken) const;

 private:
  struct Shape {
    double least_s = 0, range_s = 0;
    const BetaTable* table = nullptr;  // none: fixed
  };
  const Network* network_;
  std::uint64_t seed_;
  std::vector<std::unique_ptr<BetaTable>> tables_;
  std::vector<Shape> shapes_;
};

}  // namespace skewback
