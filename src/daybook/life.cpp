#include "daybook/life.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "brief/text.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

constexpr std::array<std::pair<Happened, const char*>, 13> kHappened = {{
    {Happened::kPrinted, "printed"},
    {Happened::kCured, "cured"},
    {Happened::kChecked, "checked"},
    {Happened::kPacked, "packed"},
    {Happened::kShipped, "shipped"},
    {Happened::kReceived, "received"},
    {Happened::kBroken, "broken"},
    {Happened::kReprinted, "reprinted"},
    {Happened::kPlaced, "placed"},
    {Happened::kTakenDown, "taken-down"},
    {Happened::kNote, "note"},
    {Happened::kDone, "done"},
    {Happened::kCancel, "cancel"},
}};

void move_on(CopyLife& life, const BlockEvent& e) {
  const auto stand = [&](Standing standing) {
    life.standing = standing;
    life.since = e.at;
  };
  switch (e.what) {
    case Happened::kPrinted:
    case Happened::kReprinted:
      stand(Standing::kPrinted);
      life.printed = e.at;
      break;
    case Happened::kCured:
      stand(Standing::kCured);
      life.cured = e.at;
      break;
    case Happened::kPacked:
      stand(Standing::kPacked);
      break;
    case Happened::kShipped:
      stand(Standing::kOnTheRoad);
      life.shipped = e.at;
      break;
    case Happened::kReceived:
      stand(Standing::kOnSite);
      life.received = e.at;
      break;
    case Happened::kPlaced:
      stand(Standing::kPlaced);
      life.placed = e.at;
      break;
    case Happened::kTakenDown:
      stand(Standing::kTakenDown);
      break;
    case Happened::kBroken:
      stand(Standing::kBroken);
      break;
    case Happened::kChecked:
      life.checked = true;
      break;
    case Happened::kNote:
    case Happened::kDone:
    case Happened::kCancel:
      break;
  }
}

bool of_a_block(const BlockEvent& e) { return e.what != Happened::kDone; }

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

std::string listed(const std::vector<Standing>& standings) {
  std::string text;
  for (std::size_t i = 0; i < standings.size(); ++i)
    text += (i == 0 ? "" : i + 1 == standings.size() ? " or " : ", ") + word(standings[i]);
  return text;
}

Fault fault(const BlockEvent& next, const std::string& found, const std::string& expected,
            const std::string& change) {
  const std::string who = next.block.empty() ? "" : copy_name(next.block, next.copy) + " ";
  return {"", 0, 0, who + word(next.what), found, expected, change};
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
    return fault(next, "an event of a block", "done or note: " + next.block + " is no block", "");
  }
  std::vector<std::string> names = works;
  for (const PlannedBlock& block : plan.blocks) names.push_back(block.id);
  if (find_block(plan, next.block) == nullptr) {
    const std::string near = nearest_word(next.block, names);
    return fault(next, "\"" + next.block + "\", no such block", "a block of " + plan.bridge,
                 near.empty() ? "see skewback daybook DIR list" : "did you mean \"" + near + "\"?");
  }
  if (next.what == Happened::kDone)
    return fault(next, "done", "an event of a block: printed, placed, ...", "");
  return std::nullopt;
}

std::optional<Fault> wrong_time(const std::vector<BlockEvent>& valid, const BlockEvent& next,
                                bool even_so) {
  constexpr std::int64_t kClocksDiffer_s = 300;
  if (next.at.utc_s > next.written.utc_s + kClocksDiffer_s)
    return fault(next, moment_text(next.at) + ", still to come", "a moment that has passed", "");
  if (even_so || next.what == Happened::kNote) return std::nullopt;
  for (const BlockEvent& e : valid)
    if (e.block == next.block && e.copy == next.copy && e.what != Happened::kNote &&
        e.at.utc_s > next.at.utc_s)
      return fault(next, moment_text(next.at) + ", before it was " + word(e.what),
                   moment_text(e.at) + " or later", "mend --when, or say --even-so");
  return std::nullopt;
}

/// Neighbours that must be there, or must not be there any more.
std::optional<Fault> neighbours(const DayPlan& plan, const Lives& all, const BlockEvent& next,
                                Happened what) {
  std::string wrong;
  if (what == Happened::kPlaced)
    for (const std::string& need : find_block(plan, next.block)->needs)
      if (!any(all, need, Standing::kPlaced)) wrong += (wrong.empty() ? "" : ", ") + need;
  if (!wrong.empty())
    return fault(next, "not in place yet: " + wrong, "what is placed before it in its place",
                 "say --even-so if it is true");
  if (what == Happened::kTakenDown)
    for (const PlannedBlock& b : plan.blocks)
      if (std::ranges::find(b.needs, next.block) != b.needs.end() &&
          any(all, b.id, Standing::kPlaced))
        wrong += (wrong.empty() ? "" : ", ") + b.id;
  if (!wrong.empty())
    return fault(next, "still in place: " + wrong, "what was placed after it taken down first",
                 "say --even-so if it is true");
  return std::nullopt;
}

Fault place_taken(const BlockEvent& next) {
  return fault(next, "another copy in its place", "its place empty",
               "record that one as taken-down or broken");
}

std::optional<Fault> wrong_step(const DayPlan& plan, const Lives& all, const BlockEvent& next,
                                bool even_so) {
  const CopyLife life = life_of(all, next.block, next.copy);
  const std::vector<Standing> allowed = before(next.what);
  if (std::ranges::find(allowed, life.standing) == allowed.end()) {
    const bool possible = may_skip(life.standing, next.what);
    if (!even_so || !possible) {
      std::string change;
      if (possible) change = "record what came before, or say --even-so";
      if (next.what == Happened::kPrinted)
        change = "a second one is " + copy_name(next.block, next.copy + 1);
      if (life.standing == Standing::kBroken)
        change = "another copy has a number: " + copy_name(next.block, next.copy + 1);
      return fault(next, word(life.standing), listed(allowed), change);
    }
  }
  if (next.what == Happened::kReprinted && !any(all, next.block, Standing::kBroken))
    return fault(next, "no broken copy of " + next.block, "one that broke",
                 "a spare is recorded as printed: " + copy_name(next.block, next.copy));
  if (next.what == Happened::kPlaced && any(all, next.block, Standing::kPlaced))
    return place_taken(next);
  return even_so ? std::nullopt : neighbours(plan, all, next, next.what);
}

/// What is left once an event is taken back: a copy that is out of its place again, or in it again.
std::optional<Fault> wrong_without(const DayPlan& plan, std::vector<BlockEvent> events,
                                   const BlockEvent& taken_back, const BlockEvent& next,
                                   bool even_so) {
  std::erase_if(events, [&](const BlockEvent& e) { return e.number == taken_back.number; });
  const Lives all = lives(plan, events);
  const bool in_place = life_of(all, next.block, next.copy).standing == Standing::kPlaced;
  if (in_place) {
    const auto placed = std::ranges::count_if(all, [&](const CopyLife& l) {
      return l.block == next.block && l.standing == Standing::kPlaced;
    });
    if (placed > 1) return place_taken(next);
  }
  if (even_so || (!in_place && taken_back.what != Happened::kPlaced)) return std::nullopt;
  return neighbours(plan, all, next, in_place ? Happened::kPlaced : Happened::kTakenDown);
}

std::optional<Fault> wrong_cancel(const DayPlan& plan, const std::vector<BlockEvent>& valid,
                                  const BlockEvent& next, bool even_so) {
  const auto it = std::ranges::find(valid, *next.cancels, &BlockEvent::number);
  const std::string number = "event " + std::to_string(*next.cancels);
  if (it == valid.end())
    return fault(next, number + ", not there, or taken back", "an event that is in force",
                 "see skewback daybook DIR list BLOCK");
  if (it->what == Happened::kNote || it->what == Happened::kChecked) return std::nullopt;
  for (const BlockEvent& e : valid)
    if (e.number > it->number && e.block == it->block && e.copy == it->copy &&
        e.what != Happened::kNote)
      return fault(
          next, number + " is followed by event " + std::to_string(e.number) + ", " + word(e.what),
          "the last event of " + copy_name(it->block, it->copy),
          "cancel " + std::to_string(e.number) + " first");
  return wrong_without(plan, valid, *it, next, even_so);
}

}  // namespace

std::string word(Happened what) {
  for (const auto& [h, w] : kHappened)
    if (h == what) return w;
  return "";
}

std::optional<Happened> happened(const std::string& word) {
  for (const auto& [h, w] : kHappened)
    if (word == w) return h;
  return std::nullopt;
}

std::vector<std::string> words_to_record() {
  std::vector<std::string> out;
  for (const auto& [h, w] : kHappened)
    if (h != Happened::kCancel) out.emplace_back(w);
  return out;
}

std::string word(Standing standing) {
  switch (standing) {
    case Standing::kNotMade:
      return "not made";
    case Standing::kPrinted:
      return "printed";
    case Standing::kCured:
      return "cured";
    case Standing::kPacked:
      return "packed";
    case Standing::kOnTheRoad:
      return "on the road";
    case Standing::kOnSite:
      return "on site";
    case Standing::kPlaced:
      return "placed";
    case Standing::kTakenDown:
      return "taken down";
    case Standing::kBroken:
      break;
  }
  return "broken";
}

std::string copy_name(const std::string& block, int copy) {
  return copy == 1 ? block : block + "/" + std::to_string(copy);
}

std::vector<BlockEvent> in_force(const std::vector<BlockEvent>& events) {
  std::set<std::int64_t> taken_back;
  for (const BlockEvent& e : events)
    if (e.cancels) taken_back.insert(*e.cancels);
  std::vector<BlockEvent> out;
  for (const BlockEvent& e : events)
    if (!e.cancels && !taken_back.contains(e.number)) out.push_back(e);
  return out;
}

std::vector<CopyLife> lives(const DayPlan& plan, const std::vector<BlockEvent>& events) {
  std::map<std::pair<std::string, int>, CopyLife> by_name;
  for (const BlockEvent& e : in_force(events)) {
    if (!of_a_block(e)) continue;
    CopyLife& life = by_name[{e.block, e.copy}];
    life.block = e.block;
    life.copy = e.copy;
    move_on(life, e);
  }
  std::vector<CopyLife> out;
  for (const PlannedBlock& block : plan.blocks)
    for (const auto& [name, life] : by_name)
      if (name.first == block.id) out.push_back(life);
  return out;
}

std::optional<Fault> objection(const DayPlan& plan, const std::vector<BlockEvent>& events,
                               const BlockEvent& next, bool even_so) {
  const std::vector<BlockEvent> valid = in_force(events);
  if (next.what == Happened::kCancel) return wrong_cancel(plan, valid, next, even_so);
  if (auto wrong = unknown(plan, next)) return wrong;
  if (auto wrong = wrong_time(valid, next, even_so)) return wrong;
  if (next.what == Happened::kNote) return std::nullopt;
  if (next.what != Happened::kDone) return wrong_step(plan, lives(plan, events), next, even_so);
  for (const BlockEvent& e : valid)
    if (e.block == next.block && e.what == Happened::kDone)
      return fault(next, "done already, event " + std::to_string(e.number), "said once",
                   "cancel " + std::to_string(e.number) + " first");
  if (even_so) return std::nullopt;
  const std::string missing = missing_before(plan, lives(plan, events), valid, next.block);
  if (missing.empty()) return std::nullopt;
  return fault(next, missing, "what the plan has before it",
               "record what came before, or say --even-so");
}

BreakCount count_broken(const std::vector<BlockEvent>& events) {
  std::set<std::pair<std::string, int>> handled, broken;
  for (const BlockEvent& e : in_force(events)) {
    const bool moved = e.what == Happened::kPacked || e.what == Happened::kShipped ||
                       e.what == Happened::kReceived || e.what == Happened::kPlaced ||
                       e.what == Happened::kTakenDown;
    if (moved || e.what == Happened::kBroken) handled.insert({e.block, e.copy});
    if (e.what == Happened::kBroken) broken.insert({e.block, e.copy});
  }
  return {static_cast<int>(handled.size()), static_cast<int>(broken.size())};
}

}  // namespace skewback
