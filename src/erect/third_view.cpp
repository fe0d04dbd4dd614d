#include "erect/third_view.hpp"

#include <atomic>
#include <map>
#include <tuple>

#include "base/parallel.hpp"
#include "erect/sequence.hpp"
#include "loads/building.hpp"
#include "stand/motion_view.hpp"

namespace skewback {
namespace {

using Alike = std::tuple<std::vector<char>, std::vector<char>, std::vector<double>, int>;

/// Stages by what there is to be let go; in the order of their first.
std::vector<std::vector<std::size_t>> alike(const Programme& programme) {
  std::map<Alike, std::size_t> known;
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const StageState& state = programme.stages[i].state;
    const auto [it, fresh] = known.emplace(
        Alike{state.present, state.seated, state.lowered_m, laid_how(programme, state)},
        groups.size());
    if (fresh) groups.emplace_back();
    groups[it->second].push_back(i);
  }
  return groups;
}

/// The first stage of each group let go under `load_of` it.
template <class LoadOf>
std::vector<Motion> let_go_firsts(const Brief& brief, const Assembly& assembly,
                                  const Programme& programme,
                                  const std::vector<std::vector<std::size_t>>& groups,
                                  const std::string& words, const LoadOf& load_of,
                                  const Progress& progress) {
  std::vector<Motion> motions(groups.size());
  std::atomic<std::size_t> done = 0;
  for_each_index(groups.size(), [&](std::size_t g) {
    const std::size_t i = groups[g].front();
    motions[g] = let_go(stage_assembly(assembly, programme, i), load_of(programme.stages[i]),
                        scene_of(stage_options(brief, programme, i, true), {}),
                        motion_options_of({}), progress);
    progress.checkpoint(words, static_cast<double>(++done) / static_cast<double>(groups.size()));
  });
  return motions;
}

}  // namespace

void let_stages_go(const Brief& brief, const Assembly& assembly, Programme& programme,
                   const Progress& progress) {
  const ThirdView called = third_view_called(brief.loads.motion);
  if (called == ThirdView::kNever) return;
  std::vector<std::vector<std::size_t>> groups = alike(programme);
  if (called == ThirdView::kWhenNeeded) {
    std::erase_if(groups, [&](const std::vector<std::size_t>& group) {
      return std::ranges::none_of(group, [&](std::size_t i) {
        return motion_is_needed(assembly, programme.stages[i].proof);
      });
    });
  }
  const LoadCase dead = dead_load(assembly);
  const std::vector<Motion> motions = let_go_firsts(
      brief, assembly, programme, groups, "erect: let go in time",
      [&](const Stage&) -> const LoadCase& { return dead; }, progress);
  for (std::size_t g = 0; g < groups.size(); ++g) {
    for (const std::size_t i : groups[g]) {
      Stage& stage = programme.stages[i];
      stage.let_go_as = static_cast<int>(groups[g].front());
      join_motion(assembly, motions[g], stage.proof);
      if (i != groups[g].front()) stage.proof.motion.reset();
    }
  }
}

void let_working_stages_go(const Brief& brief, const Assembly& assembly, Programme& programme,
                           const Progress& progress) {
  const ThirdView called = third_view_called(brief.loads.motion);
  if (called == ThirdView::kNever) return;
  std::vector<std::vector<std::size_t>> groups;
  for (const std::vector<std::size_t>& all : alike(programme)) {
    std::map<std::string, std::vector<std::size_t>> by_case;
    for (const std::size_t i : all) {
      const auto& working = programme.stages[i].working;
      if (working && (called == ThirdView::kAlways || working->motion_called))
        by_case[working->governing].push_back(i);
    }
    for (auto& [words, group] : by_case) groups.push_back(std::move(group));
  }
  const BuildingLoads loads(brief, assembly);
  const std::vector<Motion> motions = let_go_firsts(
      brief, assembly, programme, groups, "erect: people and wind, let go in time",
      [&](const Stage& stage) {
        const std::vector<BuildingCase> on = loads.on(stage.state.present);
        return std::ranges::find(on, stage.working->governing, &BuildingCase::words)->load;
      },
      progress);
  for (std::size_t g = 0; g < groups.size(); ++g) {
    for (const std::size_t i : groups[g]) {
      WorkingLoads& working = *programme.stages[i].working;
      CaseProof proof;
      proof.verdict = working.verdict;
      proof.reason = working.reason;
      proof.views = working.views;
      join_motion(assembly, motions[g], proof);
      working.standing +=
          (proof.verdict == Verdict::kStands) - (working.verdict == Verdict::kStands);
      working.verdict = proof.verdict;
      working.reason = proof.reason;
      working.views = proof.views;
      working.let_go_as = static_cast<int>(groups[g].front());
      if (i == groups[g].front()) working.motion = std::move(proof.motion);
    }
  }
}

}  // namespace skewback
