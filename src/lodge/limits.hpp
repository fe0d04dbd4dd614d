#pragma once
// How much is let in, and how soon again.

#include <map>
#include <mutex>
#include <string>
#include <string_view>

namespace skewback::lodge {

inline constexpr std::size_t kBodyMost_bytes = 1'000'000;

/// So many at once from one address, and as many again in each `window_s`. Keeps at most 1024
/// addresses; when all of those are busy, a further one is not let in. Safe from several threads.
class RateLimit {
 public:
  RateLimit(int most, double window_s) : most_(most), per_s_(most / window_s) {}
  /// `now_s`: any clock that does not go back.
  [[nodiscard]] bool admit(const std::string& from, double now_s);
  /// As admit, but takes nothing.
  [[nodiscard]] bool has_room(const std::string& from, double now_s);

 private:
  struct Bucket {
    double left = 0, at_s = 0;
  };
  [[nodiscard]] double left(const Bucket& bucket, double now_s) const;
  std::mutex lock_;
  double most_, per_s_;
  std::map<std::string, Bucket> buckets_;
};

/// Takes as long wherever they differ.
[[nodiscard]] bool same_secret(std::string_view given, std::string_view secret);

/// 32 hexadecimal digits from the system's source of randomness.
[[nodiscard]] std::string random_token();

}  // namespace skewback::lodge
