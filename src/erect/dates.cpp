#include "erect/dates.hpp"

#include <chrono>
#include <cmath>
#include <cstdio>

namespace skewback {

std::string date_after(const std::string& start, double seconds) {
  using namespace std::chrono;
  int y = 0;
  unsigned m = 0, d = 0;
  if (std::sscanf(start.c_str(), "%4d-%2u-%2u", &y, &m, &d) != 3) return "";
  const year_month_day first{year(y), month(m), day(d)};
  if (!first.ok() || !std::isfinite(seconds)) return "";
  const year_month_day then =
      sys_days(first) + days(static_cast<int>(std::floor(seconds / 86400 + 1e-9)));
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(then.year()),
                static_cast<unsigned>(then.month()), static_cast<unsigned>(then.day()));
  return text;
}

}  // namespace skewback
