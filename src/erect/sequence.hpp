#pragma once
// Stage after stage with the pads going on from one to the next. Private to erect/.

#include <map>
#include <memory>

#include "erect/erect.hpp"

namespace skewback {

inline constexpr int kStagePoints =
    12;  // of a joint: fewer than for the finished bridge: on the safe side, and quick

[[nodiscard]] LoadCase dead_load(const Assembly& assembly);

/// Appends stages to a programme; settles the pads of each at once, since what comes next may hang
/// on it. Once a stage has no state, those after it have none either.
class Sequence {
 public:
  Sequence(const Brief& brief, const Assembly& assembly, Programme& programme,
           const Progress& progress);

  [[nodiscard]] StageState& state() { return now_; }  // to be changed before `add`
  [[nodiscard]] bool settled() const { return !lost_; }
  /// Of the stage added last; only where it is settled.
  [[nodiscard]] const PadState& last() const { return pads_.back(); }
  /// The stage that the state is now in.
  Stage& add(const std::string& what, const std::string& words, std::vector<std::string> blocks);
  /// View 1 of every stage, in parallel, those alike once; then the views joined, and the loads of
  /// building tried.
  void prove();

 private:
  void settle(Stage& stage, std::size_t index);
  void measure(Stage& stage, const PadState& pads) const;

  const Brief& brief_;
  const Assembly& assembly_;
  Programme& programme_;
  const Progress& progress_;
  LoadCase dead_;
  StageState now_;
  PadHistory history_;
  bool lost_ = false;
  std::vector<PadState> pads_;    // per stage
  std::vector<PadHistory> left_;  // per settled stage
  std::vector<double> placed_z_;  // of the highest block when it came in: its movement then
};

/// Highest block, fixed ones aside; -1 where there is none.
[[nodiscard]] int crown_block(const Assembly& assembly, const std::vector<char>& present);

[[nodiscard]] bool by_pads(const Stage& stage);  // they have a state
/// The forces on the seats: of the pads, where they have a state; else of view 1; null: of neither.
[[nodiscard]] const Forces* forces_of(const Stage& stage);

/// As stage_options, in any state.
[[nodiscard]] StandOptions options_in(const Brief& brief, const Programme& programme,
                                      const StageState& state, bool pads);
/// "o3 | o4"; empty below 0.
[[nodiscard]] std::string joint_words(const Assembly& assembly, int joint);

/// Indices of a stage's props into Programme::seats; `pads`: as for stage_options.
[[nodiscard]] std::vector<int> seats_in(const StageState& state, bool pads);

/// The same number where the same is laid: none 0, all of it -1.
[[nodiscard]] int laid_how(const Programme& programme, const StageState& state);

}  // namespace skewback
