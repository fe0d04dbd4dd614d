#include "base/random.hpp"

#include <algorithm>

namespace skewback {
namespace {

std::array<std::uint32_t, 4> block_of(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
                                      std::uint32_t block) {
  return philox(
      {block, stream, static_cast<std::uint32_t>(draw), static_cast<std::uint32_t>(draw >> 32)},
      {static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)});
}

double inside(std::uint32_t word) { return (word + 0.5) * 0x1p-32; }

}  // namespace

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                    std::array<std::uint32_t, 2> key) {
  constexpr std::uint64_t kA = 0xD2511F53, kB = 0xCD9E8D57;
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t a = kA * counter[0], b = kB * counter[2];
    counter = {
        static_cast<std::uint32_t>(b >> 32) ^ counter[1] ^ key[0], static_cast<std::uint32_t>(b),
        static_cast<std::uint32_t>(a >> 32) ^ counter[3] ^ key[1], static_cast<std::uint32_t>(a)};
    key[0] += 0x9E3779B9;
    key[1] += 0xBB67AE85;
  }
  return counter;
}

double even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream, std::uint32_t place) {
  return inside(block_of(seed, draw, stream, place / 4)[place % 4]);
}

void fill_even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
               std::vector<double>& out) {
  for (std::size_t i = 0; i < out.size(); i += 4) {
    const auto words = block_of(seed, draw, stream, static_cast<std::uint32_t>(i / 4));
    for (std::size_t j = i; j < std::min(i + 4, out.size()); ++j) out[j] = inside(words[j - i]);
  }
}

}  // namespace skewback
