#include "erect/schedule.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/parallel.hpp"
#include "erect/dates.hpp"
#include "erect/draw.hpp"
#include "erect/normal.hpp"

namespace skewback {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

double variance(const Network& network, const Activity& a) {
  const double sd =
      (a.most_s - a.least_s) / 6 * (runs_every_day(a) ? 1 : network.calendar.stretch());
  return a.done ? 0 : sd * sd;
}

/// Latest finishes that do not delay the whole.
std::vector<double> latest_finishes(const Network& network, const std::vector<double>& mean_s,
                                    double last) {
  std::vector<double> late(network.activities.size(), last);
  for (std::size_t i = late.size(); i-- > 0;) {
    if (network.activities[i].done) continue;  // waits for nothing any more
    for (const int before : network.activities[i].after)
      late[at(before)] =
          std::min(late[at(before)], begun_at(network, network.activities[i], late[i], mean_s[i]));
  }
  return late;
}

/// Back from the last to finish, each time to what was waited for; of equals the least certain.
std::vector<int> critical_path(const Network& network, const std::vector<double>& finish_s) {
  const auto later = [&](int a, int b) {
    const double gap = finish_s[at(a)] - finish_s[at(b)];
    if (gap != 0) return gap > 0;
    return variance(network, network.activities[at(a)]) >
           variance(network, network.activities[at(b)]);
  };
  std::vector<int> path, choice(network.activities.size());
  std::iota(choice.begin(), choice.end(), 0);
  while (!choice.empty()) {
    int best = choice.front();
    for (const int i : choice) best = later(i, best) ? i : best;
    path.push_back(best);
    if (network.activities[at(best)].done) break;
    choice = network.activities[at(best)].after;
  }
  std::ranges::reverse(path);
  return path;
}

struct Chunk {
  std::vector<int> critical;
  long broken = 0;
};

void draw_chunk(const Network& network, const std::vector<Breakage>& breakages,
                const ProgrammeDraws& source, std::size_t from, std::size_t to,
                std::vector<double>& finish_of_draw, Chunk& chunk) {
  std::vector<double> duration, finish;
  std::vector<Wait> waits(network.activities.size());
  std::vector<char> critical, broken;
  chunk.critical.assign(network.activities.size(), 0);
  for (std::size_t draw = from; draw < to; ++draw) {
    source.durations(draw, duration);
    source.broken(draw, breakages, broken);
    for (std::size_t k = 0; k < breakages.size(); ++k) {
      const Breakage& b = breakages[k];
      waits[at(b.place)] = broken[k] == 0 ? Wait{} : wait_of(b, b.spare);
      chunk.broken += broken[k];
    }
    earliest_finishes(network, duration, waits, finish);
    finish_of_draw[draw] = latest(finish);
    mark_critical(network, finish, critical);
    for (std::size_t i = 0; i < critical.size(); ++i) chunk.critical[i] += critical[i];
  }
}

void sum_up(std::vector<double> finish_s, Draws& draws) {
  std::ranges::sort(finish_s);
  const auto n = static_cast<double>(finish_s.size());
  draws.mean_s = std::accumulate(finish_s.begin(), finish_s.end(), 0.0) / n;
  double squares = 0;
  for (const double s : finish_s) squares += (s - draws.mean_s) * (s - draws.mean_s);
  draws.sd_s = n > 1 ? std::sqrt(squares / (n - 1)) : 0;
  draws.finish_s = std::move(finish_s);
}

}  // namespace

bool runs_every_day(const Activity& activity) { return activity.kind == "cure"; }

double done_at(const Network& network, const Activity& activity, double from_s, double duration_s) {
  return runs_every_day(activity) ? from_s + duration_s
                                  : network.calendar.finish(from_s, duration_s);
}

double begun_at(const Network& network, const Activity& activity, double finish_s,
                double duration_s) {
  return runs_every_day(activity) ? finish_s - duration_s
                                  : network.calendar.begin(finish_s, duration_s);
}

std::string last_date(const Network& network, double s) {
  return date_after(network.start, std::max(0.0, s - 1));
}

std::string done_date(const Network& network, double s) {
  const double at_s = network.calendar.on_a_worked_day(s);
  return at_s > s ? date_after(network.start, at_s) : last_date(network, at_s);
}

PertResult pert(const Network& network) {
  PertResult result;
  for (const Activity& a : network.activities)
    result.mean_s.push_back(pert_mean(a.least_s, a.likely_s, a.most_s));
  std::vector<double> finish;
  earliest_finishes(network, result.mean_s, {}, finish);
  result.duration_s = latest(finish);
  const std::vector<double> late = latest_finishes(network, result.mean_s, result.duration_s);
  for (std::size_t i = 0; i < late.size(); ++i)
    result.float_s.push_back(runs_every_day(network.activities[i])
                                 ? late[i] - finish[i]
                                 : network.calendar.work_between(finish[i], late[i]));
  result.critical = critical_path(network, finish);
  double sum = 0;
  for (const int i : result.critical) sum += variance(network, network.activities[at(i)]);
  result.sd_s = std::sqrt(sum);
  return result;
}

std::vector<double> finishes(const Network& network, const std::vector<double>& duration_s) {
  std::vector<double> finish_s;
  earliest_finishes(network, duration_s, {}, finish_s);
  return finish_s;
}

double chance_by(const PertResult& result, double seconds) {
  if (!(result.sd_s > 0)) return seconds >= result.duration_s ? 1 : 0;
  return normal_chance((seconds - result.duration_s) / result.sd_s);
}

double finish_at(const PertResult& result, double chance) {
  if (!(result.sd_s > 0)) return result.duration_s;
  return result.duration_s + result.sd_s * normal_point(chance);
}

double Draws::at(double share) const {
  if (finish_s.empty()) return 0;
  const double place = std::clamp(share, 0.0, 1.0) * static_cast<double>(finish_s.size() - 1);
  const auto i = static_cast<std::size_t>(place);
  const std::size_t next = std::min(i + 1, finish_s.size() - 1);
  return finish_s[i] + (place - static_cast<double>(i)) * (finish_s[next] - finish_s[i]);
}

Draws draw_programme(const Network& network, const std::vector<Breakage>& breakages, int draws,
                     std::uint64_t seed, const Progress& progress) {
  Draws result;
  result.critical_share.assign(network.activities.size(), 0.0);
  if (draws <= 0) return result;
  const auto n = static_cast<std::size_t>(draws);
  const std::size_t size = std::max<std::size_t>(256, (n + 511) / 512);
  const ProgrammeDraws source(network, seed);
  std::vector<double> finish(n);
  std::vector<Chunk> chunks((n + size - 1) / size);
  std::atomic<std::size_t> done = 0;
  for_each_index(chunks.size(), [&](std::size_t c) {
    draw_chunk(network, breakages, source, c * size, std::min(n, (c + 1) * size), finish,
               chunks[c]);
    progress.checkpoint("erect: programme",
                        static_cast<double>(++done) / static_cast<double>(chunks.size()));
  });
  long broken = 0;
  for (const Chunk& chunk : chunks) {
    broken += chunk.broken;
    for (std::size_t i = 0; i < chunk.critical.size(); ++i)
      result.critical_share[i] += chunk.critical[i];
  }
  for (double& share : result.critical_share) share /= static_cast<double>(n);
  result.broken_mean = static_cast<double>(broken) / static_cast<double>(n);
  sum_up(std::move(finish), result);
  return result;
}

}  // namespace skewback
