#include "lodge/daybook_watch.hpp"

#include <chrono>

#include "daybook/daybook.hpp"

namespace skewback::lodge {

DaybookWatch::DaybookWatch(std::filesystem::path folder, Events& events)
    : folder_(std::move(folder)), events_(events) {
  look();
  thread_ = std::thread([this] { keep_looking(); });
}

DaybookWatch::~DaybookWatch() {
  {
    const std::lock_guard guard(lock_);
    ends_ = true;
  }
  over_.notify_all();
  thread_.join();
}

std::string DaybookWatch::mark() const {
  std::string text;
  for (const char* name : {"daybook.sqlite", "daybook.sqlite-wal"}) {
    std::error_code error;
    const auto at = std::filesystem::last_write_time(folder_ / name, error);
    text += error ? "-" : std::to_string(at.time_since_epoch().count());
    const auto size = std::filesystem::file_size(folder_ / name, error);
    text += error ? "-" : "+" + std::to_string(size) + ";";
  }
  return text;
}

void DaybookWatch::look() {
  const std::lock_guard guard(looking_);
  const Result<Daybook> book = Daybook::open(folder_);
  if (!book) return;  // in use or gone: looked at again when it changes
  const auto written = book->events();
  const std::int64_t last = written.empty() ? 0 : written.back().number;
  if (told_ && last != *told_)
    events_.publish("daybook", "{\"number\":" + std::to_string(last) + "}");
  told_ = last;
}

void DaybookWatch::keep_looking() {
  std::string seen = mark();
  std::unique_lock guard(lock_);
  while (!over_.wait_for(guard, std::chrono::seconds(1), [&] { return ends_; })) {
    const std::string now = mark();
    if (now == seen) continue;
    seen = now;
    guard.unlock();
    look();
    guard.lock();
  }
}

}  // namespace skewback::lodge
