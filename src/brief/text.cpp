#include "brief/text.hpp"

#include <algorithm>
#include <cstdio>

namespace skewback {
namespace {

std::string printed(const char* format, double value) {
  char buffer[64];
  std::snprintf(buffer, sizeof buffer, format, value);
  return buffer;
}

// "-0.000" and trailing zeros help nobody
std::string tidy(std::string text) {
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

}  // namespace

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return "";
  return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

std::string printable(std::string_view text) {
  constexpr std::size_t kMost = 60;
  std::size_t n = std::min(text.size(), kMost);
  while (n < text.size() && n > 0 && (static_cast<unsigned char>(text[n]) & 0xC0) == 0x80) --n;
  std::string out;
  for (const char c : text.substr(0, n))
    out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? '?' : c;
  return out + (n < text.size() ? "..." : "");
}

std::string in_quotes(std::string_view text) { return '"' + printable(text) + '"'; }

std::string numbered(const std::string& list, std::size_t index) {
  return list + "[" + std::to_string(index + 1) + "]";
}

std::string number(double value) { return printed("%.6g", value); }

std::string metres(double value) { return tidy(printed("%.4f", value)) + " m"; }

std::string place_text(const Vec2& p) {
  return "(" + tidy(printed("%.3f", p.x())) + ", " + tidy(printed("%.3f", p.y())) + ") m";
}

int edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<int>> d(a.size() + 1, std::vector<int>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = static_cast<int>(i);
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      d[i][j] =
          std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] != b[j - 1])});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

std::string nearest_word(const std::string& word, const std::vector<std::string>& words) {
  if (word.size() > 64) return "";
  std::string best;
  int least = std::max(2, static_cast<int>(word.size()) / 3) + 1;
  for (const std::string& candidate : words) {
    const int d = edit_distance(word, candidate);
    if (d < least && d < static_cast<int>(candidate.size())) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

std::size_t find_invalid_utf8(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  for (std::size_t i = 0; i < text.size();) {
    const unsigned char lead = byte(i);
    const std::size_t length = lead < 0x80   ? 1
                               : lead < 0xC2 ? 0
                               : lead < 0xE0 ? 2
                               : lead < 0xF0 ? 3
                               : lead < 0xF5 ? 4
                                             : 0;
    if (length == 0 || i + length > text.size()) return i;
    for (std::size_t k = 1; k < length; ++k)
      if ((byte(i + k) & 0xC0) != 0x80) return i;
    const unsigned char second = length > 1 ? byte(i + 1) : 0;
    const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
    const bool surrogate = lead == 0xED && second >= 0xA0;
    if (overlong || surrogate || (lead == 0xF4 && second >= 0x90)) return i;
    i += length;
  }
  return std::string_view::npos;
}

}  // namespace skewback
