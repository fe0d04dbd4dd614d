#pragma once
// Moments as people write them: ISO 8601 with the zone, to the second (ISO 8601-1:2019, extended
// form).

#include <cstdint>
#include <optional>
#include <string>

namespace skewback {

struct Moment {
  std::int64_t utc_s = 0;  // since 1970-01-01T00:00:00Z, leap seconds left out
  int zone_s = 0;          // east of Greenwich
};

/// "2027-03-05T14:20:00+01:00", "2027-03-05T13:20Z"; none: not of this form, no such day, no zone.
[[nodiscard]] std::optional<Moment> parse_moment(const std::string& text);
[[nodiscard]] std::string moment_text(const Moment& moment);  // "2027-03-05T14:20:00+01:00"
[[nodiscard]] Moment now_here();                              // the machine's clock and zone
/// Seconds on the clock of the place from the first moment of a date ("2027-03-01"); none: no date.
[[nodiscard]] std::optional<double> seconds_since(const std::string& date, const Moment& moment);
/// The other way round, in words: "2027-03-05 14:20"; empty: no date.
[[nodiscard]] std::string clock_after(const std::string& date, double seconds);

}  // namespace skewback
