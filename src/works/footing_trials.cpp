#include "works/footing_trials.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace skewback {
namespace {

std::string way(const Vec3& shift) {
  static constexpr std::array<const char*, 3> axes = {"x", "y", "z"};
  for (int i = 0; i < 3; ++i) {
    if (shift[i] != 0) return (shift[i] > 0 ? "+" : "-") + std::string(axes[std::size_t(i)]);
  }
  return "";
}

double slipping(const PadState& state) {
  double most = 0;
  for (const JointPad& joint : state.joints) most = std::max(most, joint.slipping_share);
  return most;
}

}  // namespace

std::vector<FootingTrial> footing_trials(const Assembly& assembly,
                                         const std::vector<std::size_t>& cases, double shift_m) {
  std::vector<FootingTrial> trials;
  for (const std::size_t load : cases) {
    for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
      if (!assembly.blocks[b].fixed) continue;
      for (int axis = 0; axis < 3; ++axis) {
        for (const double sign : {1.0, -1.0}) {
          FootingTrial trial;
          trial.load = load;
          trial.move.block = static_cast<int>(b);
          trial.move.shift = sign * shift_m * Vec3::Unit(axis);
          trial.words = assembly.cases[load].id + ", " + assembly.blocks[b].id + " moved " +
                        way(trial.move.shift);
          trials.push_back(std::move(trial));
        }
      }
    }
  }
  return trials;
}

std::vector<std::size_t> trials_to_let_go(const std::vector<FootingTrial>& trials,
                                          ThirdView called) {
  constexpr double kSlips = 0.01;
  std::set<std::size_t> chosen;
  std::map<int, std::vector<std::size_t>> by_footing;
  for (std::size_t i = 0; i < trials.size(); ++i) {
    if (!trials[i].state.found) chosen.insert(i);
    by_footing[trials[i].move.block].push_back(i);
  }
  for (const auto& [block, own] : by_footing) {
    const auto state = [&](std::size_t i) -> const PadState& { return trials[i].state; };
    const auto most = [&](auto&& figure) {
      return *std::ranges::max_element(own, {}, [&](std::size_t i) { return figure(state(i)); });
    };
    const std::size_t slips = most(slipping);
    if (slipping(state(slips)) > kSlips) chosen.insert(slips);
    if (called == ThirdView::kAlways)
      chosen.insert(most([](const PadState& s) { return s.peak_pa; }));
  }
  return {chosen.begin(), chosen.end()};
}

}  // namespace skewback
