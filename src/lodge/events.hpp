#pragma once
// Server events: each stream is told the newest of each kind. What a slow stream missed is not kept
// for it, so that nothing grows.

#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace skewback::lodge {

class Events {
 public:
  static constexpr std::size_t kStreamsMost = 24;

  /// As it goes over the wire: "event: state\ndata: {...}\n\n". `data` without line ends.
  void publish(const std::string& kind, const std::string& data);
  /// All streams end; further ones end at once.
  void close();
  [[nodiscard]] std::size_t streams() const;

  class Stream {
   public:
    /// What to send next: events, or a comment after `patience`; none: it is over.
    [[nodiscard]] std::optional<std::string> next(std::chrono::milliseconds patience);
    ~Stream();

   private:
    friend class Events;
    struct Told {
      std::string kind, data;
    };
    Events* of_ = nullptr;
    std::deque<Told> waiting_;
  };
  /// Null: as many as can be are there already. `state`: told first, asked when nothing that is
  /// published later can be missed. Must end before *this.
  [[nodiscard]] std::shared_ptr<Stream> open(const std::function<std::string()>& state);

 private:
  static void put(Stream& stream, const std::string& kind, const std::string& data);
  mutable std::mutex lock_;
  std::condition_variable news_;
  std::vector<Stream*> streams_;
  bool closed_ = false;
};

}  // namespace skewback::lodge
