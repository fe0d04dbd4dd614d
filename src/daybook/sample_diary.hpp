#pragma once
// For tests only: a daybook without a file.

#include <gtest/gtest.h>

#include <cmath>

#include "daybook/now.hpp"
#include "daybook/sample_plan.hpp"

namespace skewback::sample {

using H = Happened;

/// Writes events an hour apart, "cured" as long after as the plan has it, each asked for first; the
/// objection as words, or "".
struct Diary {
  DayPlan plan = sample::plan_with_network();
  std::vector<BlockEvent> events;
  std::int64_t clock = parse_moment("2027-03-02T08:00:00+00:00")->utc_s;

  std::string say(const std::string& block, H what, int copy = 1, bool even_so = false) {
    clock += what == H::kCured ? std::llround(7 * kDay) : 3600;
    BlockEvent e;
    e.number = static_cast<std::int64_t>(events.size()) + 1;
    e.block = block;
    e.copy = copy;
    e.what = what;
    e.at = e.written = {clock, 0};
    return keep(e, even_so);
  }
  std::string cancel(std::int64_t number, bool even_so = false) {
    clock += 3600;
    BlockEvent e;
    e.number = static_cast<std::int64_t>(events.size()) + 1;
    e.what = H::kCancel;
    e.at = e.written = {clock, 0};
    e.cancels = number;
    for (const BlockEvent& old : events)
      if (old.number == number) e.block = old.block, e.copy = old.copy;
    return keep(e, even_so);
  }
  std::string keep(const BlockEvent& e, bool even_so) {
    if (const auto fault = objection(plan, events, e, even_so)) return describe(*fault);
    events.push_back(e);
    return "";
  }
  void to_site(const std::string& block, int copy = 1) {
    for (const H what : {H::kCured, H::kChecked, H::kPacked, H::kShipped, H::kReceived})
      EXPECT_EQ(say(block, what, copy), "");
  }
  void make(const std::string& block) {
    EXPECT_EQ(say(block, H::kPrinted), "");
    to_site(block);
  }
  /// Two copies of it on site.
  void make_twice(const std::string& block) {
    make(block);
    EXPECT_EQ(say(block, H::kPrinted, 2), "");
    to_site(block, 2);
  }
  Standing standing(const std::string& block) const {
    return foremost(lives(plan, events), block).standing;
  }
};

/// With its footings done.
struct Founded : Diary {
  Founded() { EXPECT_EQ(say("footings", H::kDone), ""); }
};

}  // namespace skewback::sample
