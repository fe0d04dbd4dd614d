#include "deliver/text.hpp"

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
