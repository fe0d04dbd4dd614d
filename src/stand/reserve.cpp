#include <algorithm>
#include <cmath>

#include "base/parallel.hpp"
#include "stand/depth.hpp"

namespace skewback {
namespace {

struct Bracket {
  double falls = 0, holds = 0;  // shares; holds 0: not even the full depth does
  int joint = -1;
};

class Search {
 public:
  Search(const Assembly& assembly, const LoadCase& load, double live_factor,
         const DepthOptions& wanted, const StandOptions& options, const Graph& graph)
      : assembly_(assembly),
        load_(load),
        live_factor_(live_factor),
        wanted_(wanted),
        options_(options),
        graph_(graph) {}

  [[nodiscard]] DepthTrial trial(double share) const {
    return try_share(assembly_, load_, live_factor_, options_, share, graph_);
  }

  /// Least share above `falls`, where `last` was seen to fall. From below by Newton's method on
  /// what is lacking, aimed a little high so as to land on the side that holds; then a little
  /// lower, and by halves if that holds too.
  [[nodiscard]] Bracket least(double falls, DepthTrial last) const {
    Bracket b{falls, 0, last.joint};
    int below = 0;  // trials under one that held
    while (b.holds == 0 || b.holds - b.falls > wanted_.near * b.holds) {
      double aim = (b.falls + (b.holds > 0 ? b.holds : 1)) / 2;
      if (b.holds == 0 && last.slope < 0) {
        aim = (b.falls - last.lacking / last.slope) * (1 + 0.4 * wanted_.near);
        if (aim > 1 - wanted_.near) aim = 1;
      } else if (b.holds > 0 && below++ == 0) {
        aim = std::max(aim, b.holds * (1 - 0.9 * wanted_.near));
      }
      if (b.holds == 0 && aim - b.falls < 0.1 * wanted_.near) aim = 1;
      last = trial(aim);
      if (last.holds) {
        b.holds = aim;
      } else {
        b.falls = aim;
        if (last.joint >= 0) b.joint = last.joint;
        if (aim == 1) break;
      }
    }
    return b;
  }

 private:
  const Assembly& assembly_;
  const LoadCase& load_;
  double live_factor_;
  const DepthOptions& wanted_;
  const StandOptions& options_;
  const Graph& graph_;
};

}  // namespace

std::optional<DepthReserve> geometric_safety(const Assembly& assembly, const LoadCase& load,
                                             const StandOptions& options) {
  const DepthOptions wanted;
  const Graph graph = build(assembly, load, options).graph;
  const Search search(assembly, load, 0, wanted, options, graph);
  const DepthTrial first = search.trial(wanted.share_least);
  if (first.holds) return DepthReserve{1 / wanted.share_least, true};
  const Bracket found = search.least(wanted.share_least, first);
  if (found.holds == 0) return std::nullopt;
  return DepthReserve{1 / found.holds, false};
}

DepthNeeds depth_needed(const Assembly& assembly, const DepthOptions& wanted,
                        const StandOptions& options, const Progress& progress) {
  const std::size_t n = assembly.cases.size();
  DepthNeeds needs;
  needs.live_factor = wanted.live_factor;
  for (const LoadCase& load : assembly.cases) needs.cases.push_back({.id = load.id});
  if (n == 0) return needs;
  const Graph graph = build(assembly, assembly.cases[0], options).graph;
  double share = wanted.share_least;
  const auto search = [&](std::size_t i) {
    return Search(assembly, assembly.cases[i], wanted.live_factor, wanted, options, graph);
  };
  const auto settle = [&](std::size_t i, const DepthTrial& from) {
    const Bracket found = search(i).least(share, from);
    needs.cases[i].joint = found.joint;
    if (found.holds == 0) {
      needs.unheld.push_back(static_cast<int>(i));
      return;
    }
    needs.cases[i].share = share = found.holds;
    needs.governing = static_cast<int>(i);
  };
  // Weight alone first. Then every case is tried at the greatest share needed so far, and the one
  // that seems to need most is searched, until all hold.
  std::vector<std::size_t> open, trying;
  for (std::size_t i = 0; i < n; ++i) open.push_back(i);
  const auto dead = std::ranges::find_if(assembly.cases, [](auto& c) { return !c.has_live(); });
  if (dead != assembly.cases.end()) {
    trying = {static_cast<std::size_t>(dead - assembly.cases.begin())};
  }
  while (!open.empty()) {
    progress.checkpoint("stand: depth needed",
                        1 - static_cast<double>(open.size()) / static_cast<double>(n));
    if (trying.empty()) trying = open;
    std::vector<DepthTrial> trials(trying.size());
    for_each_index(trying.size(),
                   [&](std::size_t k) { trials[k] = search(trying[k]).trial(share); });
    std::size_t worst = trying.size();
    double furthest = 0;
    for (std::size_t k = 0; k < trying.size(); ++k) {
      if (trials[k].holds) {
        needs.cases[trying[k]].share = share;
        needs.cases[trying[k]].at_most = true;
        std::erase(open, trying[k]);
        continue;
      }
      const double reach = trials[k].slope < 0 ? -trials[k].lacking / trials[k].slope : 1;
      if (worst < trying.size() && reach <= furthest) continue;
      furthest = reach;
      worst = k;
    }
    if (worst < trying.size()) {
      settle(trying[worst], trials[worst]);
      std::erase(open, trying[worst]);
    }
    trying.clear();
  }
  if (!needs.unheld.empty()) {
    needs.governing = needs.unheld.front();
    return needs;
  }
  needs.share = share;
  for (const Joint& joint : assembly.joints) {
    needs.joint_depth_m.push_back(share * depth_of(joint).depth());
  }
  return needs;
}

}  // namespace skewback
