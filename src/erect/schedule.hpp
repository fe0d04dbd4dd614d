#pragma once
// The programme as a network of activities, three times each; drawn many times over. Theory:
// docs/theory/programme.md.

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "erect/calendar.hpp"

namespace skewback {

struct Activity {
  std::string id;     // "print s3", "cure s3", "place s3", "footings"
  std::string block;  // empty: of no block
  std::string kind;   // "footings", "print", "cure", "journey", "cutting", "centring", "place", ...
  double least_s = 0, likely_s = 0, most_s = 0;  // on worked days; of curing on all
  std::vector<int> after;                        // indices, all before its own
  // what the daybook says: no longer drawn
  bool started = false, done = false;
  double finish_s = 0;  // when done, from the start of the programme
};
struct Network {
  std::string start;                 // date of second 0, "2027-03-01"
  std::vector<Activity> activities;  // in an order in which all of `after` come before
  Calendar calendar = {};            // from `start` on
};
/// Concrete cures on Sundays too; all else is work.
[[nodiscard]] bool runs_every_day(const Activity& activity);
/// When it is done, begun no sooner than `from_s`, on the network's calendar; and when at the
/// latest it must begin.
[[nodiscard]] double done_at(const Network& network, const Activity& activity, double from_s,
                             double duration_s);
[[nodiscard]] double begun_at(const Network& network, const Activity& activity, double finish_s,
                              double duration_s);
/// Date on which what ends at that moment is last worked on: of what ends at midnight the day
/// before.
[[nodiscard]] std::string last_date(const Network& network, double s);
/// The same of work; from the middle of idle days it is put off to the next worked one.
[[nodiscard]] std::string done_date(const Network& network, double s);

/// (a + 4 m + b) / 6 (Malcolm et al. 1959).
[[nodiscard]] inline double pert_mean(double least, double likely, double most) {
  return (least + 4 * likely + most) / 6;
}

struct PertResult {             // means as pert_mean, variance ((b - a)/6)^2
  std::vector<double> mean_s;   // per activity
  std::vector<double> float_s;  // per activity: of work where it is work
  std::vector<int> critical;    // in order
  // on the calendar, along the critical path; the spread of work times 7 over the worked days of a
  // week
  double duration_s = 0, sd_s = 0;
};
[[nodiscard]] PertResult pert(const Network& network);
/// Earliest finish of each activity, s, if each takes so long and none breaks.
[[nodiscard]] std::vector<double> finishes(const Network& network,
                                           const std::vector<double>& duration_s);
/// P(duration <= s) with the critical path's normal distribution; and the other way round.
[[nodiscard]] double chance_by(const PertResult& result, double seconds);
[[nodiscard]] double finish_at(const PertResult& result, double chance);

/// A block that may break between leaving its table and standing: what one costs.
struct Breakage {
  int place = -1;        // index of its placing activity
  double share = 0;      // probability
  double again_s = 0;    // print, cure and journey of a new one
  bool spare = false;    // a second one is there: only a swap
  double swap_s = 0;     // time that takes
  double cure_s = 0;     // of again_s, what runs every day
  double journey_s = 0;  // of again_s, what comes after the cure
};

struct Draws {
  std::vector<double> finish_s;        // ascending
  std::vector<double> critical_share;  // per activity: of draws in which it was critical
  double mean_s = 0, sd_s = 0;
  double broken_mean = 0;                       // blocks a draw
  [[nodiscard]] double at(double share) const;  // quantile
};
/// Beta-PERT durations (shape 4), one generator a draw (counter-based on seed and draw): the same
/// whatever the number of threads.
[[nodiscard]] Draws draw_programme(const Network& network, const std::vector<Breakage>& breakages,
                                   int draws, std::uint64_t seed, const Progress& progress = {});

}  // namespace skewback
