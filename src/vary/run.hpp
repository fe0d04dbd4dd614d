#pragma once
// One run: its number in, what it found out. A function of the plan and the number alone.

#include <functional>

#include "base/progress.hpp"
#include "vary/figure.hpp"
#include "vary/plan.hpp"

namespace skewback {

struct RunFound {
  std::uint64_t run = 0;
  std::vector<std::string> values;        // as shown, per varied key
  std::vector<std::vector<Figure>> rows;  // one of a whole run; one per draw of a run of draws
  std::string verdict;                    // the worst of all cases; empty where none was proved
  std::vector<std::string> failing;       // required checks that fail
  int exit = 0;  // as `skewback run`: 0 all passes, 3 not, 2 no structure or a bad brief, 1 fault
  std::string note;    // why there is no structure
  double seconds = 0;  // wall; in the journal only, never in results
};

/// What all runs of a plan share.
struct Runner {
  std::uint64_t runs = 0;
  std::vector<std::string> keys;     // per RunFound::values
  std::vector<std::string> columns;  // per member of a row
  /// Throws Interrupted. Safe from several threads.
  std::function<RunFound(std::uint64_t run, const Progress& progress)> run;
};

/// Draws need the bridge cut once: that is done here. Faults: why it cannot be.
[[nodiscard]] Result<Runner> make_runner(const VaryPlan& plan, const Progress& progress);

/// (draws.cpp)
[[nodiscard]] Result<Runner> make_draws_runner(const VaryPlan& plan, const Progress& progress);

}  // namespace skewback
