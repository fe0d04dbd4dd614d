#pragma once
// What the commands share: messages, progress, interruption.

#include <atomic>
#include <mutex>
#include <set>
#include <string>

#include "base/progress.hpp"
#include "base/result.hpp"

namespace skewback::cli {

/// Faults to stderr, one a line; with `json` also to stdout as {"faults": [...]}.
void print_faults(const Faults& faults, bool json);

/// Set by SIGINT and SIGTERM once catch_interrupts() was called.
[[nodiscard]] const std::atomic<bool>& interrupt_flag();
void catch_interrupts();

/// One line per stage on stderr: rewritten with per cents on a terminal, plain otherwise.
class ProgressLine {
 public:
  ProgressLine();
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  [[nodiscard]] Progress progress();
  void clear();  // of a terminal: before anything else is printed

 private:
  void show(const std::string& stage, double fraction);
  std::mutex lock_;
  bool terminal_ = false, dirty_ = false;
  std::string last_;
  std::set<std::string> seen_;
};

}  // namespace skewback::cli
