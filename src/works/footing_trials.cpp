#include "works/footing_trials.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <map>
#include <set>

#include "works/states.hpp"

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
    if (!trials[i].state.found || trials[i].state.in_steps > 0) chosen.insert(i);
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

std::pair<int, std::string> pressed_too_hard(const Assembly& assembly,
                                             const std::vector<FootingTrial>& trials,
                                             const std::vector<double>& limit_pa) {
  int over = 0;
  double most = 1, peak_pa = 0;
  std::size_t worst = 0;
  for (const FootingTrial& trial : trials) {
    bool beyond = false;
    for (std::size_t j = 0; j < trial.state.joints.size(); ++j) {
      const double here = trial.state.joints[j].peak_pa, share = here / limit_pa[j];
      beyond = beyond || share > 1;
      if (share <= most) continue;
      most = share;
      worst = j;
      peak_pa = here;
    }
    over += beyond ? 1 : 0;
  }
  if (over == 0) return {};
  const auto id = [&](int block) { return assembly.blocks[static_cast<std::size_t>(block)].id; };
  const Joint& joint = assembly.joints[worst];
  char text[160];
  std::snprintf(text, sizeof text,
                "%d of %zu states a joint is pressed beyond what it takes in the cases, by up to "
                "%.1f MPa where it takes %.1f, at ",
                over, trials.size(), peak_pa / 1e6, limit_pa[worst] / 1e6);
  return {over, text + id(joint.a) + " | " + id(joint.b)};
}

std::string why_not_held(const Assembly& assembly, const FootingTrial& trial, double concrete_pa) {
  if (!trial.state.found) return trial.state.reason;
  if (trial.state.peak_pa > concrete_pa)
    return pressed_words(assembly, static_cast<std::size_t>(trial.state.peak_joint),
                         trial.state.peak_pa, concrete_pa) +
           " by its concrete";
  if (!trial.motion || trial.motion->ending == Ending::kAtRest) return "";
  const int block = trial.motion->moved_block;
  return "let go in time, " +
         (block < 0 ? "a block" : assembly.blocks[static_cast<std::size_t>(block)].id) + ": " +
         trial.motion->reason;
}

}  // namespace skewback
