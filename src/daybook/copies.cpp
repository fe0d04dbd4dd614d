#include "daybook/copies.hpp"

#include <algorithm>

namespace skewback {
namespace {

using S = Standing;

bool broke(const CopyLife& life) { return life.standing == S::kBroken; }

/// Broken although nobody wrote that it was made: the plan's making of it is still to come.
bool was_made(const CopyLife& life) {
  if (life.standing == S::kNotMade) return false;
  return !broke(life) || life.printed || life.cured || life.shipped || life.received || life.placed;
}

int rank(S s) { return static_cast<int>(s == S::kTakenDown ? S::kOnSite : s); }

}  // namespace

int copy_of(const Activity& a) { return a.id == a.kind + " " + a.block + " again" ? 2 : 1; }

Copies::Copies(std::vector<CopyLife> lives, int planned, std::string start)
    : planned_(planned), start_(std::move(start)) {
  std::ranges::copy_if(lives, std::back_inserter(made_), was_made);
  any_broken_ = std::ranges::any_of(lives, broke);
}

double Copies::clock(const Moment& m) const { return seconds_since(start_, m).value_or(0); }

std::optional<double> Copies::when(const CopyLife& life, S standing) const {
  std::optional<double> first;
  const auto look = [&](S s, const std::optional<Moment>& at) {
    if (at && s >= standing && (!first || clock(*at) < *first)) first = clock(*at);
  };
  look(S::kPrinted, life.printed);
  look(S::kCured, life.cured);
  look(S::kOnTheRoad, life.shipped);
  look(S::kOnSite, life.received);
  look(S::kPlaced, life.placed);
  if (!broke(life)) look(life.standing, life.since);
  return first;
}

std::vector<CopyLife> Copies::in_slot(int copy) const {
  std::vector<CopyLife> out;
  if (planned_ > 1) {
    std::ranges::copy_if(made_, std::back_inserter(out),
                         [&](const CopyLife& l) { return l.copy == copy; });
    return out;
  }
  std::ranges::copy_if(made_, std::back_inserter(out), [](const CopyLife& l) { return !broke(l); });
  if (out.empty() && !made_.empty())
    out.push_back(
        *std::ranges::max_element(made_, {}, [](const CopyLife& l) { return l.since.utc_s; }));
  return out;
}

std::optional<double> Copies::reached(int copy, S standing) const {
  std::optional<double> first;
  for (const CopyLife& life : in_slot(copy)) {
    const auto at = when(life, standing);
    if (at && (!first || *at < *first)) first = at;
  }
  return first;
}

bool Copies::is_broken(int copy) const {
  const std::vector<CopyLife> slot = in_slot(copy);
  return !slot.empty() && std::ranges::all_of(slot, broke);
}

double Copies::broke_s(int copy) const {
  double last = 0;
  for (const CopyLife& life : in_slot(copy)) last = std::max(last, clock(life.since));
  return last;
}

std::optional<double> Copies::placed() const {
  for (const CopyLife& life : made_)
    if (life.standing == S::kPlaced) return clock(life.since);
  return std::nullopt;
}

std::optional<double> Copies::first(S standing) const {
  std::optional<double> first;
  for (const CopyLife& life : made_) {
    const auto at = when(life, standing);
    if (at && (!first || *at < *first)) first = at;
  }
  return first;
}

std::optional<double> Copies::last_left() const {
  std::optional<double> last;
  for (const CopyLife& life : made_)
    if (life.shipped) last = std::max(last.value_or(clock(*life.shipped)), clock(*life.shipped));
  return last;
}

Copies::Next Copies::next(bool of_the_plan) const {
  Next best;
  const auto take = [&](const Next& next) {
    const bool none = best.standing == S::kBroken;
    if (none || rank(next.standing) > rank(best.standing) ||
        (rank(next.standing) == rank(best.standing) && next.since_s < best.since_s))
      best = next;
  };
  const auto look = [&](bool slots) {
    for (const CopyLife& life : made_) {
      const bool in_plan = planned_ == 1 || life.copy <= planned_;
      if (broke(life) || in_plan != slots) continue;
      const auto& since = life.standing == S::kOnTheRoad ? life.shipped : life.printed;
      take({life.standing, in_plan ? std::min(life.copy, planned_) : 0,
            clock(since.value_or(life.since))});
    }
    for (int copy = 1; slots && copy <= planned_; ++copy)
      if (in_slot(copy).empty()) take({S::kNotMade, copy, 0});
  };
  look(true);
  if (!of_the_plan || best.standing == S::kBroken) look(false);
  return best;
}

bool Copies::any(S standing) const {
  return std::ranges::any_of(
      made_, [&](const CopyLife& l) { return !broke(l) && rank(l.standing) == rank(standing); });
}

int Copies::good() const {
  auto count =
      static_cast<int>(std::ranges::count_if(made_, [](const CopyLife& l) { return !broke(l); }));
  for (int copy = 1; copy <= planned_; ++copy)
    if (in_slot(copy).empty()) ++count;
  return count;
}

bool Copies::any_broken() const { return any_broken_; }

}  // namespace skewback
