#pragma once
// Tells the open pages when something was written into the daybook, here or by another process.

#include <condition_variable>
#include <cstdint>
#include <filesystem>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

#include "lodge/events.hpp"

namespace skewback::lodge {

class DaybookWatch {
 public:
  /// Looks at the files every second; an event `daybook` {"number"} for what is new since then.
  DaybookWatch(std::filesystem::path folder, Events& events);
  ~DaybookWatch();
  DaybookWatch(const DaybookWatch&) = delete;
  DaybookWatch& operator=(const DaybookWatch&) = delete;
  /// Looks now.
  void look();

 private:
  [[nodiscard]] std::string mark() const;  // changes when the files do
  void keep_looking();
  std::filesystem::path folder_;
  Events& events_;
  std::mutex lock_;
  std::condition_variable over_;
  bool ends_ = false;
  std::mutex looking_;
  std::optional<std::int64_t> told_;
  std::thread thread_;
};

}  // namespace skewback::lodge
