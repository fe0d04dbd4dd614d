#include "deliver/text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace skewback::deliver {
namespace {

std::string with_format(double value, std::chars_format format, int decimals) {
  if (!std::isfinite(value)) return "n/a";
  std::array<char, 400> buffer{};
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, format, decimals);
  const std::string text(buffer.data(), end.ptr);
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  return zero && text.front() == '-' ? text.substr(1) : text;
}

}  // namespace

std::string fixed(double value, int decimals) {
  return with_format(value, std::chars_format::fixed, decimals);
}

std::string fixed(const std::optional<double>& value, int decimals) {
  return value ? fixed(*value, decimals) : "n/a";
}

std::string figures(double value, int count) {
  if (value == 0) return "0";
  if (!std::isfinite(value)) return fixed(value, 0);
  const auto power = [](double of) { return static_cast<int>(std::floor(std::log10(of))); };
  // rounded first: 9.96 to two figures is 10, not 10.0
  const double step = std::pow(10.0, power(std::abs(value)) - count + 1);
  const double rounded = std::round(std::abs(value) / step) * step;
  return fixed(std::copysign(rounded, value),
               std::max(0, count - 1 - power(rounded * (1 + 1e-12))));
}

std::string scientific(double value) {
  return value == 0 ? "0" : with_format(value, std::chars_format::scientific, 1);
}

std::string counted(std::size_t n, const std::string& noun) {
  return std::to_string(n) + " " + noun + (n == 1 ? "" : "s");
}

std::string joined(const std::vector<std::string>& words, const std::string& between) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) text += (i == 0 ? "" : between) + words[i];
  return text;
}

std::vector<std::string> broken(const std::string& text, std::size_t most) {
  std::vector<std::string> lines(1);
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    if (!lines.back().empty() && lines.back().size() + 1 + word.size() > most) lines.emplace_back();
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    at = end + 1;
  }
  return lines;
}

std::string xml_text(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else {
      out += c;
    }
  }
  return out;
}

std::string file_stem(const std::string& id) {
  std::string stem;
  for (const char c : id) {
    const bool keep = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                      c == '-' || c == '_' || (c == '.' && !stem.empty());
    stem += keep ? c : '_';
  }
  return stem.empty() ? "_" : stem;
}

}  // namespace skewback::deliver
