#pragma once
// Which days are worked, and how work and the calendar turn into each other. Theory:
// docs/theory/programme.md.

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace skewback {

inline constexpr std::array kWeekdays{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};

/// Days since 1970-01-01 of "2027-03-01"; none: no date.
[[nodiscard]] std::optional<long> day_number(const std::string& date);

/// Times are seconds of the calendar from the first moment of the first day, days of 24 h. Work
/// goes on at all hours of a worked day and not on others. A worked day that ends where an idle one
/// begins ends there: what is finished then was finished on it.
class Calendar {
 public:
  Calendar() = default;  // every day is worked
  /// `week`: those of kWeekdays that are worked, empty: all. Other names, and holidays that are no
  /// dates or lie before `start`, count for nothing; so does all where `start` is no date or no
  /// weekday is left.
  Calendar(const std::string& start, std::vector<std::string> week,
           std::vector<std::string> holidays);

  [[nodiscard]] bool every_day() const { return per_week_ == 7 && table_.empty(); }
  [[nodiscard]] bool worked(long day) const;  // day 0: the first
  /// When so much work is done that cannot begin before `from_s`; no work is done at once.
  [[nodiscard]] double finish(double from_s, double work_s) const;
  /// The other way round: latest begin that still gives that finish.
  [[nodiscard]] double begin(double finish_s, double work_s) const;
  /// Work that fits between two moments; negative if `to_s` comes first.
  [[nodiscard]] double work_between(double from_s, double to_s) const;
  /// Days of the calendar for each worked one in a week without holidays.
  [[nodiscard]] double stretch() const { return 7.0 / per_week_; }
  /// The worked day in which a moment lies at which work ended: the moment itself on such a day,
  /// the end of the day before (a second earlier) where it lies on its border, the first moment of
  /// the next one where it lies in the middle of idle days.
  [[nodiscard]] double on_a_worked_day(double s) const;

  [[nodiscard]] const std::vector<std::string>& week() const { return week_; }
  [[nodiscard]] const std::vector<std::string>& holidays() const { return holidays_; }

 private:
  [[nodiscard]] long worked_before(long day) const;  // in [0, day); less than none before day 0
  [[nodiscard]] long nth(long k) const;              // day of the k-th worked one, from 0
  [[nodiscard]] double work_until(double s) const;

  std::vector<std::string> week_ = std::vector<std::string>(kWeekdays.begin(), kWeekdays.end());
  std::vector<std::string> holidays_;
  int per_week_ = 7;
  std::array<bool, 7> on_{true, true, true, true, true, true, true};  // from the first day on
  std::array<long, 8> on_before_{0, 1, 2, 3, 4, 5, 6, 7};
  std::array<long, 7> on_day_{0, 1, 2, 3, 4, 5, 6};
  // whole weeks that hold all holidays; after them, and before, every week is alike
  std::vector<char> table_;
  std::vector<long> table_before_{0}, table_day_;
};

}  // namespace skewback
