#include "daybook/replan.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "daybook/now.hpp"

namespace skewback {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

Activity activity(const std::string& id, const std::string& block, const std::string& kind) {
  Activity a;
  a.id = id;
  a.block = block;
  a.kind = kind;
  return a;
}

void finish(Activity& a, double finish_s) {
  a.started = a.done = true;
  a.finish_s = finish_s;
}

bool is_journey(const Activity& a) { return a.kind == "journey"; }

/// What the daybook says, over the plan's own activities; then put together anew.
class Rest {
 public:
  Rest(const DayPlan& plan, const std::vector<BlockEvent>& events, const Moment& now)
      : plan_(plan), activities_(plan.network->activities), all_(lives(plan, events)) {
    out_.now_s = clock(now);
    out_.network.start = plan.network->start;
    for (const PlannedBlock& block : plan.blocks) life_[block.id] = foremost(all_, block.id);
    for (const Activity& a : activities_)
      for (const int i : a.after)
        if (a.kind == "place" && is_journey(activities_[at(i)])) load_[i].push_back(a.block);
    for (const BlockEvent& e : in_force(events))
      if (e.what == Happened::kDone)
        for (Activity& a : activities_)
          if (a.block.empty() && a.id == e.block) finish(a, clock(e.at));
  }

  Replan take() {
    for (Activity& a : activities_)
      if (!a.block.empty()) mark_block(a);
    mark_journeys();
    infer_works();
    add_done("today", "today", out_.now_s);
    for (std::size_t i = 0; i < activities_.size(); ++i) put(i);
    carry_breakages();
    return std::move(out_);
  }

 private:
  double clock(const Moment& m) const { return seconds_since(plan_.network->start, m).value_or(0); }

  /// When a copy had got so far: the first of what is at least that.
  std::optional<double> reached(const CopyLife& life, Standing standing) const {
    std::optional<double> first;
    const auto look = [&](Standing s, const std::optional<Moment>& when) {
      if (when && s >= standing && (!first || clock(*when) < *first)) first = clock(*when);
    };
    look(Standing::kPrinted, life.printed);
    look(Standing::kCured, life.cured);
    look(Standing::kOnTheRoad, life.shipped);
    look(Standing::kOnSite, life.received);
    look(Standing::kPlaced, life.placed);
    look(life.standing, life.since);
    return life.standing == Standing::kNotMade ? std::nullopt : first;
  }

  void mark_block(Activity& a) {
    const CopyLife& life = life_[a.block];
    if (a.kind == "place") {
      if (life.standing == Standing::kPlaced) finish(a, clock(life.since));
      return;
    }
    const Standing wanted = a.kind == "cure" ? Standing::kCured
                            : is_journey(a)  ? Standing::kOnSite
                                             : Standing::kPrinted;
    // of a broken one the rest is overtaken by the one that is made again
    if (const auto when = reached(life, wanted)) finish(a, *when);
    if (a.kind == "cure" && !a.done && reached(life, Standing::kPrinted)) a.started = true;
  }

  /// A lorry of no block has come with the first of its load.
  void mark_journeys() {
    for (const auto& [index, blocks] : load_) {
      Activity& a = activities_[at(index)];
      if (!a.block.empty() || a.done) continue;
      std::optional<double> came;
      for (const std::string& id : blocks) {
        const CopyLife& life = life_[id];
        if (life.standing == Standing::kBroken) continue;
        const auto when = reached(life, Standing::kOnSite);
        if (when && (!came || *when < *came)) came = when;
        if (life.shipped) left_[index] = std::max(clock(*life.shipped), left_[index]);
      }
      if (came) finish(a, *came);
      a.started = a.started || left_.contains(index);
    }
  }

  void infer_works() {
    for (std::size_t i = activities_.size(); i-- > 0;) {
      if (!activities_[i].done) continue;
      for (const int before : activities_[i].after) {
        Activity& a = activities_[at(before)];
        if (!a.block.empty() || a.done) continue;
        finish(a, activities_[i].finish_s);
        out_.taken_as_done.push_back(a.id);
      }
    }
  }

  int add(Activity a) {
    out_.network.activities.push_back(std::move(a));
    return static_cast<int>(out_.network.activities.size()) - 1;
  }

  int add_done(const std::string& id, const std::string& kind, double finish_s) {
    Activity a = activity(id, "", kind);
    finish(a, finish_s);
    return add(std::move(a));
  }

  void put(std::size_t i) {
    Activity a = activities_[i];
    for (int& before : a.after) before = now_at_[at(before)];
    if (a.done) {
      ++out_.done;
    } else if (const auto left = left_.find(static_cast<int>(i)); left != left_.end()) {
      a.after = {add_done(a.id + ", left", "left", left->second)};
    } else if (!a.started) {
      a.after.push_back(0);
      if (a.kind == "place") bring(a);
    }
    now_at_.push_back(add(std::move(a)));
  }

  /// What a block still needs that the plan's own activities do not say any more.
  void bring(Activity& place) {
    const CopyLife& life = life_[place.block];
    const PlannedBlock* block = find_block(plan_, place.block);
    if (block == nullptr) return;
    if (life.standing == Standing::kBroken) {
      Activity again = activity("again " + place.block, place.block, "again");
      for (const Activity& a : plan_.network->activities) {
        if (a.block != place.block || a.kind == "place" || is_journey(a)) continue;
        again.least_s += a.least_s;
        again.likely_s += a.likely_s;
        again.most_s += a.most_s;
      }
      for (double* s : {&again.least_s, &again.likely_s, &again.most_s}) *s += block->journey_s;
      again.after = {0};
      place.after.push_back(add(std::move(again)));
      out_.again.push_back(place.block);
      return;
    }
    if (life.standing >= Standing::kOnSite || !behind_its_lorry(place.block)) return;
    Activity own = activity("journey of " + place.block, place.block, "journey");
    own.least_s = own.likely_s = own.most_s = block->journey_s;
    own.after = {0};
    for (std::size_t k = 0; k < activities_.size() && k < now_at_.size(); ++k)
      if (activities_[k].block == place.block) own.after.push_back(now_at_[k]);
    place.after.push_back(add(std::move(own)));
  }

  bool behind_its_lorry(const std::string& id) const {
    return std::ranges::any_of(load_, [&](const auto& load) {
      return activities_[at(load.first)].done &&
             std::ranges::find(load.second, id) != load.second.end();
    });
  }

  void carry_breakages() {
    for (const PlannedBreakage& planned : plan_.breakages) {
      const auto& list = out_.network.activities;
      const auto it = std::ranges::find(list, planned.place, &Activity::id);
      if (it == list.end() || it->done) continue;
      int good = 0, broken = 0;
      for (const CopyLife& life : all_) {
        if (life.block != it->block) continue;
        ++(life.standing == Standing::kBroken ? broken : good);
      }
      Breakage b;
      b.place = static_cast<int>(it - list.begin());
      b.share = planned.share;
      b.again_s = planned.again_s;
      b.swap_s = planned.swap_s;
      b.spare = good >= 2 || (planned.spare && broken == 0);
      out_.breakages.push_back(b);
    }
  }

  const DayPlan& plan_;
  std::vector<Activity> activities_;
  std::vector<CopyLife> all_;
  std::map<std::string, CopyLife> life_;
  std::map<int, std::vector<std::string>> load_;  // blocks whose placing waits for this journey
  std::map<int, double> left_;
  std::vector<int> now_at_;  // new index of each old one
  Replan out_;
};

}  // namespace

std::optional<Replan> replanned(const DayPlan& plan, const std::vector<BlockEvent>& events,
                                const Moment& now) {
  if (!plan.network || !seconds_since(plan.network->start, now)) return std::nullopt;
  return Rest(plan, events, now).take();
}

}  // namespace skewback
