#include "daybook/replan.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "daybook/activity_kinds.hpp"
#include "daybook/copies.hpp"
#include "daybook/made_again.hpp"
#include "daybook/once_more.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// What the daybook says, over the plan's own activities; then put together anew.
class Rest {
 public:
  Rest(const DayPlan& plan, const std::vector<BlockEvent>& events, const Moment& now)
      : plan_(plan), activities_(plan.network->activities), open_(activities_.size()) {
    const std::string& start = plan.network->start;
    out_.now_s = today_s_ = clock(now);
    out_.network.start = start;
    out_.network.calendar = plan.network->calendar;
    std::map<std::string, std::vector<CopyLife>> all;
    for (const CopyLife& life : lives(plan, events)) all[life.block].push_back(life);
    for (const PlannedBlock& block : plan.blocks)
      copies_[block.id] = Copies(all[block.id], planned_copies(plan, block.id), start);
    for (const Activity& a : activities_)
      for (const int i : a.after)
        if (a.kind == "place" && is_journey(activities_[at(i)])) {
          load_[i].push_back(a.block);
          lorry_of_[a.block] = i;
        }
    const std::vector<BlockEvent> valid = in_force(events);
    for (Activity& a : activities_)
      if (a.block.empty())
        if (const auto e = done_as_it_is(plan, valid, a.id)) finish(a, clock(e->at));
    if (const auto e = done_as_it_is(plan, valid, kCentringBack)) put_back_s_ = clock(e->at);
  }

  Replan take() {
    for (Activity& a : activities_)
      if (!a.block.empty()) mark_block(a);
    mark_journeys();
    infer_works();
    const bool placed_again = std::ranges::any_of(activities_, [&](const Activity& a) {
      return a.kind == "place" && !a.done && copies_[a.block].first(Standing::kPlaced);
    });
    const OnceMore again = stand_again(plan_, activities_, put_back_s_, placed_again);
    for (const std::string& work : again.works) std::erase(out_.taken_as_done, work);
    out_.once_more = again.works;
    out_.without_times = again.without_times;
    if (std::ranges::none_of(activities_, &Activity::started)) today_s_ = std::max(0.0, today_s_);
    end_cures_of_broken();
    add_done("today", "today", today_s_);
    leave_out_spares();
    for (std::size_t i = 0; i < activities_.size(); ++i) put(i);
    forget_what_stays_behind();
    carry_breakages();
    note_end();
    return std::move(out_);
  }

 private:
  double clock(const Moment& m) const { return seconds_since(plan_.network->start, m).value_or(0); }

  void mark_block(Activity& a) {
    const Copies& copies = copies_[a.block];
    if (a.kind == "place") {
      if (const auto when = copies.placed()) finish(a, *when);
      return;
    }
    if (is_journey(a)) {
      if (const auto when = copies.first(Standing::kOnSite)) finish(a, *when);
      return;
    }
    const int copy = copy_of(a);
    const auto when =
        copies.reached(copy, a.kind == "cure" ? Standing::kCured : Standing::kPrinted);
    if (when) finish(a, *when);
    if (a.kind == "cure" && !a.done && copies.reached(copy, Standing::kPrinted)) a.started = true;
  }

  /// A lorry of no block has come with the first of its load.
  void mark_journeys() {
    for (const auto& [index, blocks] : load_) {
      Activity& a = activities_[at(index)];
      if (!a.block.empty() || a.done) continue;
      std::optional<double> came;
      for (const std::string& id : blocks) {
        const auto when = copies_[id].first(Standing::kOnSite);
        if (when && (!came || *when < *came)) came = when;
        if (const auto left = copies_[id].last_left())
          left_[index] = std::max(*left, left_.contains(index) ? left_[index] : *left);
      }
      if (came) finish(a, *came);
      a.started = a.started || left_.contains(index);
    }
  }

  void infer_works() {
    for (std::size_t i = activities_.size(); i-- > 0;) {
      const Activity& proof = activities_[i];
      std::optional<double> when;
      if (proof.kind == "place") when = copies_[proof.block].first(Standing::kPlaced);
      if (proof.done) when = proof.finish_s;
      if (!when) continue;
      for (const int before : proof.after) {
        Activity& a = activities_[at(before)];
        if (!a.block.empty() || a.done) continue;
        finish(a, *when);
        out_.taken_as_done.push_back(a.id);
      }
    }
  }

  /// A lorry leaves no sooner because something that was to go with it broke while it cured.
  void end_cures_of_broken() {
    std::set<int> gone;
    for (const auto& [index, blocks] : load_)
      if (activities_[at(index)].started)
        gone.insert(activities_[at(index)].after.begin(), activities_[at(index)].after.end());
    for (std::size_t i = 0; i < activities_.size(); ++i) {
      Activity& a = activities_[i];
      if (a.kind != "cure" || a.done || !copies_[a.block].is_broken(copy_of(a))) continue;
      const double printed = copies_[a.block].reached(copy_of(a), Standing::kPrinted).value_or(0);
      if (gone.contains(static_cast<int>(i)) || printed + a.most_s <= out_.now_s)
        finish(a, copies_[a.block].broke_s(copy_of(a)));
      else
        a.id += ", broken";
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

  /// What it waits for; of what is done before its turn, what that should have waited for.
  std::vector<int> waits_for(const Activity& a) const {
    std::set<int> out;
    for (const int before : a.after) {
      out.insert(now_at_[at(before)]);
      if (same_chain(activities_[at(before)], a))
        out.insert(open_[at(before)].begin(), open_[at(before)].end());
    }
    return {out.begin(), out.end()};
  }

  void put(std::size_t i) {
    Activity a = activities_[i];
    if (a.done) {
      for (const int before : a.after)
        if (same_chain(activities_[at(before)], a)) {
          if (!activities_[at(before)].done) open_[i].insert(now_at_[at(before)]);
          open_[i].insert(open_[at(before)].begin(), open_[at(before)].end());
        }
    }
    a.after = waits_for(a);
    room_ends_ = out_.network.activities.size() + room_before(a);
    if (a.done && is_made(a) && copy_of(a) == 1) put_back_on_the_table(a.block, i);
    if (a.done) {
      ++out_.done;
    } else if (const auto left = left_.find(static_cast<int>(i)); left != left_.end()) {
      a.after = {add_done(a.id + ", left", "left", left->second)};
    } else if (!a.started) {
      a.after.push_back(0);
      if (a.kind == "place") bring(a);
    }
    leave_room(room_ends_);
    if (is_left_out(a)) {
      a.id.clear();
      a.least_s = a.likely_s = a.most_s = 0;
    }
    now_at_.push_back(add(std::move(a)));
  }

  /// The plan's activities, and what brings a block, keep their places, and with them their random
  /// numbers, whatever happened.
  void leave_room(std::size_t until) {
    while (out_.network.activities.size() < until) add_done("", "", today_s_);
  }
  int add_last(Activity a) {
    leave_room(room_ends_ - 1);
    return add(std::move(a));
  }

  Activity journey_of(const std::string& block, const std::string& id) const {
    Activity own = activity(id, block, "journey");
    if (const auto it = lorry_of_.find(block); it != lorry_of_.end())
      add_times(own, activities_[at(it->second)]);
    else if (const PlannedBlock* planned = find_block(plan_, block))
      own.least_s = own.likely_s = own.most_s = planned->journey_s;
    own.after = {0};
    return own;
  }

  struct Coming {
    bool here = false;  // or on its way with its lorry: nothing is to be done
    bool gone = false;  // its lorry has left
    Copies::Next next;
  };
  Coming coming(const std::string& block) {
    const Copies& copies = copies_[block];
    const auto lorry = lorry_of_.find(block);
    const Activity* planned = lorry == lorry_of_.end() ? nullptr : &activities_[at(lorry->second)];
    const bool gone = planned != nullptr && planned->started;
    if (copies.any(Standing::kOnSite) ||
        (gone && !planned->done && copies.any(Standing::kOnTheRoad)))
      return {true, gone, {}};
    return {false, gone, copies.next(!gone)};
  }

  /// A spare that is not made, that no lorry is to take any more and that nothing waits for is in
  /// the way of what is missing.
  void leave_out_spares() {
    for (const Activity& a : activities_) {
      if (!is_made(a) || copy_of(a) != 2 || a.done) continue;
      const Copies& copies = copies_[a.block];
      const Coming how = coming(a.block);
      const bool waited_for = !copies.placed() && !how.here && how.next.copy == 2;
      if (!how.gone || waited_for) continue;
      left_out_.insert(a.block);
      out_.spares_left_out.push_back(a.block);
    }
  }
  bool is_left_out(const Activity& a) const {
    return copy_of(a) == 2 && left_out_.contains(a.block);
  }

  /// What is made again takes the place on the table that its first copy had: what is still to be
  /// printed before that is placed before it.
  void put_back_on_the_table(const std::string& block, std::size_t first) {
    const auto place = std::ranges::find(activities_, "place " + block, &Activity::id);
    const Coming how = coming(block);
    if (place == activities_.end() || place->done || how.here || made_again_.contains(block) ||
        how.next.standing != Standing::kBroken)
      return;
    Activity again = made_once_more(plan_, block);
    const bool on_table = again.kind == "print";
    if (on_table) again.after.assign(open_[first].begin(), open_[first].end());
    again.after.push_back(0);
    made_again_[block] = add(std::move(again));
    if (on_table) open_[first] = {made_again_[block]};
  }

  /// What a block still needs that the plan's own activities do not say any more.
  void bring(Activity& place) {
    const auto [here, gone, next] = coming(place.block);
    if (here) return;
    if (next.standing == Standing::kBroken) return make_again(place);
    const bool cures = next.standing == Standing::kPrinted && !plan_makes(plan_, place.block) &&
                       cured_once_more(plan_, place.block, "").likely_s > 0;
    if (!gone && next.copy != 0 && !cures) return;  // it goes with its lorry
    Activity own = journey_of(place.block, "journey of " + place.block);
    if (next.standing == Standing::kOnTheRoad)
      own.after = {add_done(own.id + ", left", "left", next.since_s)};
    else if (next.standing == Standing::kNotMade || next.standing == Standing::kPrinted)
      own.after.push_back(next.copy != 0 && !cures ? last_made(place.block, next.copy)
                                                   : cure_of_one_more(place.block, next.since_s));
    place.after.push_back(add_last(std::move(own)));
  }

  /// Where the last of its making stands now; "today", if the plan makes it nowhere.
  int last_made(const std::string& block, int copy) const {
    int last = 0;
    for (std::size_t k = 0; k < now_at_.size(); ++k) {
      const Activity& a = activities_[k];
      if (a.block == block && a.kind != "place" && !is_journey(a) && copy_of(a) == copy)
        last = now_at_[k];
    }
    return last;
  }

  int cure_of_one_more(const std::string& block, double printed_s) {
    Activity cure = cured_once_more(plan_, block, "cure one more " + block);
    cure.started = true;
    cure.after = {add_done("one more " + block + " made", "made", printed_s)};
    return add(std::move(cure));
  }

  void make_again(Activity& place) {
    Activity again = journey_of(place.block, "again " + place.block);
    again.kind = "again";
    Activity cure = cured_once_more(plan_, place.block, "cure again " + place.block);
    cure.after = {0};
    if (!plan_makes(plan_, place.block)) {
      Activity making = made_once_more(plan_, place.block);
      making.after = {0};
      if (making.likely_s > 0) cure.after.push_back(add(std::move(making)));
    }
    if (const auto made = made_again_.find(place.block); made != made_again_.end())
      cure.after.push_back(made->second);
    again.after.push_back(add(std::move(cure)));
    place.after.push_back(add_last(std::move(again)));
    out_.again.push_back(place.block);
  }

  /// What still cures, left behind by its lorry, and is no longer needed is not the end of the
  /// works.
  void forget_what_stays_behind() {
    std::set<int> needed, was_needed;
    for (const Activity& a : out_.network.activities)
      if (!a.done) needed.insert(a.after.begin(), a.after.end());
    for (const Activity& a : activities_) was_needed.insert(a.after.begin(), a.after.end());
    for (std::size_t i = 0; i < activities_.size(); ++i) {
      Activity& a = out_.network.activities[at(now_at_[i])];
      if (a.kind == "cure" && !a.done && was_needed.contains(static_cast<int>(i)) &&
          !needed.contains(now_at_[i])) {
        a.least_s = a.likely_s = a.most_s = 0;
        forgotten_.insert(now_at_[i]);
      }
    }
  }

  void note_end() {
    const std::vector<Activity>& all = out_.network.activities;
    std::optional<std::size_t> last;
    for (std::size_t i = 1; i < all.size(); ++i) {
      if (all[i].id.empty() || forgotten_.contains(static_cast<int>(i))) continue;
      if (!all[i].done) return;
      if (!last || all[i].finish_s >= all[*last].finish_s) last = i;
    }
    if (last) out_.ended = Replan::End{all[*last].id, all[*last].finish_s};
  }

  void carry_breakages() {
    for (const PlannedBreakage& planned : plan_.breakages) {
      const auto& list = out_.network.activities;
      const auto it = std::ranges::find(list, planned.place, &Activity::id);
      if (it == list.end() || it->done) continue;
      const Copies& copies = copies_[it->block];
      Breakage b;
      b.place = static_cast<int>(it - list.begin());
      b.share = planned.share;
      b.again_s = planned.again_s;
      b.swap_s = planned.swap_s;
      b.cure_s = planned.cure_s;
      b.journey_s = planned.journey_s;
      const int coming_not = left_out_.contains(it->block) ? 1 : 0;
      b.spare = copies.good() - coming_not >= 2 ||
                (planned.spare && coming_not == 0 && !copies.any_broken());
      out_.breakages.push_back(b);
    }
  }

  const DayPlan& plan_;
  std::vector<Activity> activities_;
  std::map<std::string, Copies> copies_;          // by block
  std::map<int, std::vector<std::string>> load_;  // blocks whose placing waits for this journey
  std::map<std::string, int> lorry_of_;           // the other way round
  std::map<int, double> left_;
  std::vector<std::set<int>> open_;  // of what is done: new indices of what comes before it, undone
  std::vector<int> now_at_;          // new index of each old one
  std::map<std::string, int> made_again_;  // by block: its making once more
  std::set<std::string> left_out_;         // blocks whose planned spare is not made for now
  std::set<int> forgotten_;                // new indices of what stays behind
  std::optional<double> put_back_s_;       // the centring
  double today_s_ = 0;                     // before which nothing that is left starts
  std::size_t room_ends_ = 0;
  Replan out_;
};

}  // namespace

std::optional<Replan> replanned(const DayPlan& plan, const std::vector<BlockEvent>& events,
                                const Moment& now) {
  if (!plan.network || !seconds_since(plan.network->start, now)) return std::nullopt;
  return Rest(plan, events, now).take();
}

}  // namespace skewback
