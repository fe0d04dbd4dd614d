#include "daybook/clock.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>

namespace skewback {
namespace {

using Days = std::chrono::sys_days;
constexpr std::int64_t kDay_s = 86400;

/// Digits at a place, nothing else.
std::optional<int> digits(const std::string& text, std::size_t at, std::size_t count) {
  if (at + count > text.size()) return std::nullopt;
  int value = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
    value = 10 * value + (text[i] - '0');
  }
  return value;
}

bool has(const std::string& text, std::size_t at, char c) {
  return at < text.size() && text[at] == c;
}

std::optional<std::int64_t> day_start(const std::string& text) {
  const auto year = digits(text, 0, 4), month = digits(text, 5, 2), day = digits(text, 8, 2);
  if (!year || !month || !day || !has(text, 4, '-') || !has(text, 7, '-')) return std::nullopt;
  const std::chrono::year_month_day date{std::chrono::year(*year),
                                         std::chrono::month(static_cast<unsigned>(*month)),
                                         std::chrono::day(static_cast<unsigned>(*day))};
  if (!date.ok()) return std::nullopt;
  return kDay_s * Days(date).time_since_epoch().count();
}

std::optional<int> zone(const std::string& text, std::size_t at) {
  if (has(text, at, 'Z') && at + 1 == text.size()) return 0;
  if (!has(text, at, '+') && !has(text, at, '-')) return std::nullopt;
  const auto hours = digits(text, at + 1, 2), minutes = digits(text, at + 4, 2);
  if (!hours || !minutes || !has(text, at + 3, ':') || text.size() != at + 6 || *hours > 23 ||
      *minutes > 59)
    return std::nullopt;
  const int size = 3600 * *hours + 60 * *minutes;
  return text[at] == '-' ? -size : size;
}

struct Civil {
  int year = 0;
  unsigned month = 0, day = 0;
  int hour = 0, minute = 0, second = 0;
};

Civil civil(std::int64_t local_s) {
  const std::int64_t days = local_s >= 0 ? local_s / kDay_s : -((kDay_s - 1 - local_s) / kDay_s);
  const int rest = static_cast<int>(local_s - days * kDay_s);
  const std::chrono::year_month_day date{Days{std::chrono::days(days)}};
  return {static_cast<int>(date.year()),
          static_cast<unsigned>(date.month()),
          static_cast<unsigned>(date.day()),
          rest / 3600,
          rest / 60 % 60,
          rest % 60};
}

}  // namespace

std::optional<Moment> parse_moment(const std::string& text) {
  const auto day = day_start(text);
  const auto hour = digits(text, 11, 2), minute = digits(text, 14, 2);
  if (!day || !hour || !minute || !has(text, 10, 'T') || !has(text, 13, ':') || *hour > 23 ||
      *minute > 59)
    return std::nullopt;
  std::size_t at = 16;
  int second = 0;
  if (has(text, at, ':')) {
    const auto found = digits(text, at + 1, 2);
    if (!found || *found > 59) return std::nullopt;
    second = *found;
    at += 3;
  }
  const auto east = zone(text, at);
  if (!east) return std::nullopt;
  return Moment{*day + 3600 * *hour + 60 * *minute + second - *east, *east};
}

std::string moment_text(const Moment& moment) {
  const Civil c = civil(moment.utc_s + moment.zone_s);
  const int size = std::abs(moment.zone_s) / 60;
  std::array<char, 64> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%04d-%02u-%02uT%02d:%02d:%02d%c%02d:%02d", c.year,
                c.month, c.day, c.hour, c.minute, c.second, moment.zone_s < 0 ? '-' : '+',
                size / 60, size % 60);
  return buffer.data();
}

Moment now_here() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return {static_cast<std::int64_t>(now), static_cast<int>(local.tm_gmtoff) / 60 * 60};
}

std::optional<double> seconds_since(const std::string& date, const Moment& moment) {
  const auto start = day_start(date);
  if (!start || date.size() != 10) return std::nullopt;
  return static_cast<double>(moment.utc_s + moment.zone_s - *start);
}

std::string clock_after(const std::string& date, double seconds) {
  const auto start = day_start(date);
  if (!start || date.size() != 10 || !std::isfinite(seconds)) return "";
  const Civil c = civil(*start + static_cast<std::int64_t>(std::floor(seconds)));
  std::array<char, 64> buffer{};
  std::snprintf(buffer.data(), buffer.size(), "%04d-%02u-%02u %02d:%02d", c.year, c.month, c.day,
                c.hour, c.minute);
  return buffer.data();
}

}  // namespace skewback
