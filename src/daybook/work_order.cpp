#include "daybook/work_order.hpp"

#include <algorithm>
#include <set>

namespace skewback {
namespace {

constexpr std::size_t kNamed = 3;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Placings that come before an activity, through placings and works alone.
struct Before {
  std::vector<std::string> blocks, works;
};
Before before(const Network& network, int activity) {
  Before out;
  std::set<int> seen;
  std::vector<int> open = network.activities[at(activity)].after;
  while (!open.empty()) {
    const int i = open.back();
    open.pop_back();
    if (!seen.insert(i).second) continue;
    const Activity& a = network.activities[at(i)];
    const bool place = a.kind == "place";
    if (place) out.blocks.push_back(a.block);
    if (!place && !(a.block.empty() && a.kind != "journey")) continue;
    if (!place) out.works.push_back(a.id);
    open.insert(open.end(), a.after.begin(), a.after.end());
  }
  return out;
}

int index_of(const Network& network, const std::string& id) {
  const auto it = std::ranges::find(network.activities, id, &Activity::id);
  return it == network.activities.end() ? -1 : static_cast<int>(it - network.activities.begin());
}

}  // namespace

std::optional<BlockEvent> done_as_it_is(const DayPlan& plan,
                                        const std::vector<BlockEvent>& in_force,
                                        const std::string& work) {
  const std::string undoing = undone_by(plan, work);
  std::optional<BlockEvent> last;
  for (const BlockEvent& e : in_force) {
    if (e.what != Happened::kDone) continue;
    if (e.block == work) last = e;
    if (e.block == undoing) last.reset();
  }
  return last;
}

std::optional<BlockEvent> done_of_kind(const DayPlan& plan, const std::vector<BlockEvent>& in_force,
                                       const std::string& kind) {
  const std::string work = work_of_kind(plan, kind);
  return work.empty() ? std::nullopt : done_as_it_is(plan, in_force, work);
}

std::vector<BlockEvent> done_after(const DayPlan& plan, const std::vector<BlockEvent>& in_force,
                                   const std::string& work) {
  std::vector<BlockEvent> out;
  if (!plan.network) return out;
  for (std::size_t i = 0; i < plan.network->activities.size(); ++i) {
    const Activity& a = plan.network->activities[i];
    if (!a.block.empty()) continue;
    const Before first = before(*plan.network, static_cast<int>(i));
    if (std::ranges::find(first.works, work) == first.works.end()) continue;
    if (const auto done = done_as_it_is(plan, in_force, a.id)) out.push_back(*done);
  }
  return out;
}

std::vector<std::string> works_not_done(const DayPlan& plan,
                                        const std::vector<BlockEvent>& in_force,
                                        const std::string& block) {
  if (!plan.network) return {};
  const std::vector<Activity>& all = plan.network->activities;
  const auto place = std::ranges::find_if(
      all, [&](const Activity& a) { return a.kind == "place" && a.block == block; });
  if (place == all.end()) return {};
  const std::vector<std::string> works =
      before(*plan.network, static_cast<int>(place - all.begin())).works;
  std::set<std::string> proved;
  for (const std::string& work : works) {
    if (!done_as_it_is(plan, in_force, work)) continue;
    proved.insert(work);
    const Before first = before(*plan.network, index_of(*plan.network, work));
    proved.insert(first.works.begin(), first.works.end());
  }
  std::vector<std::string> missing;
  for (const Activity& a : all)
    if (std::ranges::find(works, a.id) != works.end() && !proved.contains(a.id))
      missing.push_back(a.id);
  return missing;
}

std::string few(const std::vector<std::string>& names) {
  std::string words;
  for (std::size_t k = 0; k < std::min(names.size(), kNamed); ++k)
    words += (k == 0 ? "" : ", ") + names[k];
  return names.size() <= kNamed ? words
                                : words + " and " + std::to_string(names.size() - kNamed) + " more";
}

std::string missing_before(const DayPlan& plan, const std::vector<CopyLife>& lives,
                           const std::vector<BlockEvent>& in_force, const std::string& work) {
  if (!plan.network) return "";
  const int activity = index_of(*plan.network, work);
  if (activity < 0) return "";
  const Before first = before(*plan.network, activity);
  if (first.blocks.empty()) return "";  // footings, centring: what follows them tells
  for (const std::string& id : first.works) {
    if (before(*plan.network, index_of(*plan.network, id)).blocks.empty()) continue;
    if (!done_as_it_is(plan, in_force, id)) return id + " is not recorded as done";
  }
  std::vector<std::string> missing;
  for (const PlannedBlock& block : plan.blocks) {
    if (std::ranges::find(first.blocks, block.id) == first.blocks.end()) continue;
    const bool placed = std::ranges::any_of(lives, [&](const CopyLife& life) {
      return life.block == block.id && life.standing == Standing::kPlaced;
    });
    if (!placed) missing.push_back(block.id);
  }
  if (missing.empty()) return "";
  return few(missing) + (missing.size() == 1 ? " is not in place" : " are not in place");
}

}  // namespace skewback
