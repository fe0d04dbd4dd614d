#include "vary/amount.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "brief/text.hpp"

namespace skewback {

std::optional<Amount> split_amount(const std::string& text) {
  const std::string all = trimmed(text);
  const char* first = all.data();
  const char* const last = first + all.size();
  if (first != last && *first == '+') ++first;
  double value = 0;
  const auto [end, error] = std::from_chars(first, last, value);
  if (error != std::errc{} || !std::isfinite(value)) return {};
  return Amount{value, trimmed(std::string_view(end, static_cast<std::size_t>(last - end)))};
}

std::string plain(double value) {
  std::array<char, 64> buffer{};
  const auto made = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                  std::chars_format::general, 12);
  double rounded = 0;
  std::from_chars(buffer.data(), made.ptr, rounded);
  return exact(rounded);
}

std::string exact(double value) {
  std::array<char, 64> buffer{};
  const auto made = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  return {buffer.data(), made.ptr};
}

}  // namespace skewback
