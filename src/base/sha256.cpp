#include "base/sha256.hpp"

#include <array>
#include <bit>
#include <cstdint>

namespace skewback {
namespace {

using Word = std::uint32_t;

// FIPS 180-4, 4.2.2: first 32 bits of the fractions of the cube roots of the first 64 primes.
constexpr std::array<Word, 64> kRound = {
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2};

constexpr std::size_t kBlock = 64;

Word byte(std::string_view bytes, std::size_t at) {
  return static_cast<Word>(static_cast<unsigned char>(bytes[at]));
}

std::array<Word, 64> schedule(std::string_view block) {
  std::array<Word, 64> w{};
  for (std::size_t t = 0; t < 16; ++t)
    w[t] = byte(block, 4 * t) << 24U | byte(block, 4 * t + 1) << 16U |
           byte(block, 4 * t + 2) << 8U | byte(block, 4 * t + 3);
  for (std::size_t t = 16; t < 64; ++t) {
    const Word a = w[t - 15], b = w[t - 2];
    w[t] = (std::rotr(b, 17) ^ std::rotr(b, 19) ^ b >> 10U) + w[t - 7] +
           (std::rotr(a, 7) ^ std::rotr(a, 18) ^ a >> 3U) + w[t - 16];
  }
  return w;
}

void add_block(std::array<Word, 8>& hash, std::string_view block) {
  const std::array<Word, 64> w = schedule(block);
  std::array<Word, 8> v = hash;
  auto& [a, b, c, d, e, f, g, h] = v;
  for (std::size_t t = 0; t < 64; ++t) {
    const Word t1 = h + (std::rotr(e, 6) ^ std::rotr(e, 11) ^ std::rotr(e, 25)) +
                    ((e & f) ^ (~e & g)) + kRound[t] + w[t];
    const Word t2 =
        (std::rotr(a, 2) ^ std::rotr(a, 13) ^ std::rotr(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    h = g, g = f, f = e, e = d + t1, d = c, c = b, b = a, a = t1 + t2;
  }
  for (std::size_t i = 0; i < 8; ++i) hash[i] += v[i];
}

/// What follows the last whole block: the rest, a one, zeros, the length in bits (5.1.1).
std::string padded_end(std::string_view bytes) {
  std::string end(bytes.substr(bytes.size() / kBlock * kBlock));
  end += '\x80';
  while (end.size() % kBlock != kBlock - 8) end += '\0';
  const std::uint64_t bits = 8 * static_cast<std::uint64_t>(bytes.size());
  for (int shift = 56; shift >= 0; shift -= 8)
    end += static_cast<char>(bits >> static_cast<unsigned>(shift) & 0xffU);
  return end;
}

}  // namespace

std::string sha256(std::string_view bytes) {
  std::array<Word, 8> hash = {0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a,
                              0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19};
  for (std::size_t at = 0; at + kBlock <= bytes.size(); at += kBlock)
    add_block(hash, bytes.substr(at, kBlock));
  const std::string end = padded_end(bytes);
  for (std::size_t at = 0; at < end.size(); at += kBlock)
    add_block(hash, std::string_view(end).substr(at, kBlock));
  std::string text;
  for (const Word word : hash)
    for (int shift = 28; shift >= 0; shift -= 4)
      text += "0123456789abcdef"[word >> static_cast<unsigned>(shift) & 0xfU];
  return text;
}

}  // namespace skewback
