#include "erect/draw.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace skewback {
namespace {

constexpr std::uint32_t kDurations = 0, kBreakages = 1;  // streams

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// When all that it waits for is done.
double ready_s(const Activity& activity, const std::vector<double>& finish_s) {
  if (activity.after.empty()) return 0;
  double ready = finish_s[at(activity.after.front())];  // before the start, where work was early
  for (const int before : activity.after) ready = std::max(ready, finish_s[at(before)]);
  return ready;
}

}  // namespace

Wait wait_of(const Breakage& breakage, bool spared) {
  const double made_s = breakage.again_s - breakage.cure_s - breakage.journey_s;
  return spared ? Wait{breakage.swap_s, 0, 0} : Wait{made_s, breakage.cure_s, breakage.journey_s};
}

void earliest_finishes(const Network& network, const std::vector<double>& duration_s,
                       const std::vector<Wait>& waits, std::vector<double>& finish_s) {
  const std::size_t n = network.activities.size();
  finish_s.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Activity& activity = network.activities[i];
    if (activity.done) {
      finish_s[i] = activity.finish_s;
      continue;
    }
    double from_s = ready_s(activity, finish_s);
    if (!waits.empty()) {
      const Wait& wait = waits[i];
      from_s = network.calendar.finish(from_s, wait.work_s) + wait.every_day_s;
      from_s = network.calendar.finish(from_s, wait.then_s);
    }
    finish_s[i] = done_at(network, activity, from_s, duration_s[i]);
  }
}

double latest(const std::vector<double>& finish_s) {
  return finish_s.empty() ? 0 : *std::ranges::max_element(finish_s);
}

void mark_critical(const Network& network, const std::vector<double>& finish_s,
                   std::vector<char>& critical) {
  const std::size_t n = network.activities.size();
  critical.assign(n, 0);
  const double last = latest(finish_s);
  for (std::size_t i = n; i-- > 0;) {
    const Activity& activity = network.activities[i];
    if (finish_s[i] == last) critical[i] = 1;
    if (critical[i] == 0 || activity.done) continue;
    const double ready = ready_s(activity, finish_s);
    for (const int before : activity.after) {
      if (finish_s[at(before)] == ready) critical[at(before)] = 1;
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (network.activities[i].done) critical[i] = 0;
  }
}

ProgrammeDraws::ProgrammeDraws(const Network& network, std::uint64_t seed)
    : network_(&network), seed_(seed) {
  std::map<std::pair<double, double>, const BetaTable*> known;
  for (const Activity& a : network.activities) {
    Shape shape{a.likely_s, 0, nullptr};
    const double range = a.most_s - a.least_s;
    if (range > 0 && !a.done) {
      // rounded, so that the same three times in other units share a table
      const double mode = std::round(1e9 * (a.likely_s - a.least_s) / range) * 1e-9;
      const std::pair powers(1 + 4 * mode, 1 + 4 * (1 - mode));
      const BetaTable*& table = known[powers];
      if (table == nullptr) {
        tables_.push_back(std::make_unique<BetaTable>(powers.first, powers.second));
        table = tables_.back().get();
      }
      shape = {a.least_s, range, table};
    }
    shapes_.push_back(shape);
  }
}

void ProgrammeDraws::durations(std::uint64_t draw, std::vector<double>& duration_s) const {
  duration_s.resize(shapes_.size());
  fill_even(seed_, draw, kDurations, duration_s);
  for (std::size_t i = 0; i < shapes_.size(); ++i) {
    const Shape& shape = shapes_[i];
    duration_s[i] = shape.table == nullptr
                        ? shape.least_s
                        : shape.least_s + shape.range_s * shape.table->at(duration_s[i]);
  }
}

void ProgrammeDraws::broken(std::uint64_t draw, const std::vector<Breakage>& breakages,
                            std::vector<char>& is_broken) const {
  is_broken.assign(breakages.size(), 0);
  if (breakages.empty()) return;
  std::vector<double> chance(network_->activities.size());
  fill_even(seed_, draw, kBreakages, chance);
  for (std::size_t k = 0; k < breakages.size(); ++k) {
    const bool placed = network_->activities[at(breakages[k].place)].done;
    is_broken[k] = !placed && chance[at(breakages[k].place)] < breakages[k].share ? 1 : 0;
  }
}

}  // namespace skewback
