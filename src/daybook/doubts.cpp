#include "daybook/doubts.hpp"

#include <algorithm>
#include <cstdio>

#include "daybook/activity_kinds.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

constexpr double kHour_s = 3600, kDayLong_s = 86400;

/// "20 minutes", "7 days", "6.5 days".
std::string lasting(double seconds) {
  const bool days = seconds >= 2 * kDayLong_s, hours = seconds >= 2 * kHour_s;
  const double amount = seconds / (days ? kDayLong_s : hours ? kHour_s : 60);
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", amount);
  const std::string unit = days ? "day" : hours ? "hour" : "minute";
  return std::string(text) + " " + unit + (std::string(text) == "1" ? "" : "s");
}

}  // namespace

Fault event_fault(const BlockEvent& next, const std::string& found, const std::string& expected,
                  const std::string& change) {
  const std::string who = next.block.empty() ? "" : copy_name(next.block, next.copy) + " ";
  return {"", 0, 0, who + word(next.what), found, expected, change};
}

std::optional<Fault> cured_too_soon(const DayPlan& plan, const CopyLife& life,
                                    const BlockEvent& next) {
  const PlannedBlock* block = find_block(plan, next.block);
  if (block == nullptr || !life.printed) return std::nullopt;
  const auto gone_s = static_cast<double>(next.at.utc_s - life.printed->utc_s);
  if (gone_s >= block->cure_s) return std::nullopt;
  Moment earliest = *life.printed;
  earliest.utc_s += static_cast<std::int64_t>(block->cure_s);
  return event_fault(next, lasting(gone_s) + " after it was made",
                     lasting(block->cure_s) +
                         " of curing, as the plan has it: " + moment_text(earliest) + " or later",
                     "say --even-so if it is true");
}

std::optional<Fault> nothing_to_stand_on(const DayPlan& plan,
                                         const std::vector<BlockEvent>& in_force,
                                         const BlockEvent& next) {
  const std::vector<std::string> missing = works_not_done(plan, in_force, next.block);
  if (missing.empty()) return std::nullopt;
  return event_fault(next, "not recorded as done: " + few(missing), "what the plan has before it",
                     "record what came before, or say --even-so");
}

std::optional<Fault> copy_out_of_turn(const DayPlan& plan, const std::vector<CopyLife>& lives,
                                      const BlockEvent& next) {
  const PlannedBlock* block = find_block(plan, next.block);
  if (block == nullptr) return std::nullopt;
  int last = 0;
  for (const CopyLife& life : lives)
    if (life.block == next.block) last = std::max(last, life.copy);
  if (last == 0 && block->made == "elsewhere") return std::nullopt;
  const int highest = std::max(last + 1, plan.network ? planned_copies(plan, next.block) : 1);
  if (next.copy <= highest) return std::nullopt;
  return event_fault(next, "no " + copy_name(next.block, next.copy - 1) + " before it",
                     "a copy up to the next one, " + copy_name(next.block, highest),
                     "mend the number");
}

}  // namespace skewback
