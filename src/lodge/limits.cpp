#include "lodge/limits.hpp"

#include <sys/random.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <stdexcept>

namespace skewback::lodge {

namespace {
constexpr std::size_t kAddressesMost = 1024;
}

double RateLimit::left(const Bucket& bucket, double now_s) const {
  return std::min(most_, bucket.left + per_s_ * std::max(0.0, now_s - bucket.at_s));
}

bool RateLimit::admit(const std::string& from, double now_s) {
  const std::lock_guard guard(lock_);
  if (!buckets_.contains(from) && buckets_.size() >= kAddressesMost)
    std::erase_if(buckets_, [&](const auto& b) { return left(b.second, now_s) >= most_; });
  if (!buckets_.contains(from) && buckets_.size() >= kAddressesMost) return false;
  Bucket& bucket = buckets_.try_emplace(from, Bucket{most_, now_s}).first->second;
  bucket = {left(bucket, now_s), std::max(now_s, bucket.at_s)};
  if (bucket.left < 1) return false;
  bucket.left -= 1;
  return true;
}

bool RateLimit::has_room(const std::string& from, double now_s) {
  const std::lock_guard guard(lock_);
  const auto found = buckets_.find(from);
  return found == buckets_.end() || left(found->second, now_s) >= 1;
}

bool same_secret(std::string_view given, std::string_view secret) {
  volatile unsigned differs = given.size() == secret.size() ? 0 : 1;
  for (std::size_t i = 0; i < secret.size(); ++i) {
    const char c = i < given.size() ? given[i] : '\0';
    differs = differs | static_cast<unsigned>(static_cast<unsigned char>(c ^ secret[i]));
  }
  return differs == 0 && !secret.empty();
}

std::string random_token() {
  std::array<unsigned char, 16> bytes{};
  ssize_t got = -1;
  do {
    got = getrandom(bytes.data(), bytes.size(), 0);
  } while (got < 0 && errno == EINTR);
  if (got != static_cast<ssize_t>(bytes.size()))
    throw std::runtime_error("the system gives no random bytes");
  std::string text;
  for (const unsigned char byte : bytes) {
    text += "0123456789abcdef"[byte >> 4];
    text += "0123456789abcdef"[byte & 15];
  }
  return text;
}

}  // namespace skewback::lodge
