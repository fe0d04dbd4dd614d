#include "erect/calendar.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <functional>
#include <utility>

namespace skewback {
namespace {

constexpr double kDay_s = 86400;
constexpr double kRounding = 1e-9;  // days: a twelfth of a millisecond

long floor_div(long a, long b) { return a >= 0 ? a / b : -((b - 1 - a) / b); }
long day_of(double s) { return static_cast<long>(std::floor(s / kDay_s)); }
std::size_t at(long i) { return static_cast<std::size_t>(i); }

}  // namespace

std::optional<long> day_number(const std::string& date) {
  using namespace std::chrono;
  int y = 0;
  unsigned m = 0, d = 0;
  if (std::sscanf(date.c_str(), "%4d-%2u-%2u", &y, &m, &d) != 3) return std::nullopt;
  const year_month_day day{year(y), month(m), std::chrono::day(d)};
  if (!day.ok()) return std::nullopt;
  return static_cast<long>(sys_days(day).time_since_epoch().count());
}

Calendar::Calendar(const std::string& start, std::vector<std::string> week,
                   std::vector<std::string> holidays) {
  const std::optional<long> first = day_number(start);
  std::array<bool, 7> named{};
  for (const std::string& name : week) {
    const auto found = std::ranges::find(kWeekdays, name);
    if (found != kWeekdays.end()) named[at(found - kWeekdays.begin())] = true;
  }
  if (std::ranges::none_of(named, std::identity())) named.fill(true);
  if (!first) return;
  const long weekday = ((*first + 3) % 7 + 7) % 7;  // 1970-01-01 was a Thursday
  week_.clear();
  for (std::size_t k = 0; k < 7; ++k)
    if (named[k]) week_.emplace_back(kWeekdays[k]);
  per_week_ = 0;
  for (std::size_t k = 0; k < 7; ++k) {
    on_[k] = named[(at(weekday) + k) % 7];
    on_before_[k] = per_week_;
    if (on_[k]) on_day_[at(per_week_++)] = static_cast<long>(k);
  }
  on_before_[7] = per_week_;

  std::vector<long> idle;
  for (const std::string& date : holidays) {
    const std::optional<long> day = day_number(date);
    if (day && *day >= *first) idle.push_back(*day - *first);
  }
  holidays_ = std::move(holidays);
  if (idle.empty()) return;
  const long weeks = *std::ranges::max_element(idle) / 7 + 1;
  for (long day = 0; day < 7 * weeks; ++day) table_.push_back(on_[at(day % 7)] ? 1 : 0);
  for (const long day : idle) table_[at(day)] = 0;
  for (std::size_t day = 0; day < table_.size(); ++day) {
    table_before_.push_back(table_before_.back() + table_[day]);
    if (table_[day] != 0) table_day_.push_back(static_cast<long>(day));
  }
}

bool Calendar::worked(long day) const {
  if (day >= 0 && day < std::ssize(table_)) return table_[at(day)] != 0;
  return on_[at(day - 7 * floor_div(day, 7))];
}

long Calendar::worked_before(long day) const {
  if (day >= 0 && day <= std::ssize(table_)) return table_before_[at(day)];
  const long from = day < 0 ? 0 : std::ssize(table_);
  const long weeks = floor_div(day - from, 7);
  return (day < 0 ? 0 : table_before_.back()) + weeks * per_week_ +
         on_before_[at(day - from - 7 * weeks)];
}

long Calendar::nth(long k) const {
  if (k >= 0 && k < std::ssize(table_day_)) return table_day_[at(k)];
  const long from = k < 0 ? 0 : std::ssize(table_day_);
  const long weeks = floor_div(k - from, per_week_);
  return (k < 0 ? 0 : std::ssize(table_)) + 7 * weeks + on_day_[at(k - from - weeks * per_week_)];
}

double Calendar::work_until(double s) const {
  const long day = day_of(s);
  return static_cast<double>(worked_before(day)) * kDay_s +
         (worked(day) ? s - static_cast<double>(day) * kDay_s : 0);
}

double Calendar::finish(double from_s, double work_s) const {
  if (!(work_s > 0)) return from_s;
  if (every_day()) return from_s + work_s;
  const double until = work_until(from_s) + work_s;
  const long last = static_cast<long>(std::ceil(until / kDay_s - kRounding)) - 1;
  return static_cast<double>(nth(last)) * kDay_s + until - static_cast<double>(last) * kDay_s;
}

double Calendar::begin(double finish_s, double work_s) const {
  if (!(work_s > 0)) return finish_s;
  if (every_day()) return finish_s - work_s;
  const double from = work_until(finish_s) - work_s;
  const long first = static_cast<long>(std::floor(from / kDay_s + kRounding));
  return static_cast<double>(nth(first)) * kDay_s +
         std::max(0.0, from - static_cast<double>(first) * kDay_s);
}

double Calendar::work_between(double from_s, double to_s) const {
  return every_day() ? to_s - from_s : work_until(to_s) - work_until(from_s);
}

double Calendar::on_a_worked_day(double s) const {
  if (every_day()) return s;
  const long day = day_of(s);
  if (worked(day)) return s;
  const bool border = s - static_cast<double>(day) * kDay_s <= kRounding * kDay_s;
  if (border && worked(day - 1)) return s - 1;
  return static_cast<double>(nth(worked_before(day))) * kDay_s;
}

}  // namespace skewback
