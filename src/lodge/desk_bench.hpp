#pragma once
// The bench of a desk: each request of docs/lodge.md tied to what answers it.

#include <atomic>

#include "lodge/bench.hpp"
#include "lodge/daybook_watch.hpp"

namespace skewback::lodge {

struct Around {
  std::filesystem::path daybook;  // folder; empty: none
  DaybookWatch* watch = nullptr;  // told of what was recorded here
  std::string page_for_viewing;   // empty: nothing can be written out
  const std::atomic<bool>* stop = nullptr;
};
/// `desk` and what `around` points to must outlive it.
[[nodiscard]] Bench bench_of(Desk& desk, const Around& around);

/// The desk's state, and whether there is a daybook.
[[nodiscard]] nlohmann::ordered_json whole_state(nlohmann::ordered_json state, bool daybook);

}  // namespace skewback::lodge
