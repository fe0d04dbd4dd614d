#include "lodge/address.hpp"

#include <algorithm>
#include <optional>

namespace skewback::lodge {
namespace {

constexpr std::size_t kLongest = 2048, kMostNames = 16;

Fault refused(const char* found, const char* expected) {
  return {"", 0, 0, "address", found, expected, ""};
}

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

// None: a percent sign without two hexadecimal digits.
std::optional<std::string> decoded(std::string_view text, bool plus_is_space) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+' && plus_is_space) {
      out += ' ';
    } else if (text[i] != '%') {
      out += text[i];
    } else {
      if (i + 2 >= text.size()) return std::nullopt;
      const int high = hex_digit(text[i + 1]), low = hex_digit(text[i + 2]);
      if (high < 0 || low < 0) return std::nullopt;
      out += static_cast<char>(16 * high + low);
      i += 2;
    }
  }
  return out;
}

bool plain_text(std::string_view text) {
  for (const char c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) return false;
  return is_utf8(text);
}

bool good_part(std::string_view part) {
  return !part.empty() && part != "." && part != ".." &&
         part.find_first_of("/\\%") == std::string_view::npos;
}

std::optional<std::string> read_path(std::string_view raw) {
  if (raw.empty() || raw[0] != '/') return std::nullopt;
  if (raw == "/") return "/";
  std::string path;
  for (std::size_t begin = 1; begin <= raw.size();) {
    const std::size_t end = std::min(raw.find('/', begin), raw.size());
    const auto part = decoded(raw.substr(begin, end - begin), false);
    if (!part || !good_part(*part) || !plain_text(*part)) return std::nullopt;
    path += "/" + *part;
    begin = end + 1;
  }
  return path;
}

}  // namespace

bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t more = lead < 0x80                    ? 0
                             : lead >= 0xc2 && lead <= 0xdf ? 1
                             : lead >= 0xe0 && lead <= 0xef ? 2
                             : lead >= 0xf0 && lead <= 0xf4 ? 3
                                                            : 4;
    if (more == 4 || i + more >= text.size()) return false;
    for (std::size_t k = 1; k <= more; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xc0) != 0x80) return false;
    if (more >= 2) {  // too long for what they say, halves of pairs, past the last
      const auto second = static_cast<unsigned char>(text[i + 1]);
      if ((lead == 0xe0 && second < 0xa0) || (lead == 0xed && second > 0x9f) ||
          (lead == 0xf0 && second < 0x90) || (lead == 0xf4 && second > 0x8f))
        return false;
    }
    i += 1 + more;
  }
  return true;
}

Result<Address> read_target(std::string_view target) {
  if (target.size() > kLongest) return refused("a long address", "at most 2048 bytes");
  const std::size_t mark = std::min(target.find('?'), target.size());
  const auto path = read_path(target.substr(0, mark));
  if (!path) return refused("an address that is not plain", "a path such as /api/state");
  Address address{*path, {}};
  for (std::size_t begin = mark + 1; begin < target.size();) {
    const std::size_t end = std::min(target.find('&', begin), target.size());
    const std::string_view pair = target.substr(begin, end - begin);
    const std::size_t equals = std::min(pair.find('='), pair.size());
    const auto name = decoded(pair.substr(0, equals), true);
    const auto value =
        decoded(equals < pair.size() ? pair.substr(equals + 1) : std::string_view(), true);
    if (!name || name->empty() || !value || !plain_text(*name) || !plain_text(*value))
      return refused("a query that is not plain", "name=value, percent-encoded UTF-8");
    if (!address.query.emplace(*name, *value).second || address.query.size() > kMostNames)
      return refused("a query with too many names", "each name once, at most 16");
    begin = end + 1;
  }
  return address;
}

}  // namespace skewback::lodge
