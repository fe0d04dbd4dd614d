#include <algorithm>
#include <iterator>

#include "brief/text.hpp"
#include "daybook/doubts.hpp"
#include "daybook/life.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

/// What may come just before; with steps left out (`even_so`), whatever is less far.
std::vector<Standing> before(Happened what) {
  using S = Standing;
  switch (what) {
    case Happened::kPrinted:
    case Happened::kReprinted:
      return {S::kNotMade};
    case Happened::kCured:
      return {S::kPrinted};
    case Happened::kChecked:
      return {S::kPrinted, S::kCured, S::kPacked, S::kOnSite, S::kTakenDown};
    case Happened::kPacked:
      return {S::kCured, S::kTakenDown};
    case Happened::kShipped:
      return {S::kCured, S::kPacked, S::kTakenDown};
    case Happened::kReceived:
      return {S::kOnTheRoad};
    case Happened::kPlaced:
      return {S::kOnSite, S::kTakenDown};
    case Happened::kTakenDown:
      return {S::kPlaced};
    case Happened::kBroken:
      return {S::kPrinted, S::kCured,  S::kPacked,   S::kOnTheRoad,
              S::kOnSite,  S::kPlaced, S::kTakenDown};
    case Happened::kNote:
    case Happened::kDone:
    case Happened::kCancel:
      break;
  }
  return {};
}

/// Steps that may be left out where the paper was lost: those between the two.
bool may_skip(Standing from, Happened to) {
  const auto rank = [](Standing s) {
    return s == Standing::kTakenDown ? static_cast<int>(Standing::kCured) : static_cast<int>(s);
  };
  if (from == Standing::kBroken || from == Standing::kPlaced) return false;
  switch (to) {
    case Happened::kCured:
      return rank(from) < static_cast<int>(Standing::kCured);
    case Happened::kPacked:
      return rank(from) < static_cast<int>(Standing::kPacked);
    case Happened::kShipped:
      return rank(from) < static_cast<int>(Standing::kOnTheRoad);
    case Happened::kReceived:
      return rank(from) < static_cast<int>(Standing::kOnSite);
    case Happened::kPlaced:
    case Happened::kChecked:
    case Happened::kBroken:
      return true;
    default:
      return false;
  }
}

/// The first that is written of a block that is made elsewhere.
bool comes_made(const DayPlan& plan, const BlockEvent& next) {
  const PlannedBlock* block = find_block(plan, next.block);
  if (block == nullptr || block->made != "elsewhere") return false;
  return next.what == Happened::kPacked || next.what == Happened::kShipped ||
         next.what == Happened::kReceived;
}

std::string listed(const std::vector<Standing>& standings) {
  std::string text;
  for (std::size_t i = 0; i < standings.size(); ++i)
    text += (i == 0 ? "" : i + 1 == standings.size() ? " or " : ", ") + word(standings[i]);
  return text;
}

using Lives = std::vector<CopyLife>;

CopyLife life_of(const Lives& all, const std::string& block, int copy) {
  for (const CopyLife& life : all)
    if (life.block == block && life.copy == copy) return life;
  CopyLife none;
  none.block = block;
  none.copy = copy;
  return none;
}

bool any(const Lives& all, const std::string& block, Standing standing) {
  return std::ranges::any_of(
      all, [&](const CopyLife& l) { return l.block == block && l.standing == standing; });
}

std::optional<Fault> unknown(const DayPlan& plan, const BlockEvent& next) {
  const std::vector<std::string> works = works_of(plan);
  const bool is_work = std::ranges::find(works, next.block) != works.end();
  if (is_work) {
    if (next.what == Happened::kDone || next.what == Happened::kNote) return std::nullopt;
    return event_fault(next, "an event of a block", "done or note: " + next.block + " is no block",
                       "");
  }
  std::vector<std::string> names = works;
  for (const PlannedBlock& block : plan.blocks) names.push_back(block.id);
  if (find_block(plan, next.block) == nullptr) {
    const std::string near = nearest_word(next.block, names);
    return event_fault(
        next, "\"" + next.block + "\", no such block", "a block of " + plan.bridge,
        near.empty() ? "see skewback daybook DIR list" : "did you mean \"" + near + "\"?");
  }
  if (next.what == Happened::kDone)
    return event_fault(next, "done", "an event of a block: printed, placed, ...", "");
  return std::nullopt;
}

std::optional<Fault> wrong_time(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                const BlockEvent& next, bool even_so) {
  constexpr std::int64_t kClocksDiffer_s = 300;
  constexpr std::int64_t kEarliest_s = 946684800;  // 2000-01-01T00:00:00Z
  if (next.at.utc_s > next.written.utc_s + kClocksDiffer_s)
    return event_fault(next, moment_text(next.at) + ", still to come", "a moment that has passed",
                       "");
  if (next.at.utc_s < kEarliest_s)
    return event_fault(next, moment_text(next.at), "a moment of the year 2000 or later",
                       "mend --when");
  if (even_so || next.what == Happened::kNote) return std::nullopt;
  const std::string undoing = undone_by(plan, next.block);
  const auto of_it = [&](const BlockEvent& e) {
    return (e.block == next.block && e.copy == next.copy) || (e.block == undoing);
  };
  for (const BlockEvent& e : valid)
    if (of_it(e) && e.what != Happened::kNote && e.at.utc_s > next.at.utc_s)
      return event_fault(next,
                         moment_text(next.at) + ", before " +
                             (e.block == next.block ? "it" : e.block) + " was " + word(e.what),
                         moment_text(e.at) + " or later", "mend --when, or say --even-so");
  return std::nullopt;
}

/// Neighbours that must be there, or must not be there any more.
std::optional<Fault> neighbours(const DayPlan& plan, const Lives& all, const BlockEvent& next,
                                Happened what) {
  const auto placed = [&](const std::string& id) { return any(all, id, Standing::kPlaced); };
  std::vector<std::string> wrong;
  if (what == Happened::kPlaced)
    std::ranges::remove_copy_if(all_needs(plan, next.block), std::back_inserter(wrong), placed);
  if (!wrong.empty())
    return event_fault(next, "not in place yet: " + few(wrong),
                       "what is placed before it in its place", "say --even-so if it is true");
  if (what == Happened::kTakenDown)
    std::ranges::copy_if(all_that_need(plan, next.block), std::back_inserter(wrong), placed);
  if (!wrong.empty())
    return event_fault(next, "still in place: " + few(wrong),
                       "what was placed after it taken down first", "say --even-so if it is true");
  return std::nullopt;
}

std::string number(const BlockEvent& e) { return "event " + std::to_string(e.number); }

std::optional<Fault> still_laid(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                const BlockEvent& next) {
  const auto laid = done_of_kind(plan, valid, "walkway");
  if (!laid) return std::nullopt;
  return event_fault(next, laid->block + " and parapets laid, " + number(*laid),
                     "both taken up first",
                     std::string("record \"") + kWalkwayUp + "\" done, or say --even-so");
}

/// No block is moved over a struck centring, nor under what lies on the arch.
std::optional<Fault> nothing_under_it(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                      const BlockEvent& next) {
  if (auto laid = still_laid(plan, valid, next)) return laid;
  const auto struck = done_of_kind(plan, valid, "striking");
  if (!struck) return std::nullopt;
  return event_fault(
      next, "the centring struck, " + number(*struck), "the centring standing again",
      std::string("record \"") + kCentringBack + "\" done once it is, or say --even-so");
}

/// "centring put back", "walkway taken up".
std::optional<Fault> wrong_undoing(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                   const BlockEvent& next) {
  const std::string undone = undone_by(plan, next.block);
  if (!done_as_it_is(plan, valid, undone))
    return event_fault(next, undone + " is not recorded as done", undone + " done before it",
                       "record what came before, or say --even-so");
  return next.block == kCentringBack ? still_laid(plan, valid, next) : std::nullopt;
}

Fault place_taken(const BlockEvent& next) {
  return event_fault(next, "another copy in its place", "its place empty",
                     "record that one as taken-down or broken");
}

std::optional<Fault> wrong_step(const DayPlan& plan, const Lives& all,
                                const std::vector<BlockEvent>& valid, const BlockEvent& next,
                                bool even_so) {
  const CopyLife life = life_of(all, next.block, next.copy);
  std::vector<Standing> allowed = before(next.what);
  if (comes_made(plan, next)) allowed.insert(allowed.begin(), Standing::kNotMade);
  if (std::ranges::find(allowed, life.standing) == allowed.end()) {
    const bool possible = may_skip(life.standing, next.what);
    if (!even_so || !possible) {
      std::string change;
      if (possible) change = "record what came before, or say --even-so";
      if (next.what == Happened::kPrinted)
        change = "a second one is " + copy_name(next.block, next.copy + 1);
      if (life.standing == Standing::kBroken)
        change = "another copy has a number: " + copy_name(next.block, next.copy + 1);
      return event_fault(next, word(life.standing), listed(allowed), change);
    }
  }
  if (next.what == Happened::kReprinted && !any(all, next.block, Standing::kBroken))
    return event_fault(next, "no broken copy of " + next.block, "one that broke",
                       "a spare is recorded as printed: " + copy_name(next.block, next.copy));
  if (next.what == Happened::kPlaced && any(all, next.block, Standing::kPlaced))
    return place_taken(next);
  if (even_so) return std::nullopt;
  if (next.what == Happened::kPlaced || next.what == Happened::kTakenDown)
    if (auto wrong = nothing_under_it(plan, valid, next)) return wrong;
  if (next.what == Happened::kCured)
    if (auto wrong = cured_too_soon(plan, life, next)) return wrong;
  if (auto wrong = neighbours(plan, all, next, next.what)) return wrong;
  if (next.what != Happened::kPlaced) return std::nullopt;
  if (auto wrong = nothing_to_stand_on(plan, valid, next)) return wrong;
  return neighbours(plan, all, next, Happened::kTakenDown);  // it does not go in under them
}

/// Works that the plan has after it, and what was moved on the strength of it, hold it.
std::optional<Fault> wrong_without_work(const DayPlan& plan, const std::vector<BlockEvent>& events,
                                        const BlockEvent& taken_back, const BlockEvent& next) {
  std::vector<BlockEvent> on_it = done_after(plan, events, taken_back.block);
  const bool own = taken_back.block == kCentringBack || taken_back.block == kWalkwayUp;
  for (const BlockEvent& e : events)
    if (own && e.number > taken_back.number &&
        (e.what == Happened::kPlaced || e.what == Happened::kTakenDown || e.block == kCentringBack))
      on_it.push_back(e);
  if (on_it.empty()) return std::nullopt;
  const BlockEvent& last = *std::ranges::max_element(on_it, {}, &BlockEvent::number);
  return event_fault(
      next, copy_name(last.block, last.copy) + " " + word(last.what) + " after it, " + number(last),
      "what follows it taken back first",
      "cancel " + std::to_string(last.number) + " first, or say --even-so");
}

/// What is left once an event is taken back: a copy that is out of its place again, or in it again.
std::optional<Fault> wrong_without(const DayPlan& plan, std::vector<BlockEvent> events,
                                   const BlockEvent& taken_back, const BlockEvent& next,
                                   bool even_so) {
  std::erase_if(events, [&](const BlockEvent& e) { return e.number == taken_back.number; });
  if (taken_back.what == Happened::kDone)
    return even_so ? std::nullopt : wrong_without_work(plan, events, taken_back, next);
  const Lives all = lives(plan, events);
  const bool in_place = life_of(all, next.block, next.copy).standing == Standing::kPlaced;
  if (in_place) {
    const auto placed = std::ranges::count_if(all, [&](const CopyLife& l) {
      return l.block == next.block && l.standing == Standing::kPlaced;
    });
    if (placed > 1) return place_taken(next);
  }
  if (even_so || (!in_place && taken_back.what != Happened::kPlaced)) return std::nullopt;
  if (taken_back.what == Happened::kPlaced)
    if (auto wrong = nothing_under_it(plan, events, next)) return wrong;
  return neighbours(plan, all, next, in_place ? Happened::kPlaced : Happened::kTakenDown);
}

std::optional<Fault> wrong_cancel(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                  const BlockEvent& next, bool even_so) {
  const auto it = std::ranges::find(valid, *next.cancels, &BlockEvent::number);
  const std::string which = "event " + std::to_string(*next.cancels);
  if (it == valid.end())
    return event_fault(next, which + ", not there, or taken back", "an event that is in force",
                       "see skewback daybook DIR list BLOCK");
  if (it->what == Happened::kNote || it->what == Happened::kChecked) return std::nullopt;
  const std::string undoing = undone_by(plan, it->block);
  for (const BlockEvent& e : valid)
    if (e.number > it->number && e.what != Happened::kNote &&
        ((e.block == it->block && e.copy == it->copy) || e.block == undoing))
      return event_fault(next,
                         which + " is followed by " + number(e) + ", " +
                             (e.block == it->block ? "" : e.block + " ") + word(e.what),
                         "the last event of " + copy_name(it->block, it->copy),
                         "cancel " + std::to_string(e.number) + " first");
  return wrong_without(plan, valid, *it, next, even_so);
}

}  // namespace

std::optional<Fault> objection(const DayPlan& plan, const std::vector<BlockEvent>& events,
                               const BlockEvent& next, bool even_so) {
  const std::vector<BlockEvent> valid = in_force(events);
  if (next.what == Happened::kCancel) return wrong_cancel(plan, valid, next, even_so);
  if (auto wrong = unknown(plan, next)) return wrong;
  if (auto wrong = copy_out_of_turn(plan, lives(plan, events), next)) return wrong;
  if (auto wrong = wrong_time(plan, valid, next, even_so)) return wrong;
  if (next.what == Happened::kNote) return std::nullopt;
  if (next.what != Happened::kDone)
    return wrong_step(plan, lives(plan, events), valid, next, even_so);
  if (const auto done = done_as_it_is(plan, valid, next.block))
    return event_fault(next, "done already, " + number(*done), "said once",
                       "cancel " + std::to_string(done->number) + " first");
  if (even_so) return std::nullopt;
  if (next.block == kCentringBack || next.block == kWalkwayUp)
    return wrong_undoing(plan, valid, next);
  const std::string missing = missing_before(plan, lives(plan, events), valid, next.block);
  if (missing.empty()) return std::nullopt;
  return event_fault(next, missing, "what the plan has before it",
                     "record what came before, or say --even-so");
}

}  // namespace skewback
