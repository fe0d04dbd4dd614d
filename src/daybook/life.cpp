#include "daybook/life.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <utility>

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
      life.checked = false;  // a journey may crack it
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
      life.checked = false;
      break;
    case Happened::kBroken:
      stand(Standing::kBroken);
      life.checked = false;
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
