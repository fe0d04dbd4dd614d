#include "cli/console.hpp"

#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "deliver/fault_json.hpp"

namespace skewback::cli {
namespace {

std::atomic<bool> interrupted{false};  // a signal handler can reach nothing else
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void on_signal(int) { interrupted.store(true); }

}  // namespace

void print_faults(const Faults& faults, bool json) {
  for (const Fault& fault : faults) std::cerr << describe(fault) << "\n";
  if (!json) return;
  auto list = nlohmann::ordered_json::array();
  for (const Fault& f : faults) list.push_back(deliver::fault_json(f));
  const nlohmann::ordered_json out = {{"ok", false}, {"faults", list}};
  std::cout << out.dump(2, ' ', false, nlohmann::json::error_handler_t::replace) << "\n";
}

const std::atomic<bool>& interrupt_flag() { return interrupted; }

void catch_interrupts() {
  struct sigaction action {};
  action.sa_handler = on_signal;
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
}

ProgressLine::ProgressLine() : terminal_(isatty(STDERR_FILENO) == 1) {}
ProgressLine::~ProgressLine() { clear(); }

Progress ProgressLine::progress() {
  return {[this](const std::string& stage, double fraction) { show(stage, fraction); },
          &interrupt_flag()};
}

void ProgressLine::clear() {
  const std::lock_guard guard(lock_);
  if (dirty_) std::fputs("\r\033[K", stderr);
  dirty_ = false;
  last_.clear();
}

void ProgressLine::show(const std::string& stage, double fraction) {
  const std::lock_guard guard(lock_);
  if (!terminal_) {
    if (seen_.insert(stage).second) std::fprintf(stderr, "%s ...\n", stage.c_str());
    return;
  }
  const std::string line = stage + " " + std::to_string(static_cast<int>(100 * fraction)) + " %";
  if (line == last_) return;
  std::fprintf(stderr, "\r\033[K%s", line.c_str());
  std::fflush(stderr);
  dirty_ = true;
  last_ = line;
}

}  // namespace skewback::cli
