#include "brief/keys.hpp"

namespace skewback {
namespace {

/// Least, likely, most.
Key three_times(const std::string& path, const std::string& meaning, const std::string& example,
                Slot (*slot)(Draft&, std::size_t)) {
  return {.path = path,
          .kind = Kind::kPoint3,
          .unit = "s",
          .range = Range::within(0, 3.2e8),
          .meaning = meaning,
          .example = example,
          .slot = slot};
}

}  // namespace

std::vector<Key> spares_and_time() {
  return {
      {.path = "spares.broken_share",
       .kind = Kind::kNumber,
       .range = Range::within(0, 1),
       .meaning = "of blocks that break in handling, a usual figure until the daybook has its own; "
                  "no source",
       .example = "0.03",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.spares.broken_share; }},
      {.path = "spares.known_blocks",
       .kind = Kind::kNumber,
       .range = Range::over(0, 100000.0),
       .meaning =
           "how many blocks' experience `broken_share` is worth, against the daybook's own count",
       .example = "20",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.spares.known_blocks; }},
      {.path = "spares.count",
       .kind = Kind::kInteger,
       .range = Range::within(-1, 10000),
       .meaning =
           "blocks to be printed twice, no more than there are; -1: as many as `late_risk` asks",
       .example = "-1",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.spares.count; }},
      {.path = "spares.late_risk",
       .kind = Kind::kNumber,
       .range = Range::over(0, 1),
       .meaning = "most, of a broken block that holds the work back",
       .example = "0.1",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.spares.late_risk; }},
      {.path = "spares.delay_cost",
       .kind = Kind::kNumber,
       .range = Range::within(0, 1000000000.0),
       .meaning = "of a day's delay, in `rates.currency`; 0: days are counted, not money",
       .example = "0",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.spares.delay_cost; }},
      {.path = "programme.start",
       .kind = Kind::kText,
       .meaning = "day on which it begins, year-month-day",
       .example = R"("2027-03-01")",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.start; }},
      {.path = "programme.week",
       .kind = Kind::kNames,
       .meaning =
           "weekdays that are worked: `mon`, `tue`, `wed`, `thu`, `fri`, `sat`, `sun`; none: "
           "all. All times of the programme and the journey are worked days; curing runs on",
       .example = R"(["mon", "tue", "wed", "thu", "fri"])",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.week; }},
      {.path = "programme.holidays",
       .kind = Kind::kNames,
       .meaning = "dates, year-month-day, on which nothing is worked",
       .example = R"(["2027-03-26", "2027-03-29"])",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.holidays; }},
      {.path = "programme.draws",
       .kind = Kind::kInteger,
       .range = Range::within(100, 10000000),
       .meaning = "of the whole programme",
       .example = "10000",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.draws; }},
      {.path = "programme.seed",
       .kind = Kind::kInteger,
       .range = Range::within(0, 2147483647),
       .meaning = "of the random numbers",
       .example = "1",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.seed; }},
      three_times("programme.footings", "to cast and harden them: least, likely, most",
                  R"(["10 day", "14 day", "21 day"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.footings_s; }),
      three_times("programme.cutting", "to cut and deliver the centring",
                  R"(["3 day", "5 day", "8 day"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.cutting_s; }),
      three_times("programme.centring", "to put it up and level it",
                  R"(["2 day", "3 day", "5 day"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.centring_s; }),
      three_times("programme.placing", "of one block, from hooking on to standing in its seats",
                  R"(["15 min", "20 min", "45 min"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.placing_s; }),
      three_times("programme.striking", "to lower the centring and take it out",
                  R"(["1 day", "1 day", "3 day"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.striking_s; }),
      three_times("programme.walkway", "to lay walkway and parapets",
                  R"(["2 day", "3 day", "5 day"])",
                  [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.walkway_s; }),
      {.path = "programme.site_day",
       .kind = Kind::kQuantity,
       .unit = "s",
       .range = Range::over(0, 86400),
       .meaning = "worked on site",
       .example = R"("8 h")",
       .slot = [](Draft& d, std::size_t) -> Slot { return &d.brief.programme.site_day_s; }},
  };
}

}  // namespace skewback
