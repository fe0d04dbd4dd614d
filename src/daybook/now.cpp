#include "daybook/now.hpp"

#include <algorithm>
#include <set>

#include "daybook/work_order.hpp"

namespace skewback {
namespace {

bool is_here(Standing s) { return s == Standing::kOnSite || s == Standing::kTakenDown; }

/// Likely seconds until it could be on site; a broken one has to be made again.
double until_here(const DayPlan& plan, const PlannedBlock& block, const CopyLife& life,
                  const Moment& now) {
  const Calendar days = plan.network ? plan.network->calendar : Calendar();
  const std::string start = plan.network ? plan.network->start : "1970-01-01";
  const double now_s = seconds_since(start, now).value_or(0);
  const auto gone = [&](const std::optional<Moment>& since) {
    return since ? static_cast<double>(now.utc_s - since->utc_s) : 0.0;
  };
  const auto work = [&](double from_s, double work_s) {
    return std::max(0.0, days.finish(from_s, work_s) - now_s);
  };
  switch (life.standing) {
    case Standing::kPrinted:
      return work(now_s + std::max(0.0, block.cure_s - gone(life.printed)), block.journey_s);
    case Standing::kCured:
    case Standing::kPacked:
      return work(now_s, block.journey_s);
    case Standing::kOnTheRoad:
      return work(now_s - gone(life.shipped), block.journey_s);
    case Standing::kOnSite:
    case Standing::kTakenDown:
    case Standing::kPlaced:
      return 0;
    case Standing::kNotMade:
      if (block.made == "elsewhere") return work(now_s, block.journey_s);
      break;
    case Standing::kBroken:
      break;
  }
  return work(days.finish(now_s, block.print_s) + block.cure_s, block.journey_s);
}

int rank(Standing s) {
  if (s == Standing::kBroken) return -1;
  return s == Standing::kTakenDown ? static_cast<int>(Standing::kOnSite) : static_cast<int>(s);
}

std::vector<std::string> needs_not_in(const std::set<std::string>& placed, const DayPlan& plan,
                                      const PlannedBlock& block) {
  std::vector<std::string> missing;
  for (const PlannedBlock& b : plan.blocks)
    if (!placed.contains(b.id) && std::ranges::find(block.needs, b.id) != block.needs.end())
      missing.push_back(b.id);
  return missing;
}

/// The last placed first.
std::vector<std::string> comes_off_before(const DayPlan& plan, const std::set<std::string>& placed,
                                          const std::string& block) {
  std::vector<std::string> over;
  for (const std::string& id : all_that_need(plan, block))
    if (placed.contains(id)) over.push_back(id);
  std::ranges::reverse(over);
  return over;
}

}  // namespace

CopyLife foremost(const std::vector<CopyLife>& lives, const std::string& block) {
  CopyLife best;
  best.block = block;
  bool found = false;
  for (const CopyLife& life : lives) {
    if (life.block != block || (found && rank(life.standing) <= rank(best.standing))) continue;
    best = life;
    found = true;
  }
  return best;
}

NowReport what_now(const DayPlan& plan, const std::vector<BlockEvent>& events, const Moment& now) {
  const std::vector<CopyLife> all = lives(plan, events);
  NowReport report;
  std::set<std::string> placed;
  for (const PlannedBlock& block : plan.blocks)
    if (foremost(all, block.id).standing == Standing::kPlaced) placed.insert(block.id);
  const std::vector<BlockEvent> valid = in_force(events);
  report.walkway_laid = done_of_kind(plan, valid, "walkway").has_value();
  report.struck = done_of_kind(plan, valid, "striking").has_value();
  const bool may_move = !report.struck && !report.walkway_laid;
  std::set<std::string> here, carried;  // carried: all it needs, directly or not, is in place
  for (const PlannedBlock& block : plan.blocks) {
    ++report.blocks;
    const CopyLife life = foremost(all, block.id);
    if (std::ranges::all_of(block.needs, [&](const auto& need) {
          return placed.contains(need) && carried.contains(need);
        }))
      carried.insert(block.id);
    if (life.standing == Standing::kPlaced) {
      ++report.placed;
      if (auto missing = needs_not_in(placed, plan, block); !missing.empty())
        report.placed_over.push_back({block.id, std::move(missing)});
      continue;
    }
    if (!report.next) report.next = block.id;
    if (life.standing == Standing::kBroken) ++report.broken;
    if (report.struck) report.struck_without.push_back({block.id, life.standing});
    if (report.works_before.empty()) report.works_before = works_not_done(plan, valid, block.id);
    if (is_here(life.standing)) {
      here.insert(block.id);
      const std::string name = copy_name(life.block, life.copy);
      if (auto over = comes_off_before(plan, placed, block.id); !over.empty())
        report.under_placed.push_back({name, std::move(over)});
      else if (!carried.contains(block.id))
        report.not_yet.push_back(name);
      else
        (may_move ? report.can_be_placed : report.for_centring).push_back(name);
    } else if (!report.missing) {
      report.missing =
          Waiting{block.id, life.standing, life.copy, until_here(plan, block, life, now), 0, 0};
    }
  }
  report.on_site = static_cast<int>(here.size());
  if (report.missing) {
    for (const std::string& id : all_that_need(plan, report.missing->block)) {
      if (placed.contains(id)) continue;
      ++report.missing->held_back;
      if (here.contains(id)) ++report.missing->held_on_site;
    }
  }
  return report;
}

std::string alarm_words(const NowReport& report) {
  if (report.struck_without.empty()) return "";
  std::vector<std::string> lacking;
  for (const LackingBlock& b : report.struck_without)
    lacking.push_back(b.block + " (" + word(b.standing) + ")");
  return "WARNING: the centring is struck and the arch is not whole. Not in place: " +
         few(lacking) +
         ". It may fall: keep everybody off it and from under it, and ask the engineer before "
         "anything is done.";
}

std::string under_words(const UnderPlaced& under) {
  std::string order;
  for (const std::string& id : under.first) order += (order.empty() ? "" : ", then ") + id;
  return under.name + " is on site but does not go in under what is in place: take down first " +
         order + ".";
}

std::string centring_words(const NowReport& report) {
  if (!report.struck && !report.walkway_laid) return "";
  const std::string up = report.walkway_laid ? " Walkway and parapets are taken up first (\"" +
                                                   std::string(kWalkwayUp) + "\")."
                                             : "";
  if (!report.struck)
    return "The walkway is laid: nothing is to be taken down or placed under it." + up;
  return "The centring is struck: nothing is to be taken down or placed before it stands again "
         "(\"" +
         std::string(kCentringBack) + "\")." + up;
}

}  // namespace skewback
