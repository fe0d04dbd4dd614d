#include "daybook/clock.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// Seconds by `date -d ... +%s` of GNU coreutils 9.1.
TEST(Clock, ReadsMomentsWithTheirZone) {
  const struct {
    const char* text;
    std::int64_t utc_s;
    int zone_s;
  } cases[] = {{"2027-03-05T14:20:00+01:00", 1804252800, 3600},
               {"2028-02-29T23:59:59-03:30", 1835494199, -12600},
               {"1969-12-31T23:59:59Z", -1, 0}};
  for (const auto& c : cases) {
    const auto m = parse_moment(c.text);
    ASSERT_TRUE(m) << c.text;
    EXPECT_EQ(m->utc_s, c.utc_s) << c.text;
    EXPECT_EQ(m->zone_s, c.zone_s) << c.text;
  }
  EXPECT_EQ(parse_moment("2027-03-05T14:20+01:00")->utc_s, 1804252800);
}

TEST(Clock, WritesWhatItReads) {
  for (const char* text : {"2027-03-05T14:20:00+01:00", "2028-02-29T23:59:59-03:30",
                           "1969-12-31T23:59:59+00:00", "2000-01-01T00:00:00-12:00"})
    EXPECT_EQ(moment_text(*parse_moment(text)), text);
}

TEST(Clock, RefusesWhatIsNoMoment) {
  for (const char* text : {"", "today", "2027-03-05", "2027-03-05T14:20:00", "2027-02-29T10:00:00Z",
                           "2027-13-01T10:00:00Z", "2027-03-05T24:00:00Z", "2027-03-05T10:60:00Z",
                           "2027-03-05 10:00:00Z", "2027-03-05T10:00:00+0100",
                           "2027-03-05T10:00:00Zx", "2027-3-5T10:00:00Z", "2027-03-05T10:00:00.5Z"})
    EXPECT_FALSE(parse_moment(text)) << text;
}

TEST(Clock, CountsFromADateOnTheClockOfThePlace) {
  const Moment m = *parse_moment("2027-03-05T14:20:00+01:00");
  EXPECT_DOUBLE_EQ(*seconds_since("2027-03-01", m), 4 * 86400 + 14 * 3600 + 20 * 60);
  EXPECT_EQ(clock_after("2027-03-01", 4 * 86400 + 14 * 3600 + 20 * 60), "2027-03-05 14:20");
  EXPECT_EQ(clock_after("2027-03-01", -60), "2027-02-28 23:59");
  EXPECT_FALSE(seconds_since("soon", m));
}

}  // namespace
}  // namespace skewback
