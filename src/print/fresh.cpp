#include "print/fresh.hpp"

#include <algorithm>
#include <numbers>

#include "base/constants.hpp"
#include "print/fresh_pile.hpp"

namespace skewback {
namespace {

constexpr double kRoot3 = std::numbers::sqrt3;

// ---- strength ----------------------------------------------------------------------------------

/// The stack with its layers laid no faster than this.
std::vector<FreshLayer> slowed(std::vector<FreshLayer> layers, double least_s) {
  for (FreshLayer& layer : layers) layer.time_s = std::max(layer.time_s, least_s);
  return layers;
}

bool passes(const FreshStack& stack) {
  return std::ranges::all_of(stack.checks, &PrintCheck::passes);
}

/// Growth of yield with which no layer ever carries too much; none if one does as it is laid.
std::optional<double> growth_needed(const PrintRequest& print, const FreshPile& pile) {
  double most = 0;
  for (int i = 0; i < pile.size(); ++i) {
    for (int last = i; last < pile.size(); ++last) {
      const double lacking = pile.stress_pa(i, last) / kRoot3 - print.fresh_yield_pa;
      if (!(lacking > 0)) continue;
      const double age = pile.age_s(i, last);
      if (!(age > 0)) return std::nullopt;
      most = std::max(most, lacking / age);
    }
  }
  return most;
}

std::string change_of(const PrintRequest& print, const FreshStack& out) {
  if (!out.growth_needed_pa_s) {
    return "a stiffer mix: print.fresh_yield; or thinner layers: print.layer_max";
  }
  const double has = print.fresh_yield_growth_pa_s, needs = *out.growth_needed_pa_s;
  if (has >= needs) return "print.fresh_yield_growth, print.layer_time_min";
  return "a mix that sets faster: print.fresh_yield_growth " + rounded(needs, true) + " Pa/s";
}

void judge_strength(const PrintRequest& print, const FreshPile& pile, FreshStack& out) {
  const auto use_of = [&](int i, int last) {
    return pile.stress_pa(i, last) / (kRoot3 * pile.yield_pa(i, last));
  };
  int worst_last = 0;
  for (int i = 0; i < pile.size(); ++i) {
    int when = i;
    for (int last = i + 1; last < pile.size(); ++last) {
      if (use_of(i, last) > use_of(i, when)) when = last;
    }
    out.stress_pa.push_back(pile.stress_pa(i, when));
    out.yield_pa.push_back(pile.yield_pa(i, when));
    out.use.push_back(use_of(i, when));
    if (out.worst_layer >= 0 && out.use.back() <= out.worst_use) continue;
    out.worst_layer = i;
    out.worst_use = out.use.back();
    worst_last = when;
  }
  out.worst_time_s = pile.done_s(worst_last);
  out.worst_age_s = out.worst_time_s - pile.done_s(out.worst_layer);
  out.growth_needed_pa_s = growth_needed(print, pile);
  out.checks.push_back({"fresh strength", out.worst_use, 1, "", false,
                        pile.place(out.worst_layer, worst_last), change_of(print, out)});
}

void judge_own_height(const PrintRequest& print, const FreshPile& pile, FreshStack& out) {
  const auto thickest = [&](int i) {
    return std::max(pile.layer(i).height_m, pile.layer(i).height_max_m);
  };
  int worst = 0;
  for (int i = 1; i < pile.size(); ++i) {
    if (thickest(i) > thickest(worst)) worst = i;
  }
  out.checks.push_back({"fresh layer", thickest(worst),
                        height_that_stands_m(print.fresh_yield_pa, print.fresh_density), "m", false,
                        pile.place(worst, worst),
                        "thinner layers: print.layer_max; or a stiffer mix: print.fresh_yield"});
}

// ---- layer times -------------------------------------------------------------------------------

/// A place is covered after the time of its own layer where layers begin, of the next where they
/// end: so a single layer has none. After the last nobody waits: where the nozzle waited before it,
/// that wait counts.
void judge_times(const PrintRequest& print, const FreshPile& pile, FreshStack& out) {
  if (pile.size() < 2) return;
  const int last = pile.size() - 1;
  const bool waited = pile.layer(last - 1).time_s <= print.layer_time_min_s * (1 + 1e-6);
  int least = 0, most = 0;
  for (int i = 1; i <= last; ++i) {
    if (pile.layer(i).time_s < pile.layer(least).time_s && (i < last || !waited)) least = i;
    if (pile.layer(i).time_s > pile.layer(most).time_s) most = i;
  }
  const auto place = [&](int i) {
    return layer_words(static_cast<std::size_t>(i), static_cast<std::size_t>(pile.size()));
  };
  out.checks.push_back(
      {"layer time, least", pile.layer(least).time_s, print.layer_time_min_s, "s", true,
       place(least),
       "two blocks by turns, or waiting; less flow: print.flow; or a mix that sets faster, with "
       "print.layer_time_min to match",
       false, true});
  out.checks.push_back({"layer time, greatest", pile.layer(most).time_s, print.layer_time_max_s,
                        "s", false, place(most),
                        "more flow: print.flow; shorter blocks: blocks.length; or a mix that stays "
                        "open longer, with "
                        "print.layer_time_max to match"});
}

}  // namespace

double height_that_stands_m(double yield_pa, double density) {
  return kRoot3 * yield_pa / (density * kGravity);
}

double yield_needed_pa(double height_m, double density) {
  return density * kGravity * height_m / kRoot3;
}

double rise_rate_m_s(double growth_pa_s, double density) {
  return kRoot3 * growth_pa_s / (density * kGravity);
}

namespace {

FreshStack judge_standing(const PrintRequest& print, const std::vector<FreshLayer>& layers,
                          const std::vector<FreshWall>& walls) {
  FreshStack out;
  const FreshPile pile(print, layers);
  out.height_m = pile.height_m(0, pile.size() - 1);
  judge_strength(print, pile, out);
  judge_own_height(print, pile, out);
  judge_column(print, pile, out);
  judge_walls(print, pile, walls, out);
  return out;
}

/// Waiting makes every layer older, so what stands with one time stands with any longer one.
std::optional<double> layer_time_needed(const PrintRequest& print,
                                        const std::vector<FreshLayer>& layers,
                                        const std::vector<FreshWall>& walls) {
  const auto stands = [&](int seconds) {
    return passes(judge_standing(print, slowed(layers, seconds), walls));
  };
  int low = static_cast<int>(print.layer_time_min_s),
      high = static_cast<int>(print.layer_time_max_s);
  if (low >= high || !stands(high)) return std::nullopt;
  while (high - low > 1) {
    const int middle = (low + high) / 2;
    (stands(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace

FreshStack judge_fresh(const PrintRequest& print, const std::vector<FreshLayer>& layers,
                       const std::vector<FreshWall>& walls) {
  if (layers.empty()) return {};
  FreshStack out = judge_standing(print, layers, walls);
  if (!passes(out)) out.layer_time_needed_s = layer_time_needed(print, layers, walls);
  if (out.layer_time_needed_s) {
    for (PrintCheck& check : out.checks) {
      if (check.passes()) continue;
      check.waiting = true;
      check.change = "a slower rise: print.layer_time_min " + figure(*out.layer_time_needed_s, 0) +
                     " s; or " + check.change;
    }
  }
  judge_times(print, {print, layers}, out);
  for (PrintCheck& check : out.checks) check.setting = true;
  return out;
}

}  // namespace skewback
