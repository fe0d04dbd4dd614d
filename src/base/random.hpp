#pragma once
// Random numbers that are a function of their place: the same whoever asks, in whatever order.

#include <array>
#include <cstdint>
#include <vector>

namespace skewback {

/// Philox4x32-10 (Salmon, Moraes, Dror, Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3").
[[nodiscard]] std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                                  std::array<std::uint32_t, 2> key);

/// Evenly in (0, 1): the `place`-th number of a stream of a draw.
[[nodiscard]] double even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
                          std::uint32_t place);
/// Places 0 to out.size() - 1 of that stream.
void fill_even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
               std::vector<double>& out);

}  // namespace skewback
