#pragma once
// Days of the calendar.

#include <string>

namespace skewback {

/// The date that many seconds after the first moment of `start` ("2027-03-01"), as
/// "2027-03-19"; empty if `start` is no date.
[[nodiscard]] std::string date_after(const std::string& start, double seconds);

}  // namespace skewback
