#pragma once
// How long work reports where it is, and how it is stopped.

#include <atomic>
#include <functional>
#include <string>

namespace skewback {

/// Thrown by Progress::checkpoint after a request to stop; unwinds to the command.
struct Interrupted {};

/// Handed down to every stage. Copies share the stop flag. Safe to use from several threads
/// as long as the sink is.
class Progress {
 public:
  using Sink = std::function<void(const std::string& stage, double fraction)>;

  Progress() = default;
  Progress(Sink sink, const std::atomic<bool>* stop) : sink_(std::move(sink)), stop_(stop) {}

  /// Tells the sink that `stage` is done to `fraction` (0 to 1); throws Interrupted if asked to
  /// stop.
  void checkpoint(const std::string& stage, double fraction) const {
    if (stop_ != nullptr && stop_->load()) throw Interrupted{};
    if (sink_) sink_(stage, fraction);
  }

 private:
  Sink sink_;
  const std::atomic<bool>* stop_ = nullptr;
};

}  // namespace skewback
