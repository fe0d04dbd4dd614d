#include "erect/dates.hpp"

#include <chrono>
#include <cmath>
#include <cstdio>

#include "erect/calendar.hpp"

namespace skewback {

std::string date_after(const std::string& start, double seconds) {
  using namespace std::chrono;
  const std::optional<long> first = day_number(start);
  if (!first || !std::isfinite(seconds)) return "";
  const year_month_day then =
      sys_days(days(*first + static_cast<long>(std::floor(seconds / 86400 + 1e-9))));
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(then.year()),
                static_cast<unsigned>(then.month()), static_cast<unsigned>(then.day()));
  return text;
}

}  // namespace skewback
