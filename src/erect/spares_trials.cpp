// Trials of spares on draws that all choices share: only what is broken, and whether it is there
// twice, differs.

#include <algorithm>
#include <numeric>

#include "base/parallel.hpp"
#include "erect/draw.hpp"
#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

constexpr int kRandomOrders = 16;
constexpr int kValueDraws = 1000;      // each tries every block
constexpr std::uint32_t kShuffle = 2;  // stream of random numbers
constexpr double kNoDelay = 1e-9;      // of the whole: rounding

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Blocks that break in each draw, and how long the works take for any choice of spares.
class Trials {
 public:
  Trials(const Network& network, const std::vector<Breakage>& breakages, int draws,
         std::uint64_t seed)
      : network_(network),
        breakages_(breakages),
        duration_(at(std::max(draws, 1))),
        broken_(duration_.size()) {
    const ProgrammeDraws source(network, seed);
    for_each_index(duration_.size(), [&](std::size_t d) {
      std::vector<char> is_broken;
      source.durations(d, duration_[d]);
      source.broken(d, breakages, is_broken);
      for (std::size_t k = 0; k < is_broken.size(); ++k) {
        if (is_broken[k] != 0) broken_[d].push_back(k);
      }
    });
  }

  [[nodiscard]] std::size_t draws() const { return duration_.size(); }
  [[nodiscard]] const std::vector<std::size_t>& broken(std::size_t draw) const {
    return broken_[draw];
  }
  [[nodiscard]] double finish(std::size_t draw, const std::vector<std::size_t>& broken,
                              const std::vector<char>& spared) const {
    std::vector<Wait> waits(network_.activities.size());
    std::vector<double> finish_s;
    for (const std::size_t k : broken)
      waits[at(breakages_[k].place)] = wait_of(breakages_[k], spared[k] != 0);
    earliest_finishes(network_, duration_[draw], waits, finish_s);
    return latest(finish_s);
  }

 private:
  const Network& network_;
  const std::vector<Breakage>& breakages_;
  std::vector<std::vector<double>> duration_;
  std::vector<std::vector<std::size_t>> broken_;
};

/// Finishes that no choice changes: nothing broken, all of it spared, none of it spared.
struct Ends {
  double whole_s = 0, swapped_s = 0, unspared_s = 0;
};

std::vector<Ends> ends_of(const Trials& trials, std::size_t blocks) {
  std::vector<Ends> ends(trials.draws());
  const std::vector<char> all(blocks, 1), none(blocks, 0);
  for_each_index(ends.size(), [&](std::size_t d) {
    const std::vector<std::size_t>& broken = trials.broken(d);
    if (broken.empty()) return;
    ends[d] = {trials.finish(d, {}, all), trials.finish(d, broken, all),
               trials.finish(d, broken, none)};
  });
  return ends;
}

struct Curve {
  std::vector<double> delay_s, late_share;  // for 0, 1, 2, ... spares
};

/// What each further spare changes in one draw: nothing unless its block breaks there.
void add_draw(const Trials& trials, const std::vector<Ends>& ends, std::size_t draw,
              const std::vector<std::size_t>& rank, std::vector<double>& delay_s,
              std::vector<double>& late) {
  const std::size_t n = rank.size();
  std::vector<std::size_t> broken = trials.broken(draw);
  if (broken.empty()) return;
  std::ranges::sort(broken, {}, [&](std::size_t k) { return rank[k]; });
  const auto& [whole, swapped, unspared] = ends[draw];
  std::vector<char> spared(n, 0);
  std::size_t from = 0;
  for (std::size_t next = 0; next <= broken.size(); ++next) {
    const double finish = next == 0               ? unspared
                          : next == broken.size() ? swapped
                                                  : trials.finish(draw, broken, spared);
    const std::size_t to = next < broken.size() ? rank[broken[next]] : n;
    for (std::size_t s = from; s <= to; ++s) {
      delay_s[s] += finish - whole;
      late[s] += finish - swapped > kNoDelay * whole ? 1 : 0;
    }
    from = to + 1;
    if (next < broken.size()) spared[broken[next]] = 1;
  }
}

Curve curve_of(const Trials& trials, const std::vector<Ends>& ends,
               const std::vector<std::size_t>& order) {
  std::vector<std::size_t> rank(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[order[i]] = i;
  Curve curve{std::vector<double>(order.size() + 1, 0.0),
              std::vector<double>(order.size() + 1, 0.0)};
  for (std::size_t d = 0; d < trials.draws(); ++d)
    add_draw(trials, ends, d, rank, curve.delay_s, curve.late_share);
  for (double& s : curve.delay_s) s /= static_cast<double>(trials.draws());
  for (double& s : curve.late_share) s /= static_cast<double>(trials.draws());
  return curve;
}

/// Fisher and Yates' shuffle.
std::vector<std::size_t> shuffled(std::vector<std::size_t> order, std::uint64_t seed, int which) {
  for (std::size_t i = order.size(); i-- > 1;) {
    const double u =
        even(seed, static_cast<std::uint64_t>(which), kShuffle, static_cast<std::uint32_t>(i));
    std::swap(order[i], order[static_cast<std::size_t>(u * static_cast<double>(i + 1))]);
  }
  return order;
}

}  // namespace

void value_spares(const Network& network, const std::vector<Breakage>& breakages, int draws,
                  std::uint64_t seed, std::vector<BlockRisk>& risks) {
  const Trials trials(network, breakages, std::min(draws, kValueDraws), seed);
  for_each_index(risks.size(), [&](std::size_t k) {
    double sum = 0;
    std::vector<char> spared(breakages.size(), 0);
    for (std::size_t d = 0; d < trials.draws(); ++d) {
      std::vector<std::size_t> broken = trials.broken(d);
      if (std::ranges::find(broken, k) == broken.end()) broken.push_back(k);
      spared[k] = 0;
      sum += trials.finish(d, broken, spared);
      spared[k] = 1;
      sum -= trials.finish(d, broken, spared);
    }
    risks[k].spared_s = breakages[k].share * sum / static_cast<double>(trials.draws());
  });
}

std::vector<SparesTrial> try_spares(const Network& network, const std::vector<Breakage>& breakages,
                                    const std::vector<double>& mass_kg, int draws,
                                    std::uint64_t seed) {
  const Trials trials(network, breakages, draws, seed);
  std::vector<std::size_t> chosen(breakages.size());
  std::iota(chosen.begin(), chosen.end(), std::size_t{0});
  std::vector<std::size_t> by_mass = chosen;
  std::ranges::stable_sort(by_mass, std::greater<>(), [&](std::size_t k) { return mass_kg[k]; });
  std::vector<std::vector<std::size_t>> orders{chosen, by_mass};
  for (int r = 0; r < kRandomOrders; ++r) orders.push_back(shuffled(chosen, seed, r));
  const std::vector<Ends> ends = ends_of(trials, breakages.size());
  std::vector<Curve> curves(orders.size());
  for_each_index(orders.size(),
                 [&](std::size_t i) { curves[i] = curve_of(trials, ends, orders[i]); });

  std::vector<SparesTrial> result(breakages.size() + 1);
  for (std::size_t s = 0; s < result.size(); ++s) {
    SparesTrial& trial = result[s];
    trial.spares = static_cast<int>(s);
    trial.expected_delay_s = curves[0].delay_s[s];
    trial.late_share = curves[0].late_share[s];
    trial.by_mass_s = curves[1].delay_s[s];
    for (std::size_t r = 2; r < curves.size(); ++r)
      trial.at_random_s += curves[r].delay_s[s] / kRandomOrders;
  }
  return result;
}

}  // namespace skewback
