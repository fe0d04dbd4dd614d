// Days and moments side by side, linked as the program is: two functions of one name and one list
// of arguments would be one of them at random.

#include "erect/dates.hpp"

#include <gtest/gtest.h>

#include "daybook/clock.hpp"

namespace skewback {
namespace {

TEST(Dates, OfTheReportAreDaysAndThoseOfTheDaybookHaveMinutes) {
  const double seconds = 4 * 86400 + 14 * 3600 + 20 * 60;
  EXPECT_EQ(date_after("2027-03-01", seconds), "2027-03-05");
  EXPECT_EQ(date_after("2027-03-01", seconds).size(), 10U);
  EXPECT_EQ(clock_after("2027-03-01", seconds), "2027-03-05 14:20");
}

}  // namespace
}  // namespace skewback
